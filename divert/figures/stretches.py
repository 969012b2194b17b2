"""Which cells lie in a span of days, and which month, source or material they belong to."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from divert.convert.amounts import Amounts, What, amounts, coefficients
from divert.convert.cells import Cells
from divert.core.range import Range

Mask = npt.NDArray[np.bool_]
Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]
DAY = dt.timedelta(days=1)
# kg, m³: what rounding leaves of a difference that is nothing; no ratio is made over it.
TRACE = 1e-9


def inside(cells: Cells, start: dt.date, end: dt.date) -> Mask:
    """Return a mask of elements between two days, both included.

    Both days must open or close a stretch of the cells.
    """
    first = cells.starts
    here = (first >= np.datetime64(start, "D")) & (first <= np.datetime64(end, "D"))
    return np.asarray(here[cells.stretch])


def month_count(day: dt.date) -> int:
    """Return the month of a day, counted from 1970."""
    return (day.year - 1970) * 12 + day.month - 1


def first_of(month: int) -> dt.date:
    """Return the first day of a month counted from 1970."""
    return dt.date(1970 + month // 12, month % 12 + 1, 1)


def total(cells: Cells, what: What, mask: Mask, weight: Floats | None = None) -> Range:
    """Return one amount over the elements of a mask, weighed by ``weight`` where given."""
    coefficient = coefficients(cells, what)
    if weight is not None:
        coefficient = coefficient * weight
    return ranges(amounts(cells, coefficient, np.where(mask, 0, -1), 1))[0]


def ranges(found: Amounts) -> list[Range]:
    """Return the central values of amounts with the ends of their 90 % intervals."""
    low, high = found.interval()
    return [
        Range(float(c), float(a), float(b))
        for c, a, b in zip(found.central, low, high, strict=True)
    ]


def matching(codes: Ints, levels: tuple[str, ...], wanted: Iterable[str]) -> Mask:
    """Return a mask of elements whose level is one of the wanted ones."""
    names = set(wanted)
    return np.array([level in names for level in levels])[codes]
