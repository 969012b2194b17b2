"""What a process log measured: degrees, percent of moisture, and whether a pile was turned."""

from __future__ import annotations

import re

import numpy as np
import numpy.typing as npt

from divert.ingest.amounts.column import BLANK, NOTHING, PROBLEM, VALUE, read_amounts
from divert.ingest.arrays import Floats
from divert.ingest.cells.number import even, take_number
from divert.ingest.cells.scan import Trade
from divert.ingest.coded import Coded, constant
from divert.ingest.grid import Cell
from divert.ingest.lexicon import bare, words
from divert.ingest.tables.columns import Column
from divert.ingest.tables.process_heads import measure_of

MOISTURE, TURNED = "%", "turned"  # the units in which the ledger holds them
_AFTER = re.compile(r"\s*(?:%|percent|pct|pour cent)?\s*")

Read = tuple[Floats, npt.NDArray[np.int8], Coded]  # number, state and unit of each row


def read_measure(column: Column, trade: Trade) -> Read | None:
    """Return a column of moisture or turnings; None of any other, whose cells are plain numbers.

    Moisture in percent of wet mass: a column with nothing above 1 is taken for shares. A turning
    counts one, or as many as the cell says.
    """
    what = measure_of(column.head.text)
    if what not in ("moisture", "turned"):
        return None
    read = _percent if what == "moisture" else _turnings
    numbers = np.array([*(read(cell) for cell in column.cells.cells), np.nan])
    if what == "moisture" and np.nanmax(numbers, initial=0.0) <= 1:
        numbers = numbers * 100
    row = numbers[column.cells.codes]
    state = read_amounts(column.cells, trade).state.copy()
    state[~np.isnan(row)] = VALUE
    state[(state == VALUE) & np.isnan(row)] = PROBLEM
    state[(row == 0) & (state == VALUE)] = NOTHING
    state[column.cells.codes < 0] = BLANK
    unit = MOISTURE if what == "moisture" else TURNED
    return row, state, constant(unit, len(row))


def _percent(cell: Cell) -> float:
    if isinstance(cell, bool) or not isinstance(cell, int | float | str):
        return float("nan")
    if not isinstance(cell, str):
        return float(cell)
    text = bare(even(cell))
    try:
        taken = take_number(text)
    except ValueError:
        return float("nan")
    if taken is None or not _AFTER.fullmatch(text[taken[1] :]):
        return float("nan")
    return taken[0]


def _turnings(cell: Cell) -> float:
    listed = words("process")["turned"]
    text = bare(cell) if isinstance(cell, str) else ""
    if isinstance(cell, bool):
        return float(cell)
    if isinstance(cell, int | float):
        return float(cell)
    if text in {bare(word) for word in listed["yes"]}:
        return 1.0
    if text in {bare(word) for word in listed["no"]}:
        return 0.0
    return _percent(cell)
