"""A year, or a month, written beside a date that says another."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_
from divert.ingest.arrays import Bools
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.tables.numbers import Numbers, numbers_of

_QUESTION = N_("The year written here is not the one of the date beside it.")
_HINT = N_("Put right whichever of the two is wrong.")


def years_that_contradict(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows whose column of years names another than their date does."""
    yield from _across(seen)
    shared = seen.job.layout.shared
    column = shared.get("year")
    if column is None or "date" not in shared:
        return
    said = numbers_of(column)
    said = np.where((said > 0) & (said < 100), said + 2000, said)
    rows = _apart(seen, np.where(said % 1 == 0, said, np.nan))
    if rows.any():
        yield seen.doubt(
            "year",
            _QUESTION,
            _HINT,
            rows=rows,
            column=column,
        )


def _across(seen: Seen) -> Iterator[Doubt]:
    """Doubt amounts under a year across the table whose rows are dated in another: last year's beside."""
    if "date" not in seen.job.layout.shared:
        return
    for group in seen.job.layout.groups:
        if group.label.year is None:
            continue
        filled = group.first.cells.codes >= 0
        rows = _apart(seen, np.where(filled, float(group.label.year), np.nan))
        if rows.any():
            yield seen.doubt(
                f"{group.first.letter} year",
                _QUESTION,
                _HINT,
                rows=rows,
                column=group.first,
                columns=group.places,
            )


def _apart(seen: Seen, said: Numbers) -> Bools:
    """Return the rows whose date lies in another year than the one said; nan says none."""
    days = seen.dated.days
    year = days.astype("datetime64[Y]").astype("int64") + 1970.0
    apart = ~np.isnan(said) & ~np.isnat(days) & (said != year)
    fiscal = apart & (np.abs(said - year) == 1) & (seen.job.known.site.year_starts > 1)
    return np.asarray(apart & ~fiscal & seen.rows.open)
