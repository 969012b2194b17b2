"""The Ledger sheet: one line per entry, inputs as they are, the rest as formulas on the same line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, partial
from typing import Any

import numpy as np
import pandas as pd

from divert.core.words import N_, Text
from divert.evidence.columns import LedgerColumn
from divert.evidence.derived import Cases
from divert.evidence.expression import Expression, Leaf, formula
from divert.evidence.line_leaves import PROCESS, FactorOf, Of, OfLandfill, OfOrigin
from divert.evidence.spreading import pools_of
from divert.workbook.cells import (
    LEDGER,
    Styles,
    clean,
    day_number,
    letter,
    put_text,
)
from divert.workbook.formulas import Cells, name_of

TITLE_ROW, HEADING_ROW, KEY_ROW, FIRST_ROW = 0, 2, 3, 4  # counted from 0

ABOUT = Text(
    N_("One line per entry, then one per charge of removed and residue. White cells are inputs; "
       "shaded ones are formulas on them and on the Factors sheet. Masses in kg, volumes in m³.")
)  # fmt: skip


def write_ledger(
    workbook: Any, sheet: Any, derived: pd.DataFrame, columns: Sequence[LedgerColumn], cells: Cells,
    cases: Mapping[str, Cases], look: Styles, language: str,
) -> None:  # fmt: skip
    """Write the lines of evidence; ``derived`` holds the inputs and the results of the formulas.

    ``cases``: by column, which of its expressions each line takes (divert.evidence.derived).
    """
    put_text(sheet, TITLE_ROW, 0, LEDGER, look.title)
    put_text(sheet, TITLE_ROW + 1, 0, ABOUT.say(language))
    last = FIRST_ROW + max(len(derived), 1) - 1
    for place, column in enumerate(columns):
        put_text(sheet, HEADING_ROW, place, Text(column.heading).say(language), look.heading)
        put_text(sheet, KEY_ROW, place, column.key, look.key)
        sheet.set_column(place, place, column.width)
        span = f"'{LEDGER}'!${letter(place)}${FIRST_ROW + 1}:${letter(place)}${last + 1}"
        workbook.define_name(name_of(column.key), f"={span}")
    at = {column.key: letter(place) for place, column in enumerate(columns)}
    values: dict[Any, Any] = {name: _plain(column) for name, column in derived.items()}
    own = {place: cells.shares[pool, mine] for place, pool, mine in pools_of(derived)}
    lines = _Sheet(at, cells, values)
    none = np.full(len(derived), -1)
    for place, column in enumerate(columns):
        here = values[column.key]
        if column.kind == "text":
            cleaned = {text: clean(text) for text in set(here)}
            sheet.write_texts(FIRST_ROW, place, [cleaned[text] for text in here], look.text)
        elif column.kind == "date":
            sheet.write_numbers(FIRST_ROW, place, [day_number(day) for day in here], look.date)
        else:
            shared = own if column.key == "share" else {}
            made = _Formulas(column, cases.get(column.key, none), lines, shared)
            sheet.write_formulas(
                FIRST_ROW, place, made, look.formula, here, rest=column.kind == "number"
            )
    sheet.freeze_panes(FIRST_ROW, 5)
    sheet.repeat_rows(0, FIRST_ROW - 1)
    sheet.autofilter(KEY_ROW, 0, last, len(columns) - 1)


_ROW, _ORIGIN = "\0", "\1"  # in a formula of any line: its own row, and that of the line it is from


@dataclass(frozen=True)
class _Sheet:
    """Where the leaves of a line's formulas stand: the letter of each column, and other sheets' cells."""

    at: Mapping[str, str]
    cells: Cells
    values: Mapping[Any, Any]

    def cell(self, said: Mapping[str, Any], leaf: Leaf) -> str:
        """Return the cell of a leaf on any line whose other columns say what ``said`` holds."""
        match leaf:
            case Of(column):
                return f"{self.at[column]}{_ROW}"
            case OfOrigin(column):
                return f"{self.at[column]}{_ORIGIN}"
            case FactorOf(column):
                return self.cells.factor[leaf.key(said[column])]
            case OfLandfill(what):
                decay_class = "" if what == PROCESS else said["decay_class"]
                return self.cells.per_kg[int(said["landfill"]), decay_class, what]
        raise TypeError(f"no leaf of a line: {leaf!r}")


@cache
def _asked(node: Expression) -> tuple[str, ...]:
    """Return the columns whose contents settle which other cells an expression looks at."""
    found: list[str] = []

    def note(leaf: Leaf) -> str:
        match leaf:
            case FactorOf(column):
                found.append(column)
            case OfLandfill(what):
                found.extend(("landfill",) if what == PROCESS else ("landfill", "decay_class"))
        return ""

    formula(node, note)
    return tuple(dict.fromkeys(found))


def _plain(column: pd.Series[Any]) -> Any:
    """Return a column's values by place: floats as they lie, all else as Python has it."""
    if column.dtype == np.float64:
        return column.to_numpy()
    return column.astype(object).to_list()


@dataclass(frozen=True)
class _Formulas:
    """A column's formulas by the place of their line, made a stretch of lines at a time.

    Lines that take the same case and look at the same cells of other sheets have one formula but for
    its rows. ``own``: those of some lines that are not the column's.
    """

    column: LedgerColumn
    cases: Cases
    lines: _Sheet
    own: Mapping[int, str]
    made: dict[tuple[int, tuple[Any, ...]], list[str]] = field(default_factory=dict)

    def __getitem__(self, stretch: slice) -> Sequence[str]:
        start, stop, _ = stretch.indices(len(self.cases))
        out = [""] * (stop - start)
        case_of = self.cases[start:stop]
        for number, case in enumerate(self.column.cases):
            rows = np.flatnonzero(case_of == number).tolist()
            asked = _asked(case.gives) if rows else ()
            contents = [self.lines.values[name] for name in asked]
            for at in rows:
                said = tuple([values[start + at] for values in contents])
                out[at] = self._of(number, case.gives, asked, said, start + at)
        if self.own:
            out = [self.own.get(start + at, one) for at, one in enumerate(out)]
        return out

    def _of(
        self,
        number: int,
        gives: Expression,
        asked: Sequence[str],
        said: tuple[Any, ...],
        place: int,
    ) -> str:
        pieces = self.made.get((number, said))
        if pieces is None:
            known = dict(zip(asked, said, strict=True))
            pieces = formula(gives, partial(self.lines.cell, known)).split(_ROW)
            self.made[number, said] = pieces
        whole = str(FIRST_ROW + place + 1).join(pieces)
        if _ORIGIN in whole:
            from_line = int(self.lines.values["from_line"][place])
            whole = whole.replace(_ORIGIN, str(FIRST_ROW + from_line))
        return whole
