"""Columns written at one go read back as the same cells that XlsxWriter writes one by one."""

from io import BytesIO

import openpyxl
import xlsxwriter

from divert.workbook.column_sheet import ColumnSheet

NAN = float("nan")
TEXTS = ["=1+1", "", "a & <b>", "", "café “x”", "_x0041_", " two  spaces ", "a & <b>"]
NUMBERS = [1.0, NAN, 0.1 + 0.2, 1e-12, -7.25, NAN, 123456789.125, 0.0]
FORMULAS = ["B2*2", "", "", 'IF(A1="<&>",1,0)', "", "", "", "SORT"]
VALUES = [2.0, NAN, 0.1 + 0.2, 1.0, NAN, NAN, NAN, NAN]


def written(kind, fill):
    out = BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    sheet = book.add_worksheet("Ledger", kind)
    fill(sheet, book.add_format({"num_format": "@"}), book.add_format({"bg_color": "#eeeeee"}))
    book.close()
    return out.getvalue()


def by_column(sheet, text, shaded):
    sheet.write_texts(2, 0, TEXTS, text)
    sheet.write_numbers(2, 1, NUMBERS)
    sheet.write_numbers(2, 30, NUMBERS, shaded)
    sheet.write_formulas(2, 3, FORMULAS, shaded, VALUES)
    sheet.write_formulas(2, 4, FORMULAS, shaded, VALUES, rest=True)
    sheet.write_string(0, 0, "Title")
    sheet.write_blank(0, 1, None, shaded)


def by_cell(sheet, text, shaded):
    for row, one in enumerate(TEXTS, start=2):
        if one:
            sheet.write_string(row, 0, one, text)
    for row, number in enumerate(NUMBERS, start=2):
        if number == number:
            sheet.write_number(row, 1, number)
            sheet.write_number(row, 30, number, shaded)
    for place, formula in enumerate(FORMULAS):
        value = VALUES[place] if VALUES[place] == VALUES[place] else 0
        if formula:
            sheet.write_formula(2 + place, 3, f"={formula}", shaded, value)
            sheet.write_formula(2 + place, 4, f"={formula}", shaded, value)
        elif value:
            sheet.write_number(2 + place, 4, value)
    sheet.write_string(0, 0, "Title")
    sheet.write_blank(0, 1, None, shaded)


def cells(data, *, values):
    sheet = openpyxl.load_workbook(BytesIO(data), data_only=values)["Ledger"]
    found = {
        cell.coordinate: (cell.data_type, cell.value, cell.number_format, cell.fill.fgColor.rgb)
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None or cell.has_style
    }
    return found, sheet.dimensions


def test_columns_and_single_cells_come_to_the_same():
    quick, plain = written(ColumnSheet, by_column), written(None, by_cell)
    for values in (False, True):
        assert cells(quick, values=values) == cells(plain, values=values)
    found, dimensions = cells(quick, values=False)
    assert dimensions == "A1:AE10"
    assert found["A3"][:2] == ("s", "=1+1")
    assert found["B5"][:2] == ("n", 0.3)  # sixteen digits: 0.1 + 0.2 is 0.3 to the sixteenth
    assert found["D6"][:2] == ("f", '=IF(A1="<&>",1,0)')
    assert found["E5"][:2] == ("n", 0.3)  # no formula there: its value, where the rest is wanted
    assert "D5" not in found
    assert "E4" not in found
    assert "A4" not in found


def test_a_name_like_a_newer_function_in_quotes_stays_as_it_is():
    def fill(sheet, text, shaded):
        sheet.write_formulas(0, 0, ['SUMIFS(B:B,C:C,"SORT(2)")'], shaded, [1.0])

    sheet = openpyxl.load_workbook(BytesIO(written(ColumnSheet, fill)))["Ledger"]
    assert sheet["A1"].value == '=SUMIFS(B:B,C:C,"SORT(2)")'
