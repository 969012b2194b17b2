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
    table = np.array([[sign(what, kind, claimed) for claimed in (False, True)] for kind in KINDS])
    return np.asarray(table[cells.what, cells.claimed.astype(np.int64)])


KINDS = (0, 1, 2)  # received, removed, residue: Cells.what


def sign(what: What, kind: int, claimed: bool) -> float:
    """Return how an element of a kind, claimed or not, enters an amount: +1, -1 or 0."""
    if what == "received":
        return float(kind == 0)
    if what in ("removed", "residue"):
        return float(kind == (1 if what == "removed" else 2))
    if what == "thrown away":
        return float(kind > 0)
    if what != "kept" and (what == "diverted") != claimed:
        return 0.0
    return 1.0 if kind == 0 else -1.0


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
    g, c, pairs = group[use], coefficient[use], len(cells.shared)
    by_pair = np.bincount(
        g * pairs + cells.pair[use], weights=c * cells.mass_kg[use], minlength=groups * pairs
    ).reshape(groups, pairs)
    drawn = by_pair @ cells.shared
    sd = cells.sd_kg[use]
    own = np.flatnonzero(sd > 0)
    if len(own):
        at, g = use[own], g[own]
        met = np.flatnonzero(np.bincount(g, minlength=groups))
        place = np.zeros(groups, dtype=np.int64)
        place[met] = np.arange(len(met)) * draws.POOL
        weights = np.bincount(
            place[g] + cells.offset[at],
            weights=c[own] * cells.sign[at] * sd[own],
            minlength=len(met) * draws.POOL,
        ).astype(np.float64, copy=False)
        drawn[met] += draws.independent(weights.reshape(len(met), draws.POOL))
    return Amounts(by_pair.sum(axis=1), drawn)


@dataclass(frozen=True, slots=True)
class Split:
    """Masses of several groups, kept apart by kind and by whether they are claimed (one pass)."""

    parts: Amounts
    place: Ints  # of each (group, kind, claimed) in ``parts``, -1 where there is none
    groups: int

    def of(self, what: What) -> Amounts:
        """Return one amount of every group."""
        central, drawn = np.zeros(self.groups), np.zeros((self.groups, draws.DRAWS))
        for lane in range(LANES):
            factor = sign(what, lane // 2, bool(lane % 2))
            place = self.place[lane::LANES]
            met = np.flatnonzero(place >= 0)
            if factor and len(met):
                central[met] += factor * self.parts.central[place[met]]
                drawn[met] += factor * self.parts.drawn[place[met]]
        return Amounts(central, drawn)


LANES = 2 * len(KINDS)


def split(cells: Cells, group: Ints, groups: int, weight: Floats | None = None) -> Split:
    """Return the masses of several groups from which every amount of theirs follows.

    Elements of group -1 are left out; ``weight`` weighs each element where given.
    """
    lane = group * LANES + cells.what * 2 + cells.claimed
    lane[group < 0] = -1
    met = np.flatnonzero(np.bincount(lane + 1, minlength=groups * LANES + 1)[1:])
    place = np.full(groups * LANES + 1, -1)
    place[met] = np.arange(len(met))
    ones = np.ones(len(group)) if weight is None else weight
    return Split(amounts(cells, ones, place[lane], len(met)), place[:-1], groups)
