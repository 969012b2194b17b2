"""Write rows of cells as a spreadsheet of each kind."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

Rows = Sequence[Sequence[Any]]


def xlsx(
    path: Path,
    sheets: Mapping[str, Rows],
    *,
    date_1904: bool = False,
    merge: Mapping[str, Iterable[str]] | None = None,
    hidden: Iterable[str] = (),
    percent: Mapping[str, Iterable[int]] | None = None,
) -> None:
    """Write a workbook. Text starting with = is a formula: give (formula, cached value)."""
    import xlsxwriter

    settings = {"default_date_format": "yyyy-mm-dd", "date_1904": date_1904, "in_memory": True}
    with xlsxwriter.Workbook(path, settings) as book:  # and no file for each of its parts
        as_date = book.add_format({"num_format": "yyyy-mm-dd"})
        as_percent = book.add_format({"num_format": "0%"})
        for name, rows in sheets.items():
            sheet = book.add_worksheet(name)
            for r, row in enumerate(rows):
                for c, cell in enumerate(row):
                    if cell is None:
                        continue
                    if isinstance(cell, tuple):
                        sheet.write_formula(r, c, cell[0], None, cell[1])
                    elif isinstance(cell, dt.date):
                        sheet.write_datetime(
                            r,
                            c,
                            dt.datetime.combine(cell, getattr(cell, "time", dt.time)()),
                            as_date,
                        )
                    elif percent and c in percent.get(name, ()) and isinstance(cell, int | float):
                        sheet.write_number(r, c, cell, as_percent)
                    else:
                        sheet.write(r, c, cell)
            for span in (merge or {}).get(name, ()):
                first = span.split(":")[0]
                column, number = ord(first[0]) - 65, int(first[1:]) - 1
                value = rows[number][column]
                fmt = as_date if isinstance(value, dt.date) else None
                sheet.merge_range(span, value, fmt)
            if name in hidden:
                sheet.hide()


def xlsm(path: Path, sheets: Mapping[str, Rows]) -> None:
    """Write a workbook with the ending of one that may hold macros (it holds none)."""
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    book.save(path)


def xls(path: Path, sheets: Mapping[str, Rows]) -> None:
    """Write an old binary workbook."""
    import xlwt

    book = xlwt.Workbook()
    style = xlwt.easyxf(num_format_str="YYYY-MM-DD")
    for name, rows in sheets.items():
        sheet = book.add_sheet(name)
        for r, row in enumerate(rows):
            for c, cell in enumerate(row):
                if isinstance(cell, dt.date):
                    sheet.write(r, c, cell, style)
                elif cell is not None:
                    sheet.write(r, c, cell)
    book.save(str(path))


def ods(
    path: Path,
    sheets: Mapping[str, Rows],
    struck: Mapping[str, Collection[int]] | None = None,
    hidden: Mapping[str, Collection[int]] | None = None,
) -> None:
    """Write an OpenDocument spreadsheet; ``struck`` and ``hidden`` are rows from 1."""
    from odf.opendocument import OpenDocumentSpreadsheet
    from odf.style import Style, TextProperties
    from odf.table import Table, TableCell, TableRow
    from odf.text import P

    book = OpenDocumentSpreadsheet()
    lined = Style(name="lined", family="table-cell")
    lined.addElement(TextProperties(textlinethroughstyle="solid"))
    if struck:
        book.automaticstyles.addElement(lined)
    for name, rows in sheets.items():
        table = Table(name=name)
        for number, row in enumerate(rows, 1):
            unseen = number in (hidden or {}).get(name, ())
            line = TableRow(visibility="collapse") if unseen else TableRow()
            for cell in row:
                if cell is None:
                    line.addElement(TableCell())
                elif isinstance(cell, dt.date):
                    made = TableCell(valuetype="date", datevalue=cell.isoformat())
                    made.addElement(P(text=cell.isoformat()))
                    line.addElement(made)
                elif isinstance(cell, int | float):
                    made = TableCell(valuetype="float", value=str(cell))
                    made.addElement(P(text=str(cell)))
                    line.addElement(made)
                else:
                    made = TableCell(valuetype="string")
                    made.addElement(P(text=str(cell)))
                    line.addElement(made)
            for made in line.childNodes if number in (struck or {}).get(name, ()) else ():
                made.setAttribute("stylename", lined)
            table.addElement(line)
        book.spreadsheet.addElement(table)
    book.save(str(path))


def text(path: Path, rows: Rows, *, separator: str = ",", encoding: str = "utf-8") -> None:
    """Write a table as text, quoting where the separator occurs."""
    import csv
    import io

    out = io.StringIO()
    csv.writer(out, delimiter=separator, lineterminator="\r\n").writerows(
        [["" if c is None else c for c in row] for row in rows]
    )
    path.write_bytes(out.getvalue().encode(encoding))


def xlsb(path: Path, sheets: Mapping[str, Rows]) -> None:
    """Write a binary workbook, record by record: no library writes this format."""
    from opening.make_xlsb import xlsb as packed

    path.write_bytes(packed({name: [list(row) for row in rows] for name, rows in sheets.items()}))
