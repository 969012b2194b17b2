"""The plain numbers of a column, row by row: what arithmetic between columns is tried on."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from divert.ingest.cells.number import read_cell
from divert.ingest.cells.problem import Problem
from divert.ingest.tables.columns import Column

Numbers = npt.NDArray[np.float64]


def numbers_of(column: Column) -> Numbers:
    """Return a column's numbers, NaN where a cell is none."""
    read = [read_cell(c) for c in column.cells.cells]
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


def spread(values: Numbers) -> float:
    """Return how far numbers lie apart, against their middle; NaN of no numbers."""
    said = values[~np.isnan(values)]
    middle = float(np.median(said)) if len(said) else 0.0
    return float(np.std(said)) / middle if middle > 0 else float("nan")
