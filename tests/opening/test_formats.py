"""The same cells come out of every workbook format, written by whichever program."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
import xlwt
from make_xlsb import xlsb
from odf.opendocument import OpenDocumentSpreadsheet
from odf.style import Style, TableProperties
from odf.table import CoveredTableCell, Table, TableCell, TableRow
from odf.text import P
from open_all import by_sheet, open_bytes, rezipped

from divert.ingest.grid import Grid, Opened

# What a person sees in the sheet: row 1 and column A are empty, B2 to B3 are merged.
DAY = dt.date(2025, 3, 1)
ROWS: list[list[object]] = [
    [],
    [None, "Date", "Weight (lb)", "Done"],
    [None, None, 12.5, True],
    [],
    [None, DAY, 7.0, "½ pail"],
]
MERGED = (2, 2, 3, 2)


def by_xlsxwriter(date_1904: bool = False) -> bytes:
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "date_1904": date_1904})
    day = book.add_format({"num_format": "d mmm yyyy"})
    sheet = book.add_worksheet("Log")
    for r, row in enumerate(ROWS):
        for c, value in enumerate(row):
            if isinstance(value, dt.date):
                sheet.write_datetime(r, c, value, day)
            elif value is not None:
                sheet.write(r, c, value)
    sheet.merge_range(1, 1, 2, 1, "Date")
    hidden = book.add_worksheet("Old")
    hidden.hide()
    hidden.write(0, 0, "kept")
    book.close()
    return out.getvalue()


def by_xlwt(date_1904: bool = False) -> bytes:
    book = xlwt.Workbook()
    book.dates_1904 = date_1904
    sheet = book.add_sheet("Log")
    for r, row in enumerate(ROWS):
        for c, value in enumerate(row):
            if isinstance(value, dt.date):
                sheet.write(r, c, value, xlwt.easyxf(num_format_str="D-MMM-YY"))
            elif value is not None and (r, c) != (1, 1):
                sheet.write(r, c, value)
    sheet.write_merge(1, 2, 1, 1, "Date")
    hidden = book.add_sheet("Old")
    hidden.visibility = 1
    hidden.write(0, 0, "kept")
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def by_hand_xlsb(date_1904: bool = False) -> bytes:
    sheets = {"Log": ROWS, "Old": [["kept"]]}
    return xlsb(sheets, hidden=("Old",), merged=(MERGED,), date_1904=date_1904)


def by_odfpy(date_1904: bool = False) -> bytes:
    del date_1904  # an .ods date is written out in full
    book = OpenDocumentSpreadsheet()
    off = Style(name="off", family="table")
    off.addElement(TableProperties(display="false"))
    book.automaticstyles.addElement(off)
    sheet = Table(name="Log")
    for r, row in enumerate(ROWS):
        line = TableRow()
        for c, value in enumerate(row):
            line.addElement(_ods_cell(value, merged=(r, c) == (1, 1), covered=(r, c) == (2, 1)))
        sheet.addElement(line)
    book.spreadsheet.addElement(sheet)
    hidden = Table(name="Old", stylename=off)
    line = TableRow()
    line.addElement(_ods_cell("kept"))
    hidden.addElement(line)
    book.spreadsheet.addElement(hidden)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _ods_cell(value: object, merged: bool = False, covered: bool = False) -> object:
    if covered:
        return CoveredTableCell()
    span = {"numbercolumnsspanned": 1, "numberrowsspanned": 2} if merged else {}
    if value is None:
        return TableCell()
    if isinstance(value, bool):
        return TableCell(valuetype="boolean", booleanvalue=str(value).lower(), **span)
    if isinstance(value, dt.date):
        return TableCell(valuetype="date", datevalue=value.isoformat(), **span)
    if isinstance(value, float):
        return TableCell(valuetype="float", value=str(value), **span)
    cell = TableCell(valuetype="string", **span)
    cell.addElement(P(text=str(value)))
    return cell


@pytest.mark.parametrize("date_1904", [False, True], ids=["1900", "1904"])
@pytest.mark.parametrize(
    ("name", "write"),
    [
        ("log.xlsx", by_xlsxwriter),
        ("log.XLSM", by_xlsxwriter),
        ("log.xls", by_xlwt),
        ("log.xlsb", by_hand_xlsb),
        ("log.ods", by_odfpy),
    ],
)
def test_every_format_gives_the_same_cells_in_both_date_systems(
    tmp_path: Path, name: str, write: Callable[[bool], bytes], date_1904: bool
) -> None:
    opened = open_bytes(tmp_path, name, write(date_1904))
    assert opened.findings == ()
    assert opened.grids == (
        Grid(name, "Log", ROWS, hidden=False, merged=(MERGED,)),  # type: ignore[arg-type]
        Grid(name, "Old", [["kept"]], hidden=True),
    )
    assert type(opened.grids[0].rows[4][1]) is dt.date


def _written(fill: Callable[[xlsxwriter.Workbook], None]) -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        fill(book)
    return out.getvalue()


def _first(opened: Opened) -> Grid:
    return opened.grids[0]


def test_times_and_durations_keep_their_kind(tmp_path: Path) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        sheet = book.add_worksheet()
        moment = dt.datetime(2025, 3, 1, 14, 30)
        sheet.write_datetime(0, 0, moment, book.add_format({"num_format": "yyyy-mm-dd hh:mm"}))
        sheet.write_datetime(0, 1, dt.time(9, 15), book.add_format({"num_format": "hh:mm"}))
        sheet.write_datetime(
            0, 2, dt.timedelta(hours=30), book.add_format({"num_format": "[h]:mm"})
        )

    (row,) = _first(open_bytes(tmp_path, "t.xlsx", _written(fill))).rows
    assert row == [dt.datetime(2025, 3, 1, 14, 30), dt.time(9, 15), dt.timedelta(hours=30)]


def test_a_formula_is_the_value_stored_with_it(tmp_path: Path) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        sheet = book.add_worksheet()
        sheet.write_formula("A1", "=1+1", None, 5)  # wrong on purpose: nothing is calculated here
        sheet.write_formula("B1", '="a"&"b"', None, "stored")

    opened = open_bytes(tmp_path, "f.xlsx", _written(fill))
    assert _first(opened).rows == [[5.0, "stored"]]
    assert opened.findings == ()


def test_a_formula_never_calculated_is_shown_and_not_taken_for_a_blank(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Log"
    sheet.append(["lb", 3, "=B1*2", '=IF(B1<4,"low & dry","")'])
    out = io.BytesIO()
    book.save(out)
    opened = open_bytes(tmp_path, "f.xlsx", out.getvalue())
    assert _first(opened).rows == [["lb", 3.0, "=B1*2", '=IF(B1<4,"low & dry","")']]
    (finding,) = opened.findings
    assert (finding.level, finding.code) == ("note", "formula without a value")
    assert str(finding.where) == "f.xlsx!Log"
    assert str(finding.message).endswith("shown as their text: 2")


def test_an_error_cell_is_its_text_and_not_a_blank(tmp_path: Path) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        book.add_worksheet("Empty")
        sheet = book.add_worksheet("Errors")
        sheet.write("A2", "lb")
        sheet.write_formula("C2", "=1/0", None, "#DIV/0!")
        sheet.write_formula("A3", "=NA()", None, "#N/A")

    opened = open_bytes(tmp_path, "e.xlsx", _written(fill))
    assert by_sheet(opened)["Errors"].rows == [[], ["lb", None, "#DIV/0!"], ["#N/A"]]
    assert by_sheet(opened)["Empty"].rows == []


def test_an_error_cell_of_a_binary_workbook_is_its_text(tmp_path: Path) -> None:
    rows: list[list[object]] = [
        ["Date", "lb"],
        [dt.date(2025, 3, 3), "#N/A"],
        [None, 12.5],
        ["#N/A"],
    ]
    opened = open_bytes(tmp_path, "e.xlsb", xlsb({"Plain": [["lb", 3.0]], "Errors": rows}))
    grids = by_sheet(opened)
    assert grids["Errors"].rows[1:] == [[dt.date(2025, 3, 3), "#N/A"], [None, 12.5], ["#N/A"]]
    assert grids["Plain"].rows == [["lb", 3.0]]


def test_a_merge_over_the_whole_sheet_ends_where_the_cells_end(tmp_path: Path) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        sheet = book.add_worksheet()
        sheet.merge_range("A1:B2", "everything")
        sheet.write("C4", "last")

    data = rezipped(_written(fill), {"xl/worksheets/sheet1.xml": (b"A1:B2", b"A1:XFD1048576")})
    grid = _first(open_bytes(tmp_path, "m.xlsx", data))
    assert grid.merged == ((1, 1, 4, 3),)


def test_charts_are_no_sheets(tmp_path: Path) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        book.add_worksheet("Log").write("A1", 1)
        chart = book.add_chart({"type": "bar"})
        chart.add_series({"values": "=Log!$A$1:$A$1"})
        book.add_chartsheet("Picture").set_chart(chart)

    opened = open_bytes(tmp_path, "c.xlsx", _written(fill))
    assert [grid.sheet for grid in opened.grids] == ["Log"]


def test_a_sheet_kept_from_sight_for_good_is_hidden_too(tmp_path: Path) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        book.add_worksheet("Log").write("A1", 1)
        sheet = book.add_worksheet("Deep")
        sheet.very_hidden()
        sheet.write("A1", 2)

    assert by_sheet(open_bytes(tmp_path, "h.xlsx", _written(fill)))["Deep"].hidden


def test_a_workbook_of_nothing_but_a_chart_is_said_and_not_passed_over(tmp_path: Path) -> None:
    def fill(book: xlsxwriter.Workbook) -> None:
        chart = book.add_chart({"type": "bar"})
        chart.add_series({"values": "=Log!$A$1:$A$1"})
        book.add_chartsheet("Picture").set_chart(chart)

    opened = open_bytes(tmp_path, "c.xlsx", _written(fill))
    assert opened.grids == ()
    assert [(f.level, f.code) for f in opened.findings] == [("refused", "file unreadable")]
