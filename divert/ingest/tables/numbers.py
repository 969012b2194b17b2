"""The plain numbers of a column, row by row: what arithmetic between columns is tried on."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from divert.ingest.cells.number import read_cell
from divert.ingest.cells.problem import Problem
from divert.ingest.tables.columns import Column

Numbers = npt.NDArray[np.float64]


_UNIT = re.compile(r"(?<=\d)\s*[^\W\d]+\.?$")


def numbers_of(column: Column, in_words: bool = False) -> Numbers:
    """Return a column's numbers, NaN where a cell is none; ``in_words``: of "5,200 lb" the number too."""
    cells = column.cells.cells
    if in_words:
        cells = [_UNIT.sub("", c) if isinstance(c, str) else c for c in cells]
    read = [read_cell(c) for c in cells]
    found = [np.nan if isinstance(n, Problem) else n for n in read]
    return np.array([*found, np.nan])[column.cells.codes]


def equal(one: Numbers, other: Numbers) -> bool:
    """Return whether two columns agree wherever both are filled, on two rows or more."""
    both = ~np.isnan(one) & ~np.isnan(other)
    return bool(both.sum() >= 2 and np.isclose(one[both], other[both], rtol=1e-4, atol=0.11).all())


def above(one: Numbers, other: Numbers, least: int = 2) -> bool:
    """Return whether one column is larger than another on every row where both are filled."""
    both = ~np.isnan(one) & ~np.isnan(other)
    return bool(both.sum() >= least and (one[both] > other[both]).all())


def adds_up(total: Numbers, parts: Sequence[Numbers], least: int = 2) -> bool:
    """Return whether a column is the sum of others on each of its rows, and of several on some.

    ``least``: on so many rows or more.
    """
    said = ~np.isnan(total)
    stacked = np.stack(parts)[:, said]
    several = ((~np.isnan(stacked)).sum(axis=0) >= 2).any()
    sums = np.nansum(stacked, axis=0)
    return bool(said.sum() >= least and several and np.isclose(sums, total[said], rtol=1e-6).all())


def middle(column: Column) -> float:
    """Return the middle of a column's numbers; 0 of none."""
    said = numbers_of(column)
    said = said[~np.isnan(said)]
    return float(np.median(said)) if len(said) else 0.0


def spread(values: Numbers) -> float:
    """Return how far numbers lie apart, against their middle; NaN of no numbers."""
    said = values[~np.isnan(values)]
    middle = float(np.median(said)) if len(said) else 0.0
    return float(np.std(said)) / middle if middle > 0 else float("nan")
