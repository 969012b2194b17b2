"""The days of a month across a heading: "Source | 1 | 2 | ... | 31 | Total"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from divert.ingest.cells.date import is_weekday
from divert.ingest.grid import Cell
from divert.ingest.sheet import Sheet, as_text

_DAYS = range(1, 32)
_ENDS = (1, 15, 16, 28)  # with which the days of a month, or of half of one, begin or end
_LONGEST = 14  # characters of "wednesday 31st"
_HALF = 15  # fewer numbers in a row may number weeks, pails or hours
_OTHERS = 5  # cells beside the days: names, totals, notes


def days_across(cells: Sequence[Cell]) -> dict[int, int]:
    """Return the columns that a heading numbers as days of the month; none where it numbers no days.

    The numbers run from the first to the 15th or to a month's last, or from the 16th to that.
    """
    told = {column: day_number(cell) for column, cell in enumerate(cells)}
    numbers = {column: number for column, number in told.items() if number}
    if all(as_text(cells[c])[:3].casefold() == "mar" for c in numbers):
        return {}  # among other weekdays it is mardi, alone it is March
    days = list(numbers.values())
    if len(days) < _HALF - 2 or days != list(range(days[0], days[0] + len(days))):
        return {}
    whole = (days[0], days[-1]) == (1, _HALF) or (days[0] in (1, _HALF + 1) and days[-1] >= 28)
    others = sum(c is not None for c in cells) - len(days)
    return numbers if whole and others <= _OTHERS else {}


_DAY = re.compile(
    r"(?:([^\W\d_]+)\.? *)?([0-3]?\d)(?:st|nd|rd|th|er|e)?(?: *([^\W\d_]+)\.?)?", re.A | re.I
)


def day_number(cell: Cell) -> int:
    """Return the day of the month that a cell numbers ("3", "3rd", "Tue 3"), else 0."""
    if isinstance(cell, int | float) and not isinstance(cell, bool):
        return int(cell) if 1 <= cell <= 31 and cell == cell // 1 else 0
    if not isinstance(cell, str) or len(cell) > _LONGEST:
        return 0
    return _numbered(cell)


@lru_cache(maxsize=16384)
def _numbered(cell: str) -> int:
    read = _DAY.fullmatch(cell.strip())
    if read is None or int(read[2]) not in _DAYS:
        return 0
    said = [w.casefold() for w in (read[1], read[3]) if w]
    return int(read[2]) if all(is_weekday(w) or w == "mar" for w in said) else 0


def rows_of_days(sheet: Sheet) -> list[int]:
    """Return the rows of a sheet that number the days of a month, wherever they stand."""
    seen = np.zeros((4, sheet.height), dtype=bool)
    for column in sheet.columns:
        days = {code: day_number(column.cells[code]) for code in column.texts}
        if column.types & {int, float}:
            days |= {i: day_number(c) for i, c in enumerate(column.cells) if c in _ENDS}
        for place, end in enumerate(_ENDS):
            if codes := [code for code, day in days.items() if day == end]:
                seen[place] |= column.rows_of(codes)
    may = (seen[0] & (seen[1] | seen[3])) | (seen[2] & seen[3])
    return [int(r) for r in np.flatnonzero(may) if days_across(sheet.row(int(r)))]


def weekdays_across(sheet: Sheet, row: int) -> bool:
    """Return whether a row holds nothing but weekdays, most of a month's: "S", "M", "T"."""
    cells = [c for c in sheet.row(row) if c is not None] if row < sheet.height else []
    texts = [c for c in cells if isinstance(c, str)]
    named = sum(is_weekday(t) or t.casefold() in "smtwfldjv" for t in texts)
    return len(cells) >= _HALF - 2 and named == len(cells)
