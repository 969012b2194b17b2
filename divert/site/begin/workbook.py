"""The starter workbook: sheets to type into or to print for a clipboard."""

from __future__ import annotations

import datetime as dt
from io import BytesIO
from typing import TYPE_CHECKING, Any

from divert.core.words import N_, Text
from divert.site.begin.sheets import SheetPlan, StarterColumn, plans
from divert.site.model import Site

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

LAST_ROW = 2000  # lists and checks reach so far down
PRINTED_ROWS = 50  # two pages of a clipboard copy
PAGE_WIDTH = 136  # characters across a printed page, so that every sheet prints at one scale
ROW_HEIGHT = 25  # points; printed at that scale, a line high enough to write on by hand
LETTER, A4 = 1, 9  # the spreadsheet's own numbers for paper
LETTER_COUNTRIES = ("US", "CA", "MX", "PH", "CL", "CO", "VE")


def starter_workbook(site: Site, today: dt.date) -> bytes:
    """Return the bytes of the workbook; the same site and day give the same bytes.

    It is for entering data, so it carries no mark and is read like any other sheet.
    """
    import xlsxwriter

    packed = BytesIO()
    book = xlsxwriter.Workbook(packed, {"in_memory": True, "strings_to_formulas": False})
    book.set_properties(
        {"title": site.name, "created": dt.datetime(today.year, today.month, today.day)}
    )
    sheets = plans(site)
    _instructions(book, site, sheets)
    lists = _Lists(site)
    for plan in sheets:
        _sheet(book, site, plan, lists)
    lists.write(book, site)
    book.close()
    return packed.getvalue()


class _Lists:
    """Gathers the drop-down lists: long ones need a sheet of their own to stand on."""

    def __init__(self, site: Site) -> None:
        self._name = Text(N_("Lists")).say(site.language)
        self._columns: dict[tuple[str, ...], str] = {}

    def reference(self, heading: str, choices: tuple[str, ...]) -> str:
        """Return the range in which the choices will stand."""
        if choices not in self._columns:
            self._columns[choices] = heading
        letter = chr(ord("A") + list(self._columns).index(choices))
        return f"='{self._name}'!${letter}$2:${letter}${len(choices) + 1}"

    def write(self, book: Workbook, site: Site) -> None:
        """Add the sheet with every list that was asked for."""
        sheet = book.add_worksheet(self._name)
        _paper(sheet, site)
        bold = book.add_format({"bold": True})
        for column, (choices, heading) in enumerate(self._columns.items()):
            sheet.write_string(0, column, heading, bold)
            sheet.set_column(column, column, 28)
            for row, choice in enumerate(choices, start=1):
                sheet.write_string(row, column, choice)


def _instructions(book: Workbook, site: Site, sheets: tuple[SheetPlan, ...]) -> None:
    sheet = book.add_worksheet(Text(N_("Instructions")).say(site.language))
    sheet.hide_gridlines(2)
    sheet.set_column(0, 0, 100)
    plain = book.add_format({"text_wrap": True, "valign": "top"})
    bold = book.add_format({"bold": True})
    sheet.set_default_row(18)
    lines: list[tuple[str, Any]] = [(site.name, book.add_format({"bold": True, "font_size": 14}))]
    for text in (
        Text(N_("Write one row for each load, on the day it comes. Leave a cell empty rather than "
                "guess; blank is not zero.")),
        Text(N_("The lists come from site.toml. A name that is missing there can still be typed; "
                "add it to site.toml later.")),
        Text(N_("For new lists: take this file away and run divert begin again.")),
        Text(N_("For a clipboard: print a sheet while it is empty.")),
        Text(N_("If the site was closed, write the date and, as the source, the word closed.")),
    ):  # fmt: skip
        lines.append((text.say(site.language), plain))
    for plan in sheets:
        lines.append(("", plain))
        lines.append((plan.name.say(site.language), bold))
        lines += [(text.say(site.language), plain) for text in plan.says]
    for row, (line, form) in enumerate(lines):
        sheet.write_string(row, 0, line, form)
    _paper(sheet, site)


