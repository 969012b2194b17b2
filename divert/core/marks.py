"""Marks of what an entry says, the same in every run: entries of one mark say the same."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Marks = npt.NDArray[np.uint64]


def rounded(values: npt.NDArray[np.float64], digits: int) -> Marks:
    """Return amounts to so many significant digits, as whole numbers; one number for none (NaN)."""
    size = np.where((values == 0) | np.isnan(values), 1.0, np.abs(values))
    place = np.floor(np.log10(size)) - (digits - 1)
    whole = np.where(np.isnan(values), -1e15, np.rint(values / 10.0**place))
    return (whole.astype(np.int64) * 1_000 + place.astype(np.int64)).view(np.uint64)


def mixed(into: Marks, more: Marks) -> Marks:
    """Return marks with more taken into them (after splitmix64; wraps on purpose)."""
    out = (into ^ (more + np.uint64(0x9E3779B97F4A7C15))) * np.uint64(0xBF58476D1CE4E5B9)
    return np.asarray(out ^ (out >> np.uint64(29)))
