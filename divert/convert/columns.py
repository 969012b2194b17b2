"""Columns of a ledger: added without a copy of the rest, and asked for names by their codes."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd


def added(ledger: pd.DataFrame, **columns: Any) -> pd.DataFrame:
    """Return a ledger with columns added or replaced by arrays of its length, copying nothing."""
    out = ledger.copy(deep=False)
    for name, values in columns.items():
        out[name] = pd.Series(values, index=ledger.index, copy=False)
    return out


def of_names(column: pd.Series[str], names: Collection[str]) -> npt.NDArray[np.bool_]:
    """Return a mask of the rows that hold one of the names; quick where the column is coded."""
    if not isinstance(column.dtype, pd.CategoricalDtype):
        return np.asarray(column.isin(list(names)).to_numpy(dtype=bool))
    meant = np.array([*(str(name) in names for name in column.cat.categories), False])
    return np.asarray(meant[column.cat.codes.to_numpy()])  # what has no name is the last
