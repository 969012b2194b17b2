"""Rows put into groups by several small codes at once, without sorting them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pandas as pd

Ints = npt.NDArray[np.int64]
Part = tuple[npt.NDArray[np.integer], int]  # codes from -1 up, and how many levels there are

# A table of this many places per row is still cheaper than a hash of each row.
PLACES_PER_ROW = 2
PLACES = 1 << 16


def grouped(parts: Sequence[Part]) -> tuple[Ints, Ints]:
    """Return each row's group number and the first row of each group.

    ``parts``: (codes of every row, number of levels) of each column that tells groups apart; -1 is a
    level of its own. Groups are numbered in the order of their codes, the first column first.
    """
    rows = len(parts[0][0])
    if not rows:
        return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
    code, size = np.zeros(rows, dtype=np.int64), 1
    for codes, levels in parts:
        width = levels + 1
        if size * width > PLACES + PLACES_PER_ROW * rows:
            code, size = _closed_up(code, size)
        if size > 1:
            code *= width
        code += codes
        code += 1
        size *= width
    code, size = _closed_up(code, size)
    first = np.empty(size, dtype=np.int64)
    # The last write to a place stays, so going backwards leaves the first row of each group.
    first[code[::-1]] = np.arange(rows - 1, -1, -1)
    return code, first


def _closed_up(code: Ints, size: int) -> tuple[Ints, int]:
    """Return codes renumbered without gaps, in their order, and how many there are."""
    if size > PLACES + PLACES_PER_ROW * len(code):
        codes, met = pd.factorize(code, sort=True)
        return codes.astype(np.int64), len(met)
    seen = np.zeros(size, dtype=bool)
    seen[code] = True
    place = np.cumsum(seen, dtype=np.int32)
    place -= 1
    return place[code].astype(np.int64), int(place[-1]) + 1
