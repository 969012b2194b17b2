"""A 'how full' column, row by row."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from divert.ingest.amounts.column import BLANK, MARKS, NOTHING, PROBLEM, VALUE
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


def read_fills(cells: Distinct, comma: bool) -> Fills:
    """Return what a "how full" column says."""
    fills = blank_numbers(len(cells.cells) + 1)
    state = np.zeros(len(cells.cells) + 1, dtype=np.int8)
    for place, cell in enumerate(cells.cells):
        if isinstance(cell, str) and (marked := mark.read_cell(cell)) and marked in MARKS:
            state[place] = BLANK if MARKS[marked] == NOTHING else MARKS[marked]
            continue
        read = fill_cell.read_cell(cell, comma)
        if isinstance(read, Problem):
            state[place] = PROBLEM
        else:
            fills[place], state[place] = read, VALUE
    return Fills(fills[cells.codes], state[cells.codes])