def _sheet(book: Workbook, site: Site, plan: SheetPlan, lists: _Lists) -> None:
    name = plan.name.say(site.language)
    sheet = book.add_worksheet(name)
    heading = book.add_format({"bold": True, "text_wrap": True, "bottom": 2, "valign": "bottom"})
    widths = _widths(plan, site.language)
    for number, (column, width) in enumerate(zip(plan.columns, widths, strict=True)):
        words = column.heading.say(site.language)
        sheet.write_string(0, number, words, heading)
        sheet.set_column(number, number, width, book.add_format(_format(column, site)))
        rule = _rule(column, site, words, lists)
        if rule:
            sheet.data_validation(1, number, LAST_ROW, number, rule)
    sheet.set_row(0, 34)
    sheet.freeze_panes(1, 0)
    sheet.set_default_row(ROW_HEIGHT)
    _paper(sheet, site)
    sheet.repeat_rows(0)
    sheet.hide_gridlines(0)
    sheet.print_area(0, 0, PRINTED_ROWS, len(plan.columns) - 1)
    sheet.set_header(f"&L{_escaped(site.name)}&R{_escaped(name)}")
    sheet.set_footer("&R&P / &N")


def _widths(plan: SheetPlan, language: str) -> list[float]:
    """Return the columns' widths; the last one, for notes, takes what is left of the page."""
    widths = [column.wide_enough(language) for column in plan.columns]
    widths[-1] = max(widths[-1], PAGE_WIDTH - sum(widths[:-1]))
    return widths


def _paper(sheet: Worksheet, site: Site) -> None:
    sheet.set_landscape()
    sheet.set_paper(LETTER if site.country in LETTER_COUNTRIES else A4)
    sheet.set_margins(left=0.5, right=0.5, top=0.75, bottom=0.6)
    sheet.fit_to_pages(1, 0)


def _escaped(text: str) -> str:
    """Return a text for a page's head, where & begins a code; such a line holds 255 characters."""
    return text[:90].replace("&", "&&")


def _format(column: StarterColumn, site: Site) -> dict[str, Any]:
    formats = {
        "date": {"num_format": "m/d/yyyy" if site.country == "US" else "yyyy-mm-dd"},
        "fills": {"num_format": "0%"},
        "number": {"num_format": "General"},
    }
    return formats.get(column.takes, {})


def _rule(column: StarterColumn, site: Site, heading: str, lists: _Lists) -> dict[str, Any] | None:
    language = site.language
    match column.takes:
        case "date":
            return {
                "validate": "date",
                "criteria": "between",
                "minimum": dt.datetime(site.started.year, site.started.month, site.started.day),
                "maximum": "=TODAY()+1",
                "error_title": heading[:32],
                "error_message": Text(
                    N_("Write a date from the day the site started up to today.")
                ).say(language)[:255],
            }
        case "number" | "count":
            return {
                "validate": "decimal",
                "criteria": ">=",
                "value": 0,
                "error_title": heading[:32],
                "error_message": Text(N_("Write a number of zero or more, without its unit.")).say(
                    language
                )[:255],
            }
        case "fills":
            return {
                "validate": "decimal",
                "criteria": "between",
                "minimum": 0,
                "maximum": 1.5,
                "error_title": heading[:32],
                "input_message": Text(N_("75% is three quarters full; above 100% is heaped.")).say(
                    language
                )[:255],
                "error_message": Text(N_("Write how full it was, from 0% to 150%.")).say(language)[
                    :255
                ],
            }
        case "names" if column.choices:
            return {
                "validate": "list",
                "source": lists.reference(heading, column.choices),
                "error_type": "warning",
                "error_title": heading[:32],
                "error_message": Text(
                    N_("This name is not in site.toml. Check the spelling, or add it there.")
                ).say(language)[:255],
            }
    return None
