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
What = Literal[
    "received", "removed", "residue", "diverted", "not claimed", "kept", "thrown away", "fed"
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Amounts:
    """Masses in kg of several groups: ``central`` (groups,) and ``drawn`` (groups, DRAWS)."""

    central: Floats
    drawn: Floats

    def interval(self) -> tuple[Floats, Floats]:
        """Return the ends of the 90 % intervals, stretched to the central value where it lies out.

        A mass is not below nothing: only an adjustment, whose central value is, goes there.
        """
        low, high = draws.interval(self.drawn)
        low = np.maximum(low, np.minimum(self.central, 0.0))
        return np.minimum(low, self.central), np.maximum(high, self.central)


def coefficients(cells: Cells, what: What) -> Floats:
    """Return +1, -1 or 0 per element: how it enters an amount.

    ``kept`` is received less removed and residue, whatever its fate; ``diverted`` the claimed part
    of it, ``not claimed`` the rest; ``fed`` received less removed.
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
    if what == "fed":
        return (1.0, -1.0, 0.0)[kind]
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
    some = np.flatnonzero((group >= 0) & (coefficient != 0))
    use: Ints | slice = slice(None) if len(some) == len(group) else some  # all: no copies
    g, c, sd, pairs = group[use], coefficient[use], cells.sd_kg[use], len(cells.shared)
    by_pair = np.bincount(
        g * pairs + cells.pair[use], weights=c * cells.mass_kg[use], minlength=groups * pairs
    ).reshape(groups, pairs)
    # Not "@": a linear algebra library adds in another order on another number of cores, and the
    # same inputs would not give the same bytes.
    drawn = np.zeros((groups, draws.DRAWS))
    some_mass = np.flatnonzero(by_pair.any(axis=1))
    drawn[some_mass] = np.einsum("gp,pd->gd", by_pair[some_mass], cells.shared)
    read = np.bincount(
        g * pairs + cells.pair[use], weights=c * cells.eye_kg[use], minlength=groups * pairs
    ).reshape(groups, pairs)
    some_read = np.flatnonzero(read.any(axis=0))
    if len(some_read):  # the eye's bias moves what it read, each density with its own draws
        by_eye = np.flatnonzero(read.any(axis=1))
        bias = np.einsum("gp,pd->gd", read[np.ix_(by_eye, some_read)], cells.shared[some_read])
        drawn[by_eye] += np.multiply(bias, cells.eye, out=bias)
    own = np.flatnonzero(sd)
    if len(own):
        g = g[own]
        met = np.flatnonzero(np.bincount(g, minlength=groups))
        place = np.zeros(groups, dtype=np.int64)
        place[met] = np.arange(len(met)) * draws.POOL
        error = (c * cells.sign[use] * sd)[own]
        weights = np.bincount(
            place[g] + cells.offset[use][own], weights=error, minlength=len(met) * draws.POOL
        )
        rows = weights.astype(np.float64, copy=False).reshape(len(met), draws.POOL)
        drawn[met] += draws.independent(rows)
    return Amounts(by_pair.sum(axis=1), drawn)
