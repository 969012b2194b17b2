"""Cells gathered once into few parts, from which every amount of a period is added up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from divert.convert.amounts import Amounts, What, amounts, sign
from divert.convert.cells import Cells
from divert.convert.draws import DRAWS
from divert.convert.grouping import Part, grouped

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """Masses with draws of elements that are alike in what they are, claimed or not, and ``codes``.

    ``codes``: each part's code in the columns asked for; ``what`` and ``claimed`` as in Cells.
    """

    masses: Amounts
    what: Ints
    claimed: Mask
    codes: Mapping[str, Ints]

    def amounts(self, what: What, group: Ints | None = None, groups: int = 1) -> Amounts:
        """Return one amount of several groups of parts (-1: in none), or of all of them."""
        places = np.zeros(len(self.what), np.int64) if group is None else group
        drawn = np.zeros((groups, DRAWS))
        for place, factor, part in zip(places, self._factors(what), self.masses.drawn, strict=True):
            if place >= 0 and factor > 0:
                drawn[place] += part
            elif place >= 0 and factor < 0:
                drawn[place] -= part
        return Amounts(self.centrals(what, places, groups), drawn)

    def centrals(self, what: What, group: Ints, groups: int) -> Floats:
        """Return the central values alone of one amount of several groups of parts, kg."""
        use = group >= 0
        mass = self._factors(what)[use] * self.masses.central[use]
        return np.bincount(group[use], weights=mass, minlength=groups).astype(np.float64)

    def _factors(self, what: What) -> Floats:
        pairs = zip(self.what.tolist(), self.claimed.tolist(), strict=True)
        return np.array([sign(what, kind, claimed) for kind, claimed in pairs], dtype=float)


def gathered(
    cells: Cells, columns: Mapping[str, Part], mask: Mask, weight: Floats | None = None
) -> Parts:
    """Gather the elements of a mask by some columns of theirs: name to (codes, number of levels).

    ``weight`` weighs each element where given.
    """
    claimed = cells.claimed
    group, first = grouped([*columns.values(), (cells.what, 3), (claimed.astype(np.int8), 2)])
    met = np.flatnonzero(np.bincount(group[mask], minlength=len(first)))
    place = np.full(len(first), -1)
    place[met] = np.arange(len(met))
    group = place[group] if mask.all() else np.where(mask, place[group], -1)
    head = first[met]
    ones = np.ones(len(group)) if weight is None else weight
    return Parts(
        amounts(cells, ones, group, len(met)),
        cells.what[head],
        claimed[head],
        {name: codes[head].astype(np.int64) for name, (codes, _) in columns.items()},
    )
