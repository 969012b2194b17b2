"""A row of cells as the made-up site's workbooks hold it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

import xlsxwriter


def put(
    sheet: xlsxwriter.worksheet.Worksheet, row: int, cells: Iterable[object], day: object
) -> None:
    """Write cells from column A on; dates as dates, None as an empty cell."""
    for column, cell in enumerate(cells):
        if isinstance(cell, dt.date):
            sheet.write_datetime(row, column, dt.datetime(cell.year, cell.month, cell.day), day)
        elif isinstance(cell, str):
            sheet.write_string(row, column, cell)
        elif cell is not None:
            sheet.write(row, column, cell)
