"""The plain numbers of a column, row by row: what arithmetic between columns is tried on."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from divert.ingest.cells.number import read_cell
from divert.ingest.cells.problem import Problem
from divert.ingest.sheet import Distinct
from divert.ingest.tables.columns import Column
from divert.ingest.work import spend

Numbers = npt.NDArray[np.float64]


_UNIT = re.compile(r"(?<=\d)\s*[^\W\d]+\.?$")


def numbers_of(column: Column, in_words: bool = False) -> Numbers:
    """Return a column's numbers, NaN where a cell is none; ``in_words``: of "5,200 lb" the number too."""
    return column.cells.once((numbers_of, in_words), lambda: _numbers(column.cells, in_words))


def _numbers(column: Distinct, in_words: bool) -> Numbers:
    found = np.full(len(column.cells) + 1, np.nan)  # the last is an empty cell's
    if column.types <= {int, float}:
        found[:-1] = column.cells
        found[np.isinf(found)] = np.nan
    else:
        for code, cell in enumerate(column.cells):
            worded = in_words and isinstance(cell, str)
            read = read_cell(_UNIT.sub("", str(cell)) if worded else cell)
            found[code] = np.nan if isinstance(read, Problem) else read
    out = found[column.codes]
    out.flags.writeable = False  # many ask for it
    return out


def equal(one: Numbers, other: Numbers) -> bool:
    """Return whether two columns agree wherever both are filled, on two rows or more."""
    return len(equal_ones(one[np.newaxis], other)) > 0


def equal_ones(columns: Numbers, other: Numbers) -> list[int]:
    """Return which of some columns (each a row of the array) agree with another one."""
    spend(20 + columns.size // 50)
    both = ~np.isnan(columns) & ~np.isnan(other)
    with np.errstate(invalid="ignore"):
        near = np.abs(columns - other) <= 0.11 + 1e-4 * np.abs(other)
    return np.flatnonzero((both.sum(axis=1) >= 2) & (near | ~both).all(axis=1)).tolist()


def above(one: Numbers, other: Numbers, least: int = 2) -> bool:
    """Return whether one column is larger than another on every row where both are filled."""
    spend(10 + len(one) // 50)
    both = ~np.isnan(one) & ~np.isnan(other)
    return bool(both.sum() >= least and (one[both] > other[both]).all())


def adds_up(total: Numbers, parts: Sequence[Numbers], least: int = 2) -> bool:
    """Return whether a column is the sum of others on each of its rows, and of several on some.

    ``least``: on so many rows or more.
    """
    return is_sum(total, Sums().of(parts), least)


class Sums:
    """Row by row, how many of some columns say a number, and what these add up to."""

    def __init__(self) -> None:
        self.many: Numbers | float = 0.0
        self.sum: Numbers | float = 0.0

    def of(self, columns: Sequence[Numbers]) -> Sums:
        """Return these sums with more columns in them."""
        for one in columns:
            self.many = self.many + ~np.isnan(one)
            self.sum = self.sum + np.nan_to_num(one)
        return self

    def less(self, one: Numbers) -> Sums:
        """Return the sums without one of their columns."""
        out = Sums()
        out.many, out.sum = self.many - ~np.isnan(one), self.sum - np.nan_to_num(one)
        return out


def is_sum(total: Numbers, sums: Sums, least: int = 2) -> bool:
    """Return whether a column is such a sum on each of its rows, and of several on some."""
    said = ~np.isnan(total)
    many, sum_ = (np.broadcast_to(n, total.shape)[said] for n in (sums.many, sums.sum))
    close = np.abs(sum_ - total[said]) <= 1e-8 + 1e-6 * np.abs(total[said])
    return bool(said.sum() >= least and (many >= 2).any() and close.all())


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
