"""The Factors sheet: numbers with their sources, then what formulas make of them per kilogram."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import asdict, fields
from typing import Any

from divert.core.words import N_, Text
from divert.evidence.book import Book
from divert.evidence.expression import Leaf, formula
from divert.evidence.factor_rows import FactorRow, Numbers
from divert.evidence.line_leaves import PROCESS
from divert.evidence.per_kg import (
    PER_KG,
    PROCESS_PER_KG,
    Key,
    LandfillClass,
    PerKg,
    Process,
    Result,
    per_kg,
    process_per_kg,
)
from divert.evidence.recipe import Recipe
from divert.figures.numbers.factor_words import ends_said, standing_said, unit_said
from divert.workbook.cells import (
    FACTORS,
    Styles,
    letter,
    put_date,
    put_formula,
    put_number,
    put_row,
    put_text,
)
from divert.workbook.formulas import Cells, Writer, name_of

# A row whose first cell is one of these opens a table; the row below it holds the column keys.
NUMBERS, CLASSES, PROCESSES, DEPOSITS = "[numbers]", "[classes]", "[processes]", "[deposits]"
SHARES = "[shares]"
VISITS, HOT_DAYS = "[visits]", "[hot days]"
NUMBER_KEYS = ("key", "value", "low", "high", "unit", "source", "standing", "as_published")
CLASS_KEYS = tuple(f.name for f in fields(LandfillClass))
PROCESS_KEYS = tuple(f.name for f in fields(Process))
PER_KG_KEYS = tuple(f.name for f in fields(PerKg))
_VALUE = "B"

_ABOUT = {
    NUMBERS: N_("Numbers in use, each with where it stands written. Standing: read in the document; "
                "quoted by another; from memory; or proxy, the nearest published thing."),
    CLASSES: N_("Landfill methane per wet kg, by landfill settings and decay class. "
                "Potential = DOC x DOCf x MCF x F x 16/12, DOCf the lower of the two; released = "
                "potential x (1 - gas captured) x (1 - oxidation); within H years = released x "
                "(1 - exp(-k H)) x warming potential."),
    PROCESSES: N_("Composting per wet kg taken in: methane and nitrous oxide by their warming "
                  "potentials."),
    SHARES: N_("Removed and residue that came with no load, shared out: kg is what was received less "
               "removed between the two days, share is kg over all kg of the same pool."),
    VISITS: N_("Who brought material, source by source and month by month: loads from the day in “from”; "
               "days with a load in the month, the first and last of them; the last before; loads after."),
    HOT_DAYS: N_("The days of the process log with a temperature: the lowest of the day, and for how many "
                 "days in a row it has been 55 °C or more. Records are no proof of pathogen reduction."),
    DEPOSITS: N_("What was bound for the landfill, by the year it would have been buried."),
}  # fmt: skip


def addresses(numbers: Numbers) -> tuple[dict[str, str], dict[tuple[int, str, str], str], int]:
    """Return where each number and each per-kg result will stand, and the first free row."""
    row = 5  # 1-based: title, blank, marker, about, keys
    factor = {}
    for number, one in enumerate(numbers.rows):
        factor[one.key] = f"'{FACTORS}'!${_VALUE}${row + number + 1}"
    row += len(numbers.rows) + 1
    results: dict[tuple[int, str, str], str] = {}
    row += 3
    for number, one_class in enumerate(numbers.classes):
        for place, what in enumerate(PER_KG_KEYS):
            cell = f"'{FACTORS}'!${_class_letter(place)}${row + number + 1}"
            results[one_class.landfill, one_class.decay_class, what] = cell
    row += len(numbers.classes) + 1
    row += 3
    for number, process in enumerate(numbers.processes):
        results[process.landfill, "", PROCESS] = f"'{FACTORS}'!$F${row + number + 1}"
    return factor, results, row + len(numbers.processes) + 1


def _class_letter(place: int) -> str:
    return letter(len(CLASS_KEYS) + place)


def write_factors(sheet: Any, numbers: Numbers, cells: Cells, look: Styles, language: str) -> None:
    """Write the tables of numbers, classes and processes where :func:`addresses` says."""
    put_text(sheet, 0, 0, FACTORS, look.title)
    sheet.set_column(0, 0, 34)
    sheet.set_column(1, 4, 12)
    sheet.set_column(5, 5, 60)
    sheet.set_column(6, 14, 20)
    row = open_table(sheet, 2, NUMBERS, NUMBER_KEYS, look, language)
    for one in numbers.rows:
        _number(sheet, row, one, look, language)
        row += 1
    values = numbers.values
    row = open_table(sheet, row + 1, CLASSES, (*CLASS_KEYS, *PER_KG_KEYS), look, language)
    for one_class in numbers.classes:
        put_row(sheet, row, asdict(one_class).values(), {str: look.text})
        formulas = _class_formulas(one_class, cells.factor, row + 1)
        made = asdict(per_kg(one_class, values))
        for place, key in enumerate(PER_KG_KEYS, start=len(CLASS_KEYS)):
            put_formula(sheet, row, place, formulas[key], look.formula, made[key])
        row += 1
    row = open_table(sheet, row + 1, PROCESSES, (*PROCESS_KEYS, "per_kg"), look, language)
    for process in numbers.processes:
        put_row(sheet, row, asdict(process).values(), {str: look.text})
        made_of = _process_formula(process, cells.factor)
        put_formula(sheet, row, 5, made_of, look.formula, process_per_kg(process, values))
        row += 1


def open_table(
    sheet: Any, row: int, marker: str, keys: Sequence[str], look: Styles, language: str
) -> int:
    """Write a table's marker, its explanation and its column keys; return its first row."""
    put_text(sheet, row, 0, marker, look.key)
    put_text(sheet, row + 1, 0, Text(_ABOUT[marker]).say(language))
    for place, key in enumerate(keys):
        put_text(sheet, row + 2, place, key, look.heading)
    return row + 3


