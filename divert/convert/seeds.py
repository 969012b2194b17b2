"""A cell's name as the seed of its own draws: the same on every machine, whatever stands beside it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pandas as pd


def hashed(texts: Sequence[str]) -> npt.NDArray[np.uint64]:
    """Return a hash of each text, and at the end that of none."""
    return pd.util.hash_array(np.array([*texts, ""], dtype=object), categorize=False)


def mixed(seed: npt.NDArray[np.uint64], more: npt.NDArray[np.uint64]) -> npt.NDArray[np.uint64]:
    """Return a hash of two hashes (the multiplicative mix of splitmix64; wraps on purpose)."""
    with np.errstate(over="ignore"):
        x = (seed * np.uint64(0x9E3779B97F4A7C15)) ^ more
        x = (x ^ (x >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        x = (x ^ (x >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
        return np.asarray(x ^ (x >> np.uint64(31)))
