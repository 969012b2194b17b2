"""Writing cells that stay what they are: text as text, numbers as numbers, formulas with results."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

_DAY_0 = dt.date(1899, 12, 30).toordinal()
_LONGEST = 32_000  # a cell holds 32,767 characters
MOST_ROWS = 1_048_576  # of a sheet (ECMA-376, and the limits that spreadsheet programs publish)
COVER = "Cover"
LEDGER, FACTORS, SUMMARY = "Ledger", "Factors", "Summary"
EVERY_FIGURE = "Every figure"
SET_ASIDE, FINDINGS, METHOD = "Set aside", "Findings", "Method"


@dataclass(frozen=True)
class Styles:
    """The formats of a workbook, made once."""

    title: Any
    heading: Any
    key: Any
    text: Any
    wrapped: Any
    number: Any
    whole: Any
    date: Any
    day_or_none: Any
    formula: Any
    strong: Any
    bold: Any
    dash: Any


def styles(workbook: Any) -> Styles:
    """Add the formats to a workbook (XlsxWriter)."""
    grey = {"font_color": "#666666", "font_size": 8}
    made = workbook.add_format
    return Styles(
        title=made({"bold": True, "font_size": 14}),
        heading=made({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1}),
        key=made(grey),
        text=made({"num_format": "@"}),
        wrapped=made({"num_format": "@", "text_wrap": True, "valign": "top"}),
        number=made({"num_format": "#,##0.0##"}),
        whole=made({"num_format": "0"}),
        date=made({"num_format": "yyyy-mm-dd"}),
        day_or_none=made({"num_format": "yyyy-mm-dd;;"}),
        formula=made({"num_format": "#,##0.0##", "bg_color": "#f3f6f4"}),
        strong=made({"num_format": "#,##0.0##", "bg_color": "#f3f6f4", "bold": True}),
        bold=made({"bold": True}),
        dash=made({"align": "right"}),
    )


def day_number(day: dt.date) -> float:
    """Return a day as cells hold it: counted in the 1900 date system (ECMA-376 part 1, 18.17.4)."""
    return float(day.toordinal() - _DAY_0)


def clean(text: str) -> str:
    """Return text that any spreadsheet program can hold."""
    return text[:_LONGEST].encode("utf-8", "replace").decode("utf-8")


def put_text(sheet: Any, row: int, column: int, text: str, style: Any = None) -> None:
    """Write text as text, whatever it starts with; nothing for an empty one."""
    if text:
        sheet.write_string(row, column, clean(text), style)


def put_number(sheet: Any, row: int, column: int, value: float, style: Any = None) -> None:
    """Write a number; nothing where there is none."""
    if value is not None and math.isfinite(value):
        sheet.write_number(row, column, value, style)


def put_date(sheet: Any, row: int, column: int, day: dt.date, style: Any) -> None:
    """Write a day as a date."""
    sheet.write_number(row, column, day_number(day), style)


def put_formula(
    sheet: Any, row: int, column: int, formula: str, style: Any, value: float | None
) -> None:
    """Write a formula with the result it has, for viewers that do not calculate."""
    known = 0.0 if value is None or not math.isfinite(value) else value
    sheet.write_formula(row, column, f"={formula}", style, known)


def put_row(sheet: Any, row: int, values: Iterable[object], styles_of: Mapping[type, Any]) -> None:
    """Write a row of mixed values, each by its type; None and "" leave the cell empty."""
    for column, value in enumerate(values):
        if isinstance(value, str):
            put_text(sheet, row, column, value, styles_of.get(str))
        elif isinstance(value, dt.date):
            put_date(sheet, row, column, value, styles_of[dt.date])
        elif isinstance(value, int | float):
            put_number(sheet, row, column, float(value), styles_of.get(float))


def letter(column: int) -> str:
    """Return a column's letter, counted from 0: 0 -> "A", 27 -> "AB"."""
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(65 + rest) + name
    return name