def _number(sheet: Any, row: int, one: FactorRow, look: Styles, language: str) -> None:
    put_text(sheet, row, 0, one.key, look.text)
    if one.measured:
        taught = f'{name_of("teaches")},"{one.key}"'
        formula = f"SUMIFS({name_of('net_kg')},{taught})/SUMIFS({name_of('volume_m3')},{taught})"
        put_formula(sheet, row, 1, formula, look.formula, one.value)
    else:
        put_number(sheet, row, 1, one.value)
    put_number(sheet, row, 2, one.low)
    put_number(sheet, row, 3, one.high)
    said = (
        unit_said(one.unit, language),
        ends_said(one.source, language),
        standing_said(one.standing, language),
        ends_said(one.as_published, language),
    )
    for place, text in enumerate(said, start=4):
        put_text(sheet, row, place, text, look.text)


def _class_formulas(one: LandfillClass, factor: Mapping[str, str], row: int) -> dict[str, str]:
    results = {key: f"${_class_letter(place)}{row}" for place, key in enumerate(PER_KG_KEYS)}

    def at(leaf: Leaf) -> str:
        if isinstance(leaf, Result):
            return results[leaf.name]
        assert isinstance(leaf, Key)
        return factor[getattr(one, leaf.name)]

    return {key: formula(expression, at) for key, expression in PER_KG.items()}


def _process_formula(one: Process, factor: Mapping[str, str]) -> str:
    def at(leaf: Leaf) -> str:
        assert isinstance(leaf, Key)
        return factor[getattr(one, leaf.name)]

    return formula(PROCESS_PER_KG, at)


def write_deposits(
    sheet: Any, first_row: int, books: Mapping[str, tuple[Recipe, Book]], cells: Cells,
    look: Styles, language: str,
) -> dict[str, tuple[str, str, str, str]]:  # fmt: skip
    """Write each set's deposits by year and class; return their columns (year, kg, released, k)."""
    keys = ("set", "year", "landfill", "decay_class", "start", "end", "kg", "released_ch4", "rate")
    row = open_table(sheet, first_row, DEPOSITS, keys, look, language)
    ranges = {}
    for name, (recipe, book) in books.items():
        begun = row
        for year, one, kg in book.deposits(recipe):
            start = max(recipe.start, dt.date(year, 1, 1))
            end = min(recipe.end, dt.date(year, 12, 31))
            put_text(sheet, row, 0, name, look.text)
            put_row(sheet, row, ("", year, one.landfill, one.decay_class), {str: look.text})
            put_date(sheet, row, 4, start, look.date)
            put_date(sheet, row, 5, end, look.date)
            write = Writer(cells, name, f"$E{row + 1}", f"$F{row + 1}", lambda _path: "0")
            where = (("before", "landfill"), ("decay_class", one.decay_class))
            formula = write.total("diverted", where, ("landfill", one.landfill))
            put_formula(sheet, row, 6, formula, look.formula, kg)
            per = book.per_kg(one)
            for place, what in ((7, "released_ch4"), (8, "rate")):
                cell = cells.per_kg[one.landfill, one.decay_class, what]
                put_formula(sheet, row, place, cell, look.formula, getattr(per, what))
            row += 1
        if row > begun:
            year_, kg_, released, k = (
                f"'{FACTORS}'!${c}${begun + 1}:${c}${row}" for c in ("B", "G", "H", "I")
            )
            ranges[name] = (year_, kg_, released, k)
    return ranges
