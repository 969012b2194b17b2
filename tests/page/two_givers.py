"""A yard with two givers, and a way to write its log: what tests of reading anew begin with."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

import xlsxwriter

DAY = dt.date(2025, 7, 1)
TWO_GIVERS = """\
[site]
name = "Yard"
started = 2025-01-01
units = "metric"
[[source]]
name = "Alder Street"
[[source]]
name = "Mill Lane"
[[material]]
name = "scraps"
like = "food-scraps"
"""


def write_log(folder: Path, sheets: Mapping[str, Iterable[Sequence[object]]]) -> None:
    """Write log.xlsx: the rows of each sheet, headings first."""
    with xlsxwriter.Workbook(str(folder / "log.xlsx")) as book:
        for name, rows in sheets.items():
            sheet = book.add_worksheet(name)
            for place, row in enumerate(rows):
                sheet.write_row(place, 0, row)
