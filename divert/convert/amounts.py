"""Sums of cells with their draws: received, removed, residue, diverted, by any grouping."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from divert.convert import draws
from divert.convert.cells import Cells

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
What = Literal["received", "removed", "residue", "diverted", "not claimed", "kept", "thrown away"]


@dataclass(frozen=True, slots=True)
class Amounts:
    """Masses in kg of several groups: ``central`` (groups,) and ``drawn`` (groups, DRAWS)."""

    central: Floats
    drawn: Floats

    def interval(self) -> tuple[Floats, Floats]:
        """Return the ends of the 90 % intervals, stretched to the central value where it lies out."""
        low, high = draws.interval(self.drawn)
        return np.minimum(low, self.central), np.maximum(high, self.central)


def coefficients(cells: Cells, what: What) -> Floats:
    """Return +1, -1 or 0 per element: how it enters an amount.

    ``kept`` is received less removed and residue, whatever its fate; ``diverted`` the claimed part
    of it, ``not claimed`` the rest.
    """
    sign = np.array([1.0, -1.0, -1.0])[cells.what]
    if what == "received":
        return np.where(cells.what == 0, 1.0, 0.0)
    if what in ("removed", "residue"):
        return np.where(cells.what == (1 if what == "removed" else 2), 1.0, 0.0)
    if what == "thrown away":
        return np.where(cells.what > 0, 1.0, 0.0)
    if what == "diverted":
        return np.where(cells.claimed, sign, 0.0)
    if what == "not claimed":
        return np.where(cells.claimed, 0.0, sign)
    return sign


def centrals(cells: Cells, coefficient: Floats, group: Ints, groups: int) -> Floats:
    """Return central masses (kg) per group; elements of group -1 are left out."""
    use = (group >= 0) & (coefficient != 0)
    return np.bincount(
        group[use], weights=coefficient[use] * cells.mass_kg[use], minlength=groups
    ).astype(np.float64)


def amounts(cells: Cells, coefficient: Floats, group: Ints, groups: int) -> Amounts:
    """Return masses (kg) per group with draws; elements of group -1 are left out.

    ``coefficient`` weighs each element (a funded share may stand in it).
    """
    use = np.flatnonzero((group >= 0) & (coefficient != 0))
    g, c = group[use], coefficient[use]
    pairs = len(cells.shared)
    by_pair = np.bincount(
        g * pairs + cells.pair[use], weights=c * cells.mass_kg[use], minlength=groups * pairs
    ).reshape(groups, pairs)
    # Not "@": a linear algebra library sums in another order on another number of cores.
    drawn = np.einsum("gp,pd->gd", by_pair, cells.shared)
    own = use[cells.sd_kg[use] > 0]
    if len(own):
        weight = coefficient[own] * cells.sign[own] * cells.sd_kg[own]
        some = np.unique(group[own])
        place = np.full(groups, -1)
        place[some] = np.arange(len(some))
        spots = place[group[own]] * draws.POOL + cells.offset[own]
        weights = np.zeros(len(some) * draws.POOL)
        np.add.at(weights, spots, weight)
        drawn[some] += draws.independent(weights.reshape(len(some), draws.POOL))
    return Amounts(by_pair.sum(axis=1), drawn)
