"""Columns of quantities as arrays: each distinct cell is read once, then spread over the rows."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, fields

import numpy as np

from divert.ingest.arrays import Bools, Floats, Ints, Objects, blank_numbers, blank_texts, no_rows
from divert.ingest.cells import mark
from divert.ingest.cells.number import shows_decimal_comma, shows_decimal_point
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.quantity import read_cell
from divert.ingest.cells.quantity_value import Quantity
from divert.ingest.cells.scan import Trade
from divert.ingest.grid import Cell
from divert.ingest.sheet import Distinct
from divert.ingest.work import spend

_PER_TEXT = 100  # work to read an amount in words
BLANK, VALUE, NOTHING, CLOSED, UNKNOWN, DITTO, PROBLEM = range(7)
MARKS = {"nothing": NOTHING, "closed": CLOSED, "unknown": UNKNOWN, "ditto": DITTO}
PROBLEMS = (
    "",
    "quantity unreadable",
    "unit unknown",
    "net mass zero or less",
    "no tare",
    "no scale",
    "weights disagree",
    "two weights",
    "two separators",
    "split number",
)


@dataclass
class Amounts:
    """What a column of quantities says, row by row.

    ``state``: BLANK, VALUE, NOTHING and so on; ``problem`` a place in PROBLEMS; ``several`` the rows
    whose cell names more than one quantity; ``says`` which of the text fields say anything at all.
    """

    number: Floats
    count: Floats
    fill: Floats
    volume_m3: Floats
    mass_kg: Floats
    container: Objects
    note: Objects
    asked: Objects
    unit: Objects
    state: Ints
    problem: Ints
    gross: Bools
    each: Bools
    loose: Bools
    several: dict[int, tuple[Quantity, ...]] = field(default_factory=dict)
    says: frozenset[str] = frozenset()

    def spread(self, cells: Distinct) -> Amounts:
        """Return the amounts of every row from those of the distinct cells; blanks last."""
        out = {}
        says = set()
        rows = len(cells.codes)
        for one in fields(self):
            value = getattr(self, one.name)
            if not isinstance(value, np.ndarray):
                continue
            if value.dtype == object:
                if not any(value):
                    out[one.name] = np.broadcast_to(np.array("", dtype=object), (rows,))
                    continue
                says.add(one.name)
            out[one.name] = value[cells.codes]
        several: dict[int, tuple[Quantity, ...]] = {}
        for code, parts in self.several.items():
            several |= {int(row): parts for row in np.flatnonzero(cells.codes == code)}
        return Amounts(**out, several=several, says=frozenset(says))


def empty(rows: int) -> Amounts:
    """Return amounts that say nothing."""
    number, count, fill, volume, mass = (blank_numbers(rows) for _ in range(5))
    container, note, asked, unit = (blank_texts(rows) for _ in range(4))
    state, problem = (np.zeros(rows, dtype=np.int8) for _ in range(2))
    gross, each, loose = (no_rows(rows) for _ in range(3))
    return Amounts(
        number, count, fill, volume, mass, container, note, asked, unit,
        state, problem, gross, each, loose,
    )  # fmt: skip


def uses_decimal_comma(cells: Distinct, default: bool) -> bool:
    """Return whether a column writes decimals with a comma, by its own clearest cells."""
    texts = [c for c in cells.cells if isinstance(c, str)]
    commas = sum(shows_decimal_comma(t) for t in texts)
    points = sum(shows_decimal_point(t) for t in texts)
    if commas and not points:
        return True
    return default and not (points and not commas)


def separators_clash(cells: Iterable[object]) -> bool:
    """Return whether some texts can only be meant with a decimal comma, and others with a point."""
    texts = [c for c in cells if isinstance(c, str)]
    return any(map(shows_decimal_comma, texts)) and any(map(shows_decimal_point, texts))


_ONE_SEPARATOR = re.compile(r"(?<![\d.,])[1-9]\d{0,2}[.,]\d{3}(?![\d.,])")


def read_amounts(cells: Distinct, trade: Trade, clash: bool = False) -> Amounts:
    """Return what a column of quantities says.

    ``clash``: its table parts decimals both ways, so that 1.250 could be either and is not read.
    """
    out = empty(len(cells.cells) + 1)  # the last stands for blank: code -1 finds it
    plain = np.fromiter(
        (type(c) is float or type(c) is int for c in cells.cells),
        dtype=bool,
        count=len(cells.cells),
    )
    if plain.any():
        out.number[:-1][plain] = [c for c in cells.cells if type(c) is float or type(c) is int]
        out.state[:-1][plain] = VALUE
    for place in np.flatnonzero(~plain):
        cell = cells.cells[place]
        if clash and isinstance(cell, str) and _ONE_SEPARATOR.search(cell):
            out.state[place], out.problem[place] = PROBLEM, PROBLEMS.index("two separators")
            continue
        _put(out, int(place), cell, trade)
    return out.spread(cells)


def _put(out: Amounts, place: int, cell: Cell, trade: Trade) -> None:
    if isinstance(cell, str):
        spend(min(10 * len(cell), _PER_TEXT))
        marked = mark.read_start(cell)
        if marked in MARKS:
            out.state[place] = MARKS[marked]
            return
        if marked in ("rejected", "void"):
            out.state[place], out.note[place] = UNKNOWN, cell
            return
    read = read_cell(cell, trade)
    if isinstance(read, Problem):
        out.state[place], out.problem[place] = PROBLEM, PROBLEMS.index(read.code)
        return
    out.state[place] = VALUE
    if len(read) > 1:
        out.several[place] = read
    one = read[0]
    for name in ("number", "count", "fill", "volume_m3", "mass_kg"):
        value = getattr(one, name)
        if value is not None:
            getattr(out, name)[place] = value
    out.container[place], out.note[place], out.unit[place] = one.container, one.note, one.unit
    out.gross[place], out.each[place], out.loose[place] = one.gross, one.each, one.loose
    out.asked[place] = one.asked[0] if one.asked else ""
