"""Settings that change with time, looked up for a whole column at once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

import numpy as np
import numpy.typing as npt
import pandas as pd

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


def version_numbers(
    names: pd.Series[str],
    days: npt.NDArray[np.datetime64],
    versions: Mapping[str, Sequence[dt.date | None]],
) -> Ints:
    """Return for each row the number of the version in force, counted over all versions.

    ``names`` is categorical; ``versions`` gives each name's first days (None: from the beginning),
    oldest first. Versions are numbered through in the order of the mapping; -1 for a name that has
    none. Before the first dated version the first one holds.
    """
    first: dict[str, int] = {}
    count = 0
    for name, starts in versions.items():
        first[name] = count
        count += len(starts)
    categories = [str(c) for c in names.cat.categories]
    codes = names.cat.codes.to_numpy().astype(np.int64)
    table = np.array([first.get(c, -1) for c in categories] + [-1], dtype=np.int64)
    out = table[codes]
    for position, name in enumerate(categories):
        starts = versions.get(name, ())
        if len(starts) > 1:
            rows = np.flatnonzero(codes == position)
            later = np.array([s or dt.date.min for s in starts[1:]], dtype="datetime64[D]")
            out[rows] += np.searchsorted(later, days[rows].astype("datetime64[D]"), side="right")
    return out


def pick(values: Sequence[float | None], numbers: Ints) -> Floats:
    """Return ``values[number]`` for each row as floats; NaN for -1 and for None."""
    table = np.array([np.nan if v is None else v for v in values] + [np.nan], dtype=np.float64)
    return table[numbers]
