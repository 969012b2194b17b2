"""A column of money: $12.50 · 12,50 $ · 12.5, with the currency where a cell names it."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from divert.ingest.amounts.column import BLANK, NOTHING, PROBLEM, UNKNOWN, VALUE
from divert.ingest.arrays import Floats
from divert.ingest.cells import mark, money
from divert.ingest.cells.problem import Problem
from divert.ingest.coded import Coded, of_cells
from divert.ingest.sheet import Distinct


def read_money(cells: Distinct) -> tuple[Floats, npt.NDArray[np.int8], Coded]:
    """Return amounts, states (as in Amounts) and currencies of every row."""
    amounts, states, currency = [], [], {}
    for cell in cells.cells:
        marked = mark.read_cell(cell) if isinstance(cell, str) else None
        read = money.read_cell(cell)
        if marked is not None:
            amounts.append(np.nan)
            states.append({"nothing": NOTHING, "unknown": UNKNOWN}.get(marked, BLANK))
        elif isinstance(read, Problem):
            amounts.append(np.nan)
            states.append(PROBLEM)
        else:
            amounts.append(read.amount)
            states.append(VALUE)
            currency[cell] = read.currency
    codes = cells.codes
    return (
        np.array([*amounts, np.nan])[codes],
        np.array([*states, BLANK], dtype=np.int8)[codes],
        of_cells(cells, lambda c: currency.get(c, "")),
    )
