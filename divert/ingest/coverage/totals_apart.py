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
from divert.ingest.arrays import Bools, Codes, Floats, no_rows
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
    columns: list[_Summed] | None = None
    none = no_rows(len(rows.reason))
    for row in np.flatnonzero(rows.reason == "total or subtotal").tolist():
        label = _label(seen, row)
        if not label:
            continue
        columns = list(_summed(seen, doubted)) if columns is None else columns
        starts = starts_of(rows, seen.dated, none, row)
        for one in columns:
            column, said, read = one.column, float(one.numbers[row]), one.nearest(starts, row)
            if np.isnan(read):
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
                mass_kg=one.mass_kg(row, said - read),
            )  # fmt: skip
            break


def _summed(seen: Seen, doubted: Sequence[Bools]) -> Iterator[_Summed]:
    groups = seen.job.layout.groups
    for group, amounts, doubtful in zip(groups, seen.measured, doubted, strict=True):
        for field in _FIELDS:
            for column in group.columns.get(field, ()):
                yield _Summed(seen, column, amounts, doubtful)


def _label(seen: Seen, row: int) -> str:
    """Return the words that call a row a total of what stands on its sheet; "" where none do."""
    texts = (text_at(c, row) for c in seen.job.columns)
    label = next((t for t in texts if is_total_label(t)), "")
    plain = bare(label)
    return label if _SUM.search(plain) and not _MORE.search(plain) else ""


class _Summed:
    """A column of amounts with its sums from the first row on: of two of them a stretch is told."""

    def __init__(self, seen: Seen, column: Column, amounts: Measured, doubtful: Bools) -> None:
        self.column, self.numbers = column, numbers_of(column)
        self._weight = np.where(np.isnan(amounts.mass_kg), amounts.gross_kg, amounts.mass_kg)
        loads = seen.rows.open
        counted = loads & (amounts.state == VALUE) & ~doubtful & ~np.isnat(seen.dated.days)
        values = [self.numbers, *(getattr(amounts, name) for name in _FIELDS[column.field])]
        self._ways = [(v, *_running(v, among)) for among in (loads, counted) for v in values]

    def nearest(self, starts: Sequence[int], row: int) -> float:
        """Return the sum above nearest to what a total says; NaN where one agrees or nothing is summed."""
        said, nearest = float(self.numbers[row]), np.nan
        for start in starts:
            for value, sums, many in self._ways:
                above, rows = float(sums[row] - sums[start]), int(many[row] - many[start])
                if np.isnan(value[row]) or not rows:
                    continue
                if _agrees(float(value[row]), above):
                    return np.nan
                if value is self.numbers and rows >= LEAST:
                    nearer = abs(above - said) < abs(nearest - said)
                    nearest = above if np.isnan(nearest) or nearer else nearest
        return round(nearest, 2)

    def mass_kg(self, row: int, apart: float) -> float | None:
        """Return the mass in kg of so much of a weighed column, None of other amounts."""
        weight, said = float(self._weight[row]), float(self.numbers[row])
        return None if np.isnan(weight) or not said else abs(weight / said * apart)


def _running(value: Floats, loads: Bools) -> tuple[Floats, Codes]:
    """Return what some rows of a column add up to above each row, and how many they are."""
    told = loads & ~np.isnan(value)
    sums = np.concatenate([[0.0], np.cumsum(np.where(told, value, 0.0))])
    return sums, np.concatenate([[0], np.cumsum(told)])


def _agrees(said: float, summed: float) -> bool:
    return abs(said - summed) <= max(_CLOSE * abs(said), 0.51)
