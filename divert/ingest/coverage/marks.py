"""Rows that somebody struck through: a mark that speaks against a load."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_, Text
from divert.ingest.coverage.doubt import Doubt, Seen


def struck_out(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows that are struck through from end to end."""
    table = seen.job.table
    struck = [r - table.first for r in seen.job.sheet.struck if table.first <= r < table.end]
    if not struck:
        return
    rows = np.zeros(len(seen.rows.reason), dtype=bool)
    rows[struck] = True
    yield Doubt(
        rows & seen.rows.open,
        "struck through",
        Text(N_("This is struck through in the workbook, so I do not count it.")),
        Text(N_("Delete the row if it was no load; take the line through it away if it was one.")),
    )
