"""What of a load's mass errs apart from all others: its own fill, and how loads scatter."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert.mass import DensityInUse
from divert.convert.volume import BY_EYE_SD, EYE_OWN_SD

Floats = npt.NDArray[np.float64]


def own_variance(rows: pd.DataFrame, densities: Sequence[DensityInUse]) -> Floats:
    """Return each row's independent variance, kg²: its fill's own error, and loads about their mean.

    A fill that nobody wrote differs from the container's average as an eye's reading from the truth.
    """
    out = np.zeros(len(rows))
    number, fill = rows["density_number"].to_numpy(), rows["fill_used"].to_numpy()
    by_volume = np.flatnonzero(number >= 0)
    fill = fill[by_volume]
    sd = np.where(rows["fill_group"].to_numpy()[by_volume] < 0, EYE_OWN_SD, BY_EYE_SD)
    relative = np.where(np.isnan(fill), 0.0, sd / np.maximum(fill, 1e-9)) ** 2
    scatter = np.array([d.load_scatter for d in densities] + [0.0])
    mass = rows["mass_kg"].to_numpy()[by_volume]
    out[by_volume] = mass**2 * (relative + scatter[number[by_volume]] ** 2)
    return out


def read_kg(rows: pd.DataFrame) -> Floats:
    """Return mass over fill, kg, of each row on a density whose fill an eye read; 0 of all others."""
    fill = rows["fill_used"].to_numpy()
    read = (rows["density_number"].to_numpy() >= 0) & (rows["fill_group"].to_numpy() < 0)
    read &= fill > 0
    return np.where(read, rows["mass_kg"].to_numpy() / np.where(read, fill, 1.0), 0.0)
