"""The head of a month drawn as a calendar: weekdays across a row, and the days of a week under it."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.date import weekdays_together
from divert.ingest.cells.problem import Problem
from divert.ingest.grid import Cell
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Sheet

LEAST = 5  # weekdays across
_TOP = 40  # rows in which the first calendar must begin
_LETTERS = {  # one letter a day: where the week starts, Monday is 0
    "mtwtf": 0, "mtwtfs": 0, "mtwtfss": 0, "smtwtfs": 6,
    "lmmjv": 0, "lmmjvs": 0, "lmmjvsd": 0, "dlmmjvs": 6,
}  # fmt: skip


@dataclass(frozen=True)
class Week:
    """Weekdays across a row: the first column of each day and the one past its last; Monday is 0."""

    row: int
    spans: tuple[tuple[int, int], ...]
    first: int

    @property
    def columns(self) -> range:
        """Return the columns from the first day's to the last's."""
        return range(self.spans[0][0], self.spans[-1][1])

    def place(self, column: int) -> int:
        """Return how many days after the week's first the day of a column is."""
        return next(i for i, (a, b) in enumerate(self.spans) if a <= column < b)


def week_of(sheet: Sheet, row: int) -> Week | None:
    """Return the weekdays across a row, each once and in order, or None."""
    texts = [(i, c) for i, c in enumerate(sheet.row(row)) if isinstance(c, str)]
    if len(texts) < LEAST:
        return None
    words = [(i, bare(c).strip(".")) for i, c in texts]
    known = weekdays_together()
    named = [(i, known[w]) for i, w in words if w in known]
    if len(named) < LEAST:
        words = [(i, w) for i, w in words if len(w) == 1]
        letters = "".join(w for _, w in words)
        if letters not in _LETTERS:
            return None
        named = [(i, (_LETTERS[letters] + n) % 7) for n, (i, _) in enumerate(words)]
    days = [day for _, day in named]
    if days != [(days[0] + n) % 7 for n in range(len(days))]:
        return None
    starts = [i for i, _ in named]
    widths = {b - a for a, b in pairwise(starts)}
    if len(widths) != 1 or (width := widths.pop()) > 2:
        return None
    ends = [*starts[1:], starts[-1] + width]
    return Week(row, tuple(zip(starts, ends, strict=True)), days[0])


@lru_cache(maxsize=2)  # asked for months that can be read, and again for those that cannot
def weeks_at_the_top(sheet: Sheet) -> tuple[Week, ...]:
    """Return the weekdays across each of a sheet's first rows."""
    words = np.zeros(min(sheet.height, _TOP), dtype=np.int64)  # in each row
    for column in sheet.columns:
        words += column.rows_of(column.texts)[:_TOP]
    found = (week_of(sheet, row) for row in np.flatnonzero(words >= LEAST).tolist())
    return tuple(week for week in found if week is not None)


_DAY_FIRST = re.compile(r"(\d{1,2})(?:st|nd|rd|th|er)?(?:\s*[:.)–-]\s*|\s+|$)(.*)", re.I)


def day_and_rest(cell: Cell) -> tuple[int | dt.date, str] | None:
    """Return the day a square of a calendar begins with, and the rest of its text; None where none."""
    if isinstance(cell, dt.datetime):
        return cell.date(), ""
    if isinstance(cell, dt.date):
        return cell, ""
    if isinstance(cell, int | float) and not isinstance(cell, bool):
        return (int(cell), "") if cell in range(1, 32) else None
    if not isinstance(cell, str):
        return None
    found = _DAY_FIRST.fullmatch(cell.strip())
    if found and 1 <= int(found[1]) <= 31:
        said = read_date(cell)
        if isinstance(said, Problem) or said.day_alone is not None or not said.readings:
            return int(found[1]), found[2].strip()
    said = read_date(cell)
    if isinstance(said, Problem) or not said.sure or not said.readings:
        return None
    day = said.readings[0][1].day
    return None if day is None else (day, "")
