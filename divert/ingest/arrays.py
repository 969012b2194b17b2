"""The arrays in which rows travel together, and empty ones of each kind."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Objects = npt.NDArray[np.object_]
Bools = npt.NDArray[np.bool_]
Ints = npt.NDArray[np.int8]
Codes = npt.NDArray[np.signedinteger[Any]]  # a sheet's are int32: it may have a million rows
Days = npt.NDArray[np.datetime64]
NAT = np.datetime64("NaT", "D")


def blank_numbers(rows: int) -> Floats:
    """Return an array of NaN."""
    out = np.empty(rows)
    out.fill(np.nan)  # a third of what np.full takes, and there are dozens for each table
    return out


def blank_texts(rows: int) -> Objects:
    """Return an array of empty texts."""
    out = np.empty(rows, dtype=object)
    out.fill("")
    return out


def no_rows(rows: int) -> Bools:
    """Return an array of False."""
    return np.zeros(rows, dtype=bool)
