"""The sheet of every figure: its key, its formula, its range, and what the pages print of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from divert.core.words import N_, Text
from divert.evidence.lines import CHARGED
from divert.evidence.plan import SummaryLine
from divert.figures.figure_sum import terms
from divert.workbook.cells import (
    Styles,
    put_date,
    put_formula,
    put_number,
    put_text,
)
from divert.workbook.formulas import Cells, Writer, name_of

HEADINGS = (
    ("set", N_("Figures of"), 10),
    ("figure", N_("Figure"), 46),
    ("key", N_("Figure path"), 40),
    ("from", N_("From"), 11),
    ("to", N_("To"), 11),
    ("value", N_("Value"), 15),
    ("unit", N_("Unit"), 11),
    ("low", N_("Low (90 % range)"), 13),
    ("high", N_("High (90 % range)"), 13),
    ("printed", N_("As printed"), 22),
    ("how", N_("How it is made"), 48),
)
VALUE = 5
VALUE_COLUMN, LOW, HIGH = "F", "H", "I"
_LETTER = {"from": "D", "to": "E", "value": "F"}

MADE = N_("Formula on the Ledger and Factors sheets. The range stands as a value: it comes from "
          "10,000 draws, which a sheet cannot repeat.")  # fmt: skip
MADE_NO_RANGE = N_("Formula on the Ledger and Factors sheets.")
COUNTED = N_("Stands as a value: counted or worked out when the files were read.")
_BALANCE = N_("Received less diverted, not claimed, removed and residue, kg (0: it balances)")
_CHARGED = N_("Removed and residue logged less what was charged to loads, kg (0: all of it)")
TOO_LONG = N_("Stands as a value: its formula would be longer than a sheet holds.")
_LONGEST = 8_000  # characters of a formula; spreadsheet programs stop at 8,192
SUMMED = N_("Formula on other figures of this sheet.")
SAID_BEFORE = N_("Stands as a value: as it was issued before.")


@dataclass(frozen=True, slots=True)
class Opening:
    """What stands above the figures: title and lines about the report."""

    title: str
    lines: tuple[str, ...]


def first_row(opening: Opening) -> int:
    """Return the first row of figures, counted from 0."""
    return len(opening.lines) + 8


def write_every_figure(
    sheet: Any, opening: Opening, lines: Sequence[SummaryLine], cells: Cells,
    sets: Sequence[str], look: Styles, language: str,
) -> None:  # fmt: skip
    """Write the opening, the two checks, and one row per figure."""
    put_text(sheet, 0, 0, opening.title, look.title)
    for row, text in enumerate(opening.lines, start=1):
        put_text(sheet, row, 0, text)
    first = first_row(opening)
    for place, (key, heading, width) in enumerate(HEADINGS):
        put_text(sheet, first - 2, place, Text(heading).say(language), look.heading)
        put_text(sheet, first - 1, place, key, look.key)
        sheet.set_column(place, place, width)
    at = {(line.set, line.path): row for row, line in enumerate(lines, start=first)}
    for row, line in enumerate(lines, start=first):
        _write_line(sheet, row, line, at, cells, look, language)
    _write_checks(sheet, len(opening.lines) + 2, at, sets, look, language)
    sheet.freeze_panes(first, 3)
    sheet.repeat_rows(first - 2, first - 1)


def _write_line(
    sheet: Any, row: int, line: SummaryLine, at: Mapping[tuple[str, str], int], cells: Cells,
    look: Styles, language: str,
) -> None:  # fmt: skip
    put_text(sheet, row, 0, line.set, look.text)
    put_text(sheet, row, 1, line.spoken, look.text)
    put_text(sheet, row, 2, line.path, look.text)
    how = SAID_BEFORE if line.set == "previous" else COUNTED
    summed = _sum_formula(line.sum_of, at) if line.sum_of else None
    if summed is not None:
        how = _put_made(sheet, row, summed, line.value, SUMMED, look)
    elif line.recipe is None:
        put_number(sheet, row, VALUE, line.value, look.number)
    else:
        put_date(sheet, row, 3, line.recipe.start, look.date)
        put_date(sheet, row, 4, line.recipe.end, look.date)
        write = Writer(
            cells, line.set, f"${_LETTER['from']}{row + 1}", f"${_LETTER['to']}{row + 1}",
            lambda path: f"${_LETTER['value']}${at[line.set, path] + 1}",
        )  # fmt: skip
        how = MADE if line.low is not None else MADE_NO_RANGE
        how = _put_made(sheet, row, write.write(line.recipe.node), line.value, how, look)
    put_text(sheet, row, 6, line.unit)
    for place, value in ((7, line.low), (8, line.high)):
        if value is not None:
            put_number(sheet, row, place, value, look.number)
    put_text(sheet, row, 9, line.printed, look.text)
    put_text(sheet, row, 10, Text(how).say(language))


def _put_made(sheet: Any, row: int, formula: str, value: float, how: str, look: Styles) -> str:
    """Write a figure by its formula, or as a value where that is too long; return which it is."""
    if len(formula) > _LONGEST:
        put_number(sheet, row, VALUE, value, look.number)
        return TOO_LONG
    put_formula(sheet, row, VALUE, formula, look.formula, value)
    return how


def _sum_formula(key: str, at: Mapping[tuple[str, str], int]) -> str | None:
    """Return a printed sum of figures over the cells they stand in, None where one has no cell."""
    parts = []
    for term in terms(key):
        top = _cell(term.of_set, term.path, at)
        bottom = "" if term.over is None else _cell(*term.over, at)
        if top is None or bottom is None:
            return None
        times = "" if term.times == 1 else f"{term.times!r}*"
        parts.append(f"{times}{top}{f'/{bottom}' if bottom else ''}")
    return "+".join(parts)


def _cell(of_set: str, path: str, at: Mapping[tuple[str, str], int]) -> str | None:
    if (of_set, path) in at:
        return f"${_LETTER['value']}${at[of_set, path] + 1}"
    name, _, end = path.rpartition(".")
    column = {"low": "H", "high": "I", "central": _LETTER["value"]}.get(end)
    row = at.get((of_set, name))
    return None if row is None or column is None else f"${column}${row + 1}"


def _write_checks(
    sheet: Any, row: int, at: Mapping[tuple[str, str], int], sets: Sequence[str], look: Styles,
    language: str,
) -> None:  # fmt: skip
    parts = ("diverted", "not_claimed", "removed", "residue")
    terms = []
    for name in sets:
        cells = [f"$F${at[name, f'mass.{p}'] + 1}" for p in ("received", *parts)
                 if (name, f"mass.{p}") in at]  # fmt: skip
        if len(cells) == len(parts) + 1:
            terms.append(f"ABS({cells[0]}-({'+'.join(cells[1:])}))")
    if terms:
        put_text(sheet, row, 1, Text(_BALANCE).say(language))
        put_formula(sheet, row, VALUE, f"ROUND(MAX({','.join(terms)}),6)", look.strong, 0.0)
    put_text(sheet, row + 1, 1, Text(_CHARGED).say(language))
    mass, kind = name_of("mass_kg"), name_of("kind")
    logged, charged = (
        "+".join(f'SUMIFS({mass},{kind},"{k}")' for k in kinds)
        for kinds in (("removed", "residue"), CHARGED)
    )
    put_formula(sheet, row + 1, VALUE, f"ROUND({logged}-({charged}),6)", look.strong, 0.0)
