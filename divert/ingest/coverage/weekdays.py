"""A weekday written beside a date that falls on another day of the week."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_
from divert.ingest.cells.date import weekday_words, weekdays_together
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.lexicon import bare
from divert.ingest.sheet import as_text

_LEAST = 2  # one slip of the pen moves no load to another month
_THURSDAY = 3  # 1970-01-01, counted from Monday


def weekdays_that_contradict(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows whose weekday is not their date's, where more are so than are not.

    Then the order of day and month, or the year, was read otherwise than it was meant.
    """
    column = seen.job.layout.shared.get("weekday")
    if column is None or "date" not in seen.job.layout.shared:
        return
    words = weekdays_together() | weekday_words()
    said = [words.get(bare(as_text(cell)).strip("."), -1) for cell in column.cells.cells]
    told = np.array([*said, -1])[column.cells.codes]
    days = seen.dated.days
    fell = (days.astype("datetime64[D]").astype("int64") + _THURSDAY) % 7
    both = (told >= 0) & ~np.isnat(days)
    apart = both & (told != fell)
    if apart.sum() < _LEAST or 2 * apart.sum() <= both.sum():
        return
    rows = np.asarray(apart & seen.rows.open)
    if rows.any():
        yield seen.doubt(
            "weekday",
            N_("The weekdays written here are not those of the dates beside them."),
            N_("Say under [site] or [[sheet]] in site.toml in which order dates stand, or put right "
                   "whichever of the two is wrong."),
            rows=rows,
            column=column,
        )  # fmt: skip
