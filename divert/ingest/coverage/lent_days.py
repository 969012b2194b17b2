"""Loads that only a month dates, beside numbers that may be their days."""

from __future__ import annotations

from collections.abc import Iterator

from divert.core.words import N_
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.problem import Problem
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.grid import Cell
from divert.ingest.tables.columns import IGNORE
from divert.ingest.tables.day_numbers import may_be_days


def days_left_aside(seen: Seen) -> Iterator[Doubt]:
    """Doubt loads dated by the month over them while a column may say the day of each."""
    job = seen.job
    across = any(g.label.day or g.label.number or g.label.weekday for g in job.layout.groups)
    if job.context.month is None or job.context.day or across:
        return
    if {"date", "day"} & set(job.layout.shared):
        return
    timed = job.layout.shared.get("time")  # whole numbers there may be hours, or days
    amounts = [c for g in job.layout.groups for c in g.members]
    counted = {c.index for c in amounts}
    for column in (*job.layout.unread, *amounts, *([timed] if timed else [])):
        if column.field == IGNORE:
            continue
        numbered = column.index not in counted and may_be_days(column, column is timed)
        days = column.cells.codes >= 0 if numbered else column.cells.rows_where(_is_whole_day)
        rows = days & seen.rows.open
        if not rows.any():
            continue
        if column.index not in counted or not column.content.numbers:
            # Days and words alone: what the words say may be that their row is no load.
            rows = (column.cells.codes >= 0) & seen.rows.open
        yield seen.doubt(
            f"{column.letter} days",
            N_("What stands under “{heading}” may be the days of these loads."),
            N_("If they are, name the column Day or Date; if not, take it for nothing, under "
                   '[[sheet]]: ignore = ["{letter}"].'),
            rows=rows,
            column=column,
        )  # fmt: skip


def _is_whole_day(cell: Cell) -> bool:
    """Return whether a cell is a date with its year or its month's word, however few others are: no 3/4."""
    read = None if isinstance(cell, int | float) else read_date(cell)
    if read is None or isinstance(read, Problem):
        return False
    return any((d.year or read.sure) and d.month and d.day for _, d in read.readings)
