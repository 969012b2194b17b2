"""The squares of a month's calendar: which day each is, and what stands in it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from divert.ingest.cells.mark import is_total_label
from divert.ingest.grid import Cell
from divert.ingest.sheet import Sheet
from divert.ingest.turned.build import At, at
from divert.ingest.turned.weekdays import Week, day_and_rest, weeks_at_the_top

_UNDER = 40  # rows under the weekdays that are looked at
_WEEK = dt.timedelta(days=7)


@dataclass(frozen=True)
class Square:
    """Something that stands in the square of a day; ``number`` is the cell that names the day."""

    day: dt.date
    number: At
    cell: At
    said: Cell  # the cell, or the rest of its text where the number begins it


@dataclass(frozen=True)
class Month:
    """A month's calendar: by row, the day of its first column; where its last week ends.

    ``whole``: each of its weeks is there.
    """

    week: Week
    year: int
    month: int
    rows: dict[int, dt.date]
    end: int
    whole: bool


def month_of(sheet: Sheet, week: Week, end: int, year: int, month: int) -> Month | None:
    """Return the calendar under a row of weekdays, if it is this month's; ``end`` past its last row."""
    first = dt.date(year, month, 1)
    start = first - dt.timedelta(days=(first.weekday() - week.first) % 7)
    weeks = [w for n in range(6) if _days_in(w := start + n * _WEEK, week, month)]
    rows: dict[int, dt.date] = {}
    for row in range(week.row + 1, end):
        expected = [w for w in weeks if not rows or w == max(rows.values()) + _WEEK]
        hit = next((w for w in expected if _numbers_week(sheet, row, week, w, month)), None)
        if hit is not None:
            rows[row] = hit
        elif not rows and any(sheet.columns[c].at(row) is not None for c in week.columns):
            return None  # something over the first number of a day
        elif _counts_up(sheet, row, week):
            return None  # a week that is not this month's
    if not rows:
        return None
    others = [r for r in range(week.row + 1, end) if r not in rows]
    bare = [r for r in others if not any(isinstance(c, str) for c in sheet.row(r))]
    unsure = any(_numbers_week(sheet, r, week, w, month) for r in bare for w in weeks)
    places = list(rows)
    heights = {b - a for a, b in pairwise(places)}
    if unsure and len(heights) > 1:
        return None  # amounts that may be days: 31 under the 24th
    last = places[-1] + max(heights) if heights else end
    return Month(week, year, month, rows, min(last, end), len(rows) == len(weeks))


def _days_in(start: dt.date, week: Week, month: int) -> list[int]:
    """Return the places of a week, among those of its columns, whose days lie in the month."""
    places = range(len(week.spans))
    return [n for n in places if (start + dt.timedelta(days=n)).month == month]


def _numbers_week(sheet: Sheet, row: int, week: Week, start: dt.date, month: int) -> bool:
    """Return whether a row numbers the days of one week: each of the month's, and no other's."""
    read = {}
    for place, (column, _) in enumerate(week.spans):
        cell = sheet.columns[column].at(row) if column < len(sheet.columns) else None
        if cell is not None:
            said = day_and_rest(cell)
            day = start + dt.timedelta(days=place)
            if said is None or said[0] != (day.day if isinstance(said[0], int) else day):
                return False
            read[place] = said
    return bool(read) and set(_days_in(start, week, month)) <= set(read)


def _counts_up(sheet: Sheet, row: int, week: Week) -> bool:
    """Return whether three or more bare numbers of a row each are one more than the last."""
    cells = [sheet.columns[c].at(row) for c, _ in week.spans if c < len(sheet.columns)]
    said = [day_and_rest(c) for c in cells if c is not None]
    days = [s[0].day if isinstance(s[0], dt.date) else s[0] for s in said if s and not s[1]]
    if len(days) < 3 or len(days) < len(said):
        return False
    return all(b == a + 1 for a, b in pairwise(days))


def is_calendar(sheet: Sheet) -> bool:
    """Return whether a row of nothing but weekdays stands over rows that number days."""
    for week in weeks_at_the_top(sheet):
        if all(c is None for c in sheet.row(week.row)[: week.columns.start]):
            under = range(week.row + 1, min(sheet.height, week.row + _UNDER))
            return sum(_counts_up(sheet, r, week) for r in under) >= 2
    return False


def squares(sheet: Sheet, month: Month) -> Iterator[Square]:
    """Yield what stands in the squares, row by row; rows that a cell labels as sums are passed over."""
    for row in range(min(month.rows), month.end):
        over = max(r for r in month.rows if r <= row)
        if over != row and is_sum(sheet, row):
            continue
        for column in month.week.columns:
            if column >= len(sheet.columns):
                continue
            cell = at(sheet, row, column)
            place = month.week.place(column)
            head = at(sheet, over, month.week.spans[place][0])
            day = month.rows[over] + dt.timedelta(days=place)
            said = cell.cell
            if row == over and column == month.week.spans[place][0]:
                read = day_and_rest(said)
                said = read[1] or None if read else None
            if said is not None:
                yield Square(day, head, cell, said)


def is_sum(sheet: Sheet, row: int) -> bool:
    """Return whether a cell of a row labels it as a sum."""
    return any(isinstance(c, str) and is_total_label(c) for c in sheet.row(row))
