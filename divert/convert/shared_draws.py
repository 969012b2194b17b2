"""The draws that many rows share: densities, the fill nobody wrote of a container, the eye's bias."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert import draws
from divert.convert.mass import DensityInUse
from divert.convert.volume import EYE_BIAS, FILL_BY_EYE, FILL_UNKNOWN, usual_fills
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
    fills = usual_fills(site)
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
                of_fill[fill] = _fill_draws(site.seed, *fills[fill])
            shared[place] *= of_fill[fill]
    number = np.full(size, -1, dtype=np.int64)
    number[met] = np.arange(len(met))
    return shared, [number[c] for c in codes]


def _codes(frame: pd.DataFrame, width: int) -> Ints:
    density = frame["density_number"].to_numpy()
    fill = np.where(density < 0, 0, frame["fill_group"].to_numpy() + 1)
    return ((density + 1) * width + fill).astype(np.int64)


def _fill_draws(site_seed: str, container: str, usual: float | None) -> Floats:
    """Return draws of what a container's rows with no fill held on average, over what was taken.

    A usual fill that the site states is right to an eighth, one standard deviation (a flat eighth
    held the truth in two of three simulated yards); where nothing is stated, anywhere in the range.
    """
    name = f"{site_seed}: fill of {container}"
    if usual is None:
        low, taken, high = FILL_UNKNOWN
        return draws.uniform(name, low, high) / taken
    return np.clip(draws.normal(name, usual, FILL_BY_EYE), 0.0, None) / usual


def eye_bias(site_seed: str) -> Floats:
    """Return draws of what an eye reads wrong in every fill of a site, as a share of brim-full."""
    return draws.uniform(f"{site_seed}: bias of the eye", -EYE_BIAS, EYE_BIAS)


def density_draws(density: DensityInUse, site_seed: str, scale: Floats) -> Floats:
    """Return draws of a density over its central value.

    A measured density was found on the site's own scale and moves with it; as far as the same eye
    read its weigh-ins' fills, its bias moves the density against the volumes that it is used on.
    Published and stated ones lie anywhere between their ends: a flat truth is held by 90 % of flat
    draws, and by 71 % of draws that lie near the typical value.
    """
    spread = density.spread
    if density.measured is not None:
        m = density.measured
        drawn = draws.student(f"{site_seed}: {density.key}", m.rho, m.se, m.n - 1)
        found = np.clip(drawn, *m.cut) / m.rho * scale
        return found * (1 - m.eye_lever * eye_bias(site_seed)) if m.eye_lever else found
    name = f"{site_seed}: {density.key}" if density.own else density.key
    return draws.uniform(name, spread.low, spread.high) / spread.typical
