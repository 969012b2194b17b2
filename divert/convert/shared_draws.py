"""The draws that many rows share: one per density, and one per container whose fill nobody wrote."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert import draws
from divert.convert.mass import DensityInUse
from divert.convert.volume import fill_spreads
from divert.site.model import Site

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


def shared_draws(
    frames: Sequence[pd.DataFrame], densities: Sequence[DensityInUse], site: Site
) -> tuple[Floats, list[Ints]]:
    """Return relative draws of every (density, fill) pair met, and the pair of each row.

    Draws have shape (pairs, DRAWS) and are over the central value; weighed rows share the scale's
    error. One array of pair numbers comes back for each frame.
    """
    fills = fill_spreads(site)
    width = len(fills) + 1
    codes = [_codes(frame, width) for frame in frames]
    size = (len(densities) + 1) * width
    met = np.flatnonzero(sum(np.bincount(c, minlength=size) for c in codes))
    scale = draws.normal(f"{site.seed}: scale", 1.0, site.scale_accuracy)
    shared = np.empty((len(met), draws.DRAWS))
    of_density: dict[int, Floats] = {-1: scale}
    of_fill: dict[int, Floats] = {}
    for place, pair in enumerate(met.tolist()):
        density, fill = pair // width - 1, pair % width - 1
        if density not in of_density:
            of_density[density] = density_draws(densities[density], site.seed, scale)
        shared[place] = of_density[density]
        if fill >= 0:
            if fill not in of_fill:
                name, low, usual, high = fills[fill]
                of_fill[fill] = draws.uniform(f"{site.seed}: fill of {name}", low, high) / usual
            shared[place] *= of_fill[fill]
    number = np.full(size, -1, dtype=np.int64)
    number[met] = np.arange(len(met))
    return shared, [number[c] for c in codes]


def _codes(frame: pd.DataFrame, width: int) -> Ints:
    density = frame["density_number"].to_numpy()
    fill = np.where(density < 0, 0, frame["fill_group"].to_numpy() + 1)
    return ((density + 1) * width + fill).astype(np.int64)


def density_draws(density: DensityInUse, site_seed: str, scale: Floats) -> Floats:
    """Return draws of a density over its central value.

    A measured density was found on the site's own scale and moves with it.
    """
    spread = density.spread
    if density.measured is not None:
        m = density.measured
        drawn = draws.student(f"{site_seed}: {density.key}", m.rho, m.se, m.n - 1)
        return np.clip(drawn, *m.cut) / m.rho * scale
    name = f"{site_seed}: {density.key}" if density.own else density.key
    return draws.triangular(name, spread.low, spread.typical, spread.high) / spread.typical
