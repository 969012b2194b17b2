"""A 'how full' column, row by row."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from divert.ingest.amounts.column import BLANK, MARKS, NOTHING, PROBLEM, VALUE
from divert.ingest.amounts.fill_scale import as_number, parts_of, unknown_scale
from divert.ingest.arrays import Floats, Ints, blank_numbers
from divert.ingest.cells import fill as fill_cell
from divert.ingest.cells import mark
from divert.ingest.cells.problem import Problem
from divert.ingest.sheet import Distinct


@dataclass
class Fills:
    """How full, row by row; ``state`` as in Amounts."""

    fill: Floats
    state: Ints
    untold: bool = False  # its numbers count parts of a whole that nothing names


def read_fills(cells: Distinct, comma: bool, heading: str = "", percent: bool = False) -> Fills:
    """Return what a "how full" column says; ``percent``: its heading says per cent."""
    fills = blank_numbers(len(cells.cells) + 1)
    state = np.zeros(len(cells.cells) + 1, dtype=np.int8)
    parts = None if percent else parts_of(heading)
    untold = parts is None and not percent and unknown_scale(cells.cells)
    for place, cell in enumerate(cells.cells):
        read = fill_cell.read_cell(cell, comma)
        if read == 0:
            fills[place], state[place] = 0.0, VALUE  # "empty" is no mark here: it says how full
            continue
        if isinstance(cell, str) and (marked := mark.read_cell(cell)) and marked in MARKS:
            state[place] = BLANK if MARKS[marked] == NOTHING else MARKS[marked]
            continue
        if (parts is not None or untold) and (number := as_number(cell)):
            read = _in_parts(number, parts)
        if isinstance(read, Problem):
            state[place] = PROBLEM
        else:
            fills[place], state[place] = read, VALUE
    return Fills(fills[cells.codes], state[cells.codes], untold)


def _in_parts(number: float, parts: float | None) -> float | Problem:
    if parts is None or not 1 <= number <= fill_cell.MOST * parts:
        return fill_cell.unreadable()
    return number / parts
