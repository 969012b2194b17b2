"""The Summary sheet: months, materials, sources and methane in the report's own unit, on few pages.

Each number is a formula on the sheet of every figure, so that it can be followed to its loads.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from divert.core.words import N_, Text
from divert.evidence.plan import SummaryLine
from divert.figures.numbers.scales import FACTOR, Units, suited
from divert.figures.numbers.unit_words import long_name
from divert.workbook.cells import EVERY_FIGURE, Styles, put_formula, put_text
from divert.workbook.keys_sheet import HIGH, LOW, VALUE_COLUMN, Opening

PAGES = 3  # that it prints on at most, after the cover
_MOST_ROWS = 30  # of one table; what is more stands on the sheet of every figure
_MOST_YEARS = 40
_NONE = "–"
_HEADS = (
    N_("Of the whole"), N_("Received"), N_("Diverted"), N_("Low (90 % range)"), N_("High (90 % range)"),
)  # fmt: skip
_WIDTHS = (46, 16, 16, 16, 16, 4, 12, 20)
_YEAR, _METHANE = 6, 7  # columns


@dataclass(frozen=True, slots=True)
class Figured:
    """The lines of a report's figures by set and path, and the row of each on the sheet of them."""

    lines: Mapping[tuple[str, str], SummaryLine]
    rows: Mapping[tuple[str, str], int]


def figured(
    lines: Sequence[SummaryLine], rows: Mapping[tuple[str, str], int]
) -> Figured:  # fmt: skip
    """Return lines and rows by set and path."""
    return Figured({(line.set, line.path): line for line in lines}, rows)


def write_summary(
    sheet: Any, opening: Opening, of: Figured, sets: Mapping[str, Mapping[str, Any]], units: Units,
    look: Styles, language: str,
) -> None:  # fmt: skip
    """Write the tables under one heading that is repeated on every page."""

    def say(message: str, **values: object) -> str:
        return Text(message, values).say(language)

    name = "total" if "total" in sets else "period"
    figures = sets[name]
    root, own = ("supplied.", figures["supplied"]) if figures.get("supplied") else ("", figures)
    unit = suited("mass", float(own["mass"]["received"]["central"]), units).unit
    for place, width in enumerate(_WIDTHS):
        sheet.set_column(place, place, width)
    put_text(sheet, 0, 0, opening.title, look.title)
    for row, text in enumerate(opening.lines, start=1):
        put_text(sheet, row, 0, text)
    row = len(opening.lines) + 1
    put_text(sheet, row, 0, say(N_("Masses in {unit}. Each number is a formula on the sheet “{sheet}”."),
                                unit=long_name(unit, False, language), sheet=EVERY_FIGURE))  # fmt: skip
    if name == "total":
        row += 1
        first, last = (dt.date.fromisoformat(figures["period"][end]) for end in ("start", "end"))
        put_text(sheet, row, 0, say(N_("All of it from {start} to {end}."), start=first, end=last))
    head = row + 2
    sheet.set_row(head, 30)  # two lines of heading
    for place, message in enumerate(_HEADS):
        put_text(sheet, head, place, say(message), look.heading)
    put_text(sheet, head, _YEAR, say(N_("Year")), look.heading)
    put_text(sheet, head, _METHANE, say(N_("Methane kept from the air, kg")), look.heading)
    row = head + 1
    for title, table in _tables(own, root, language):
        if not table:
            continue
        put_text(sheet, row, 0, say(title), look.bold)
        row += 1
        for label, path in table[:_MOST_ROWS]:
            put_text(sheet, row, 0, label, look.text)
            _put_masses(sheet, row, of, (name, path), FACTOR[unit], look)
            row += 1
        if len(table) > _MOST_ROWS:
            more = len(table) - _MOST_ROWS
            put_text(
                sheet, row, 0, say(N_("and {count} more, on the sheet of every figure"), count=more)
            )
            row += 1
        row += 1
    _put_methane(sheet, head + 1, of, name, figures, look, say)
    sheet.freeze_panes(head + 1, 1)
    sheet.repeat_rows(head)


Rows = list[tuple[str, str]]  # what a row is called, and the path of its figures


def _tables(own: Mapping[str, Any], root: str, language: str) -> list[tuple[str, Rows]]:
    months = [
        (_month(m["month"], language), f"{root}by_month[{i}]")
        for i, m in enumerate(own["by_month"])
    ]
    years = [
        (str(s["label"]), f"by_year[{i}]") for i, s in enumerate(own.get("by_year") or ()) if s
    ]
    return [
        (N_("In all"), [(Text(N_("Everything")).say(language), f"{root}mass")]),
        (N_("By month"), months if len(months) <= _MOST_ROWS else []),
        (N_("By reporting year, since the start"), [] if root else years),
        (N_("By material, largest first"), _by_name(own, "material", root)),
        (N_("By source, largest first"), _by_name(own, "source", root)),
    ]  # fmt: skip


def _by_name(own: Mapping[str, Any], kind: str, root: str) -> Rows:
    parts = [(i, p) for i, p in enumerate(own.get(f"by_{kind}") or ()) if p]
    parts.sort(key=lambda item: -float(item[1]["received"]["central"]))
    return [(str(p[kind]), f"{root}by_{kind}[{i}]") for i, p in parts]


def _month(month: str, language: str) -> str:
    from babel.dates import format_skeleton

    return str(format_skeleton("yMMMM", dt.date.fromisoformat(f"{month}-01"), locale=language))


def _put_masses(
    sheet: Any, row: int, of: Figured, where: tuple[str, str], factor: float, look: Styles
) -> None:
    name, path = where
    received, diverted = (name, f"{path}.received"), (name, f"{path}.diverted")
    for place, key, column in (
        (1, received, VALUE_COLUMN), (2, diverted, VALUE_COLUMN), (3, diverted, LOW), (4, diverted, HIGH),
    ):  # fmt: skip
        line = of.lines.get(key)
        value = None
        if line is not None:
            value = {VALUE_COLUMN: line.value, LOW: line.low, HIGH: line.high}[column]
        if value is None or key not in of.rows:
            put_text(sheet, row, place, _NONE, look.dash)
            continue
        formula = f"'{EVERY_FIGURE}'!${column}${of.rows[key] + 1}/{factor!r}"
        put_formula(sheet, row, place, formula, look.formula, value / factor)


def _put_methane(
    sheet: Any, row: int, of: Figured, name: str, figures: Mapping[str, Any], look: Styles, say: Any
) -> None:
    years = [y for y in figures.get("methane_by_year") or () if y]
    for i, year in enumerate(years[:_MOST_YEARS]):
        key = (name, f"methane_by_year[{i}].kg_ch4")
        if key not in of.rows:
            continue
        put_text(sheet, row, _YEAR, str(year["year"]), look.text)
        formula = f"'{EVERY_FIGURE}'!${VALUE_COLUMN}${of.rows[key] + 1}"
        put_formula(sheet, row, _METHANE, formula, look.formula, of.lines[key].value)
        row += 1
    if len(years) > _MOST_YEARS:
        put_text(sheet, row, _YEAR, say(N_("later: sheet of every figure")))
