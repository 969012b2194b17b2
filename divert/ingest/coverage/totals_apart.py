"""Totals that the loads above them do not come to: one may be missing, or read as it was not meant.

A crew's own total is a second count of what was read. Sums of all loads, of those that count, and of
plain numbers alone (what a sheet's own sum takes) are tried, from each place where one may begin.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import numpy as np

from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.ingest.amounts.column import VALUE
from divert.ingest.amounts.measured import Measured
from divert.ingest.amounts.sums import LEAST
from divert.ingest.amounts.totals import starts_of
from divert.ingest.arrays import Bools, Floats, no_rows
from divert.ingest.cells.mark import is_total_label
from divert.ingest.coverage.doubt import Seen
from divert.ingest.entries.job import place_in, text_at
from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import Column
from divert.ingest.tables.numbers import numbers_of

_SUM = re.compile(r"\b(?:sub|grand|sous)?[ -]?(?:tot|ttl|total|totals|totaux|sum|somme)\b")
# What sums up other sheets as well, or is no sum.
_MORE = re.compile(
    r"\b(?:to date|a ce jour|ytd|year|yr|an|annee|annual\w*|annuel\w*|cumul\w*|running|since|depuis"
    r"|av\w*g\w*|mean|moy\w*|min\w*|max\w*|med\w*|net|\d{4})\b"
)
_WEIGHED = ("mass_kg", "gross_kg")
_FIELDS = {  # of a column, and what its amounts were read as
    "weight": _WEIGHED, "gross": _WEIGHED, "volume": ("volume_m3",), "count": ("count",),
    "quantity": (*_WEIGHED, "volume_m3", "count"),
}  # fmt: skip
_CLOSE = 0.01  # of the total, or half of its last whole number: it may have been rounded


def totals_apart(seen: Seen, doubted: Sequence[Bools]) -> Iterator[Finding]:
    """Yield a question for each labelled total that is no sum of what stands above it."""
    job, rows = seen.job, seen.rows
    if job.sheet.origin is not None:
        return
    for row in np.flatnonzero(rows.reason == "total or subtotal").tolist():
        label = _label(seen, row)
        if not label:
            continue
        for column, amounts, doubtful in _amounts(seen, doubted):
            said, read = _apart(seen, row, column, amounts, doubtful)
            if np.isnan(said):
                continue
            yield Finding(
                "query", "total disagrees",
                Text(
                    N_("“{label}” says {said} under “{heading}”, and the loads above it come to {read} "
                       "as I read them."),
                    {"label": label, "said": said, "heading": column.head.text, "read": read},
                ),
                place_in(job, row, column),
                Text(N_("Look for a load that is missing or typed elsewhere; else correct the total.")),
                text_at(column, row), name=f"{job.sheet.file}!{job.sheet.name}!{label}, {said:g}",
                mass_kg=_mass_kg(column, amounts, row, said - read),
            )  # fmt: skip
            break


def _amounts(seen: Seen, doubted: Sequence[Bools]) -> Iterator[tuple[Column, Measured, Bools]]:
    groups = seen.job.layout.groups
    for group, amounts, doubtful in zip(groups, seen.measured, doubted, strict=True):
        for field in _FIELDS:
            for column in group.columns.get(field, ()):
                yield column, amounts, doubtful


def _label(seen: Seen, row: int) -> str:
    """Return the words that call a row a total of what stands on its sheet; "" where none do."""
    texts = (text_at(c, row) for c in seen.job.columns)
    label = next((t for t in texts if is_total_label(t)), "")
    plain = bare(label)
    return label if _SUM.search(plain) and not _MORE.search(plain) else ""


def _apart(
    seen: Seen, row: int, column: Column, amounts: Measured, doubtful: Bools
) -> tuple[float, float]:
    """Return what a total says and the nearest sum above it; NaN where they agree or nothing is summed."""
    numbers = numbers_of(column)
    said = float(numbers[row])
    nearest = np.nan
    summed = seen.rows.open
    counted = summed & (amounts.state == VALUE) & ~doubtful & ~np.isnat(seen.dated.days)
    others: list[Floats] = [getattr(amounts, name) for name in _FIELDS[column.field]]
    for start in starts_of(seen.rows, seen.dated, no_rows(len(numbers)), row):
        for loads in (summed, counted):
            for value in (numbers, *others):
                above = value[start:row][loads[start:row]]
                above = above[~np.isnan(above)]
                if np.isnan(value[row]) or not len(above):
                    continue
                if _agrees(float(value[row]), float(above.sum())):
                    return np.nan, np.nan
                if value is numbers and len(above) >= LEAST:
                    nearer = abs(above.sum() - said) < abs(nearest - said)
                    nearest = float(above.sum()) if np.isnan(nearest) or nearer else nearest
    return (said, round(nearest, 2)) if not np.isnan(nearest) else (np.nan, np.nan)


def _mass_kg(column: Column, amounts: Measured, row: int, apart: float) -> float | None:
    """Return the mass in kg by which a weighed total and its loads are apart, None of other amounts."""
    weight = np.where(np.isnan(amounts.mass_kg), amounts.gross_kg, amounts.mass_kg)[row]
    return None if np.isnan(weight) else abs(float(weight / numbers_of(column)[row] * apart))


def _agrees(said: float, summed: float) -> bool:
    return abs(said - summed) <= max(_CLOSE * abs(said), 0.51)
