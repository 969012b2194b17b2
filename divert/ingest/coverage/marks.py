"""Rows that somebody struck through or hid, and hidden amounts: marks that may speak against a load."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen


def struck_out(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows that are struck through from end to end."""
    table = seen.job.table
    struck = [r - table.first for r in seen.job.sheet.struck if table.first <= r < table.end]
    if not struck:
        return
    rows = np.zeros(len(seen.rows.reason), dtype=bool)
    rows[struck] = True
    yield seen.doubt(
        "struck through",
        N_("This is struck through in the workbook, so I do not count it."),
        N_("Delete the row if it was no load; take the line through it away if it was one."),
        rows=rows,
    )


def hidden_rows(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads on rows that somebody has hidden: a sum by eye leaves them out."""
    table = seen.job.table
    rows = np.zeros(len(seen.rows.reason), dtype=bool)
    rows[[r - table.first for r in seen.job.sheet.hidden_rows if table.first <= r < table.end]] = (
        True
    )
    if rows.any() and not rows[seen.rows.open].all():  # all of it: the sheet was folded away
        yield seen.doubt(
            "hidden rows",
            N_("These rows are hidden in the workbook, and nobody who looks at it counts them."),
            N_("Show the rows if they are loads; delete them if they are none."),
            rows=rows,
        )  # fmt: skip


def hidden_amounts(seen: Seen) -> Iterator[Doubt]:
    """Doubt loads whose amounts stand in a hidden column while others are to be seen."""
    hidden, layout = seen.job.sheet.hidden_columns, seen.job.layout
    beside = (c for cs in (*(g.members for g in layout.groups), layout.unread) for c in cs)
    if not hidden or not any(c.index not in hidden and c.content.numbers > 0.5 for c in beside):
        return
    for column in (g.first for g in layout.groups):
        if column.index in hidden:
            yield seen.doubt(
                f"{column.letter} hidden",
                N_("The column “{heading}”, whose amounts I would count, is hidden."),
                N_('Show the column if it counts; else take it for nothing, under [[sheet]]: '
                       'ignore = ["{letter}"].'),
                column=column,
                columns=frozenset((column.index,)),
            )  # fmt: skip
