"""A year, or a month, written beside a date that says another."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_, Text
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.tables.numbers import numbers_of


def years_that_contradict(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows whose column of years names another than their date does."""
    shared = seen.job.layout.shared
    column = shared.get("year")
    if column is None or "date" not in shared:
        return
    said = numbers_of(column)
    said = np.where((said > 0) & (said < 100), said + 2000, said)
    days = seen.dated.days
    year = days.astype("datetime64[Y]").astype("int64") + 1970.0
    apart = ~np.isnan(said) & (said % 1 == 0) & ~np.isnat(days) & (said != year)
    fiscal = apart & (np.abs(said - year) == 1) & (seen.job.known.site.year_starts > 1)
    rows = apart & ~fiscal & seen.rows.open
    if rows.any():
        yield Doubt(
            rows,
            "year",
            Text(N_("The year written here is not the one of the date beside it.")),
            Text(N_("Put right whichever of the two is wrong.")),
            column,
        )
