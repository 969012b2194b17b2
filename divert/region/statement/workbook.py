"""A region's statement as a workbook: the total, every yard, what was not read; centrals as sums."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Sequence
from typing import Any

from divert.core.mark import MARK
from divert.core.range import Range
from divert.core.words import N_, Text
from divert.region.result import RegionFigures, own_range
from divert.region.whole import MG_PER_KG

Cell = str | float | int | None


def region_workbook(figures: RegionFigures) -> bytes:
    """Return the workbook of a region's figures; masses in kg, emissions in kg CO2e."""
    import xlsxwriter

    def say(message: str) -> str:
        return Text(message).say(figures.language)

    out = io.BytesIO()
    day = figures.as_of
    with xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False}) as book:
        book.set_properties({"title": figures.region, "created": _midnight(day)})
        book.set_custom_property(MARK, "region")  # so that it is never read as a log
        bold = book.add_format({"bold": True})
        three = (say(N_("Central")), say(N_("Low")), say(N_("High")))
        _sheet(book, bold, say(N_("Total")), (say(N_("Figure")), *three, say(N_("Unit"))),
               _total(figures, say))  # fmt: skip
        heads: tuple[str, ...] = (
            say(N_("Folder")), say(N_("Yard")), say(N_("Group")), say(N_("Received")),
            say(N_("Diverted")), say(N_("Low")), say(N_("High")), say(N_("Entries used")),
            say(N_("Entries set aside")), say(N_("Files not read")),
        )  # fmt: skip
        yards = _sheet(book, bold, say(N_("Yards")), heads, _yards(figures))
        last = len(figures.yards)
        yards.write_string(last + 1, 1, say(N_("Total")), bold)
        for column in (3, 4, 7, 8, 9):
            letter = "ABCDEFGHIJ"[column]
            total = sum(row[column] for row in _yards(figures))  # type: ignore[misc]
            formula = f"=SUM({letter}2:{letter}{last + 1})" if last else "=0"
            yards.write_formula(last + 1, column, formula, bold, total)
        yards.write_number(last + 1, 5, figures.mass.diverted.low, bold)
        yards.write_number(last + 1, 6, figures.mass.diverted.high, bold)
        yards.write_string(
            last + 2, 1,
            say(N_("The range of the total is that of the sum; the yards' ranges do not add.")),
        )  # fmt: skip
        months = [
            (m.month, m.received.central, m.diverted.central, m.diverted.low, m.diverted.high,
             m.same_month_last_year.central if m.same_month_last_year else None)
            for m in figures.by_month
        ]  # fmt: skip
        heads = (
            say(N_("Month")), say(N_("Received")), say(N_("Diverted")), say(N_("Low")),
            say(N_("High")), say(N_("Diverted a year before")),
        )  # fmt: skip
        _sheet(book, bold, say(N_("Months")), heads, months)
        failed = [
            (one.folder, one.group, one.sentence.say(figures.language)) for one in figures.failed
        ]
        heads = (say(N_("Folder")), say(N_("Group")), say(N_("Why it is not in these figures")))
        _sheet(book, bold, say(N_("Not read")), heads, failed)
    return out.getvalue()


def _midnight(day: dt.date) -> dt.datetime:
    return dt.datetime(day.year, day.month, day.day)


def _total(figures: RegionFigures, say: Any) -> list[Sequence[Cell]]:
    mass, gas = figures.mass, figures.emissions
    rows: list[tuple[str, Range, str]] = [
        (N_("Received"), mass.received, "kg"), (N_("Diverted"), mass.diverted, "kg"),
        (N_("Not claimed"), mass.not_claimed, "kg"), (N_("Removed"), mass.removed, "kg"),
        (N_("Residue"), mass.residue, "kg"),
        (N_("Landfill methane avoided in 100 years"), gas.landfill_avoided, "kg CO2e"),
        (N_("Landfill methane avoided in 20 years"), figures.emissions_within["20"], "kg CO2e"),
        (N_("Composting"), gas.process, "kg CO2e"), (N_("Fuel"), gas.fuel, "kg CO2e"),
        (N_("Net avoided"), gas.net_avoided, "kg CO2e"),
    ]  # fmt: skip
    return [(say(label), r.central, r.low, r.high, unit) for label, r, unit in rows]


def _yards(figures: RegionFigures) -> list[Sequence[Cell]]:
    return [
        (
            y.folder, y.name, y.group, y.received / MG_PER_KG, own_range(y).central,
            own_range(y).low, own_range(y).high, y.used, y.set_aside, y.unread,
        )
        for y in figures.yards
    ]  # fmt: skip


def _sheet(
    book: Any, bold: Any, name: str, heads: Sequence[str], rows: Sequence[Sequence[Cell]]
) -> Any:
    sheet = book.add_worksheet(name[:31])
    for column, head in enumerate(heads):
        sheet.write_string(0, column, head, bold)
    for number, row in enumerate(rows, start=1):
        for column, cell in enumerate(row):
            if isinstance(cell, str):
                sheet.write_string(number, column, cell)
            elif cell is not None:
                sheet.write_number(number, column, cell)
    sheet.set_column(0, 2, 24)
    sheet.set_column(3, len(heads), 14)
    sheet.freeze_panes(1, 0)
    return sheet
