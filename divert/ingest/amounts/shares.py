"""A contamination column, row by row, as it is written."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from divert.ingest.amounts.column import PROBLEM, VALUE
from divert.ingest.arrays import Floats, Ints, Objects, blank_numbers, blank_texts
from divert.ingest.cells import share
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.scan import Trade
from divert.ingest.sheet import Distinct


@dataclass
class Shares:
    """Contamination, row by row: a mass, a share, a bare number, or words."""

    mass_kg: Floats
    share: Floats
    number: Floats
    words: Objects
    state: Ints
    asked: Objects
    says: frozenset[str]


def read_shares(cells: Distinct, trade: Trade) -> Shares:
    """Return what a contamination column says."""
    size = len(cells.cells) + 1
    mass, part, number = blank_numbers(size), blank_numbers(size), blank_numbers(size)
    said, asked = blank_texts(size), blank_texts(size)
    state = np.zeros(size, dtype=np.int8)
    for place, cell in enumerate(cells.cells):
        read = share.read_cell(cell, trade.meaning, trade.comma)
        if isinstance(read, Problem):
            state[place] = PROBLEM
            continue
        state[place] = VALUE
        mass[place] = np.nan if read.mass_kg is None else read.mass_kg
        part[place] = np.nan if read.share is None else read.share
        number[place] = np.nan if read.number is None else read.number
        said[place], asked[place] = read.words, read.asked
    codes = cells.codes
    says = frozenset(n for n, a in (("words", said), ("asked", asked)) if any(a))
    return Shares(
        mass[codes], part[codes], number[codes], said[codes], state[codes], asked[codes], says
    )
