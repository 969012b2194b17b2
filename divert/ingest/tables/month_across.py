"""The days of a month across a heading: "Source | 1 | 2 | ... | 31 | Total"."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from divert.ingest.cells.date import is_weekday
from divert.ingest.grid import Cell
from divert.ingest.sheet import Sheet, as_text

_HALF = 15  # fewer numbers in a row may number weeks, pails or hours
_OTHERS = 5  # cells beside the days: names, totals, notes


def days_across(cells: Sequence[Cell]) -> dict[int, int]:
    """Return the columns that a heading numbers as days of the month; none where it numbers no days.

    The numbers run from the first to the 15th or to a month's last, or from the 16th to that.
    """
    numbers: dict[int, int] = {}
    for column, cell in enumerate(cells):
        text = as_text(cell) if isinstance(cell, str | int | float) else ""
        if text.isascii() and text.isdecimal() and 1 <= int(text) <= 31:
            numbers[column] = int(text)
    days = list(numbers.values())
    if len(days) < _HALF - 2 or days != list(range(days[0], days[0] + len(days))):
        return {}
    whole = (days[0], days[-1]) == (1, _HALF) or (days[0] in (1, _HALF + 1) and days[-1] >= 28)
    others = sum(c is not None for c in cells) - len(days)
    return numbers if whole and others <= _OTHERS else {}


def rows_of_days(sheet: Sheet) -> list[int]:
    """Return the rows of a sheet that number the days of a month, wherever they stand."""
    seen = np.zeros((4, sheet.height), dtype=bool)
    for column in sheet.columns:
        texts = [as_text(c) if isinstance(c, str | int | float) else "" for c in column.cells]
        for place, end in enumerate(("1", "15", "16", "28")):
            if end in texts:
                seen[place] |= np.isin(column.codes, [i for i, t in enumerate(texts) if t == end])
    may = (seen[0] & (seen[1] | seen[3])) | (seen[2] & seen[3])
    return [int(r) for r in np.flatnonzero(may) if days_across(sheet.row(int(r)))]


def weekdays_across(sheet: Sheet, row: int) -> bool:
    """Return whether a row holds nothing but weekdays, most of a month's: "S", "M", "T"."""
    cells = [c for c in sheet.row(row) if c is not None] if row < sheet.height else []
    texts = [c for c in cells if isinstance(c, str)]
    named = sum(is_weekday(t) or t.casefold() in "smtwfldjv" for t in texts)
    return len(cells) >= _HALF - 2 and named == len(cells)
