"""A figure in whole milligrams: central value and draws that add to the same bits in any order.

Sums of floating-point numbers depend on the order in which they are added; sums of whole numbers do
not. A milligram is far below anything a yard weighs, and 64 bits hold nine thousand million tonnes
of them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from divert.convert import draws
from divert.core.range import Range

MG_PER_KG = 1_000_000
Wholes = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Whole:
    """One figure, mg (of mass or of CO2e): ``central``, and ``drawn`` of shape (DRAWS,)."""

    central: int
    drawn: Wholes

    def plus(self, other: Whole, sign: int = 1) -> Whole:
        """Return the sum (or with -1 the difference), draw by draw."""
        return Whole(self.central + sign * other.central, self.drawn + sign * other.drawn)

    def range(self) -> Range:
        """Return the central value with the ends of its 90 % interval, kg."""
        low, high = (float(x) for x in draws.interval(self.drawn / MG_PER_KG))
        central = self.central / MG_PER_KG
        return Range(central, min(low, central), max(high, central))

    def same(self, other: Whole) -> bool:
        """Say whether two figures are equal to the last bit."""
        return self.central == other.central and bool((self.drawn == other.drawn).all())


def milligrams(kg: float) -> int:
    """Return a mass in whole milligrams."""
    return round(kg * MG_PER_KG)


def whole(central_kg: float, drawn_kg: Floats) -> Whole:
    """Return a figure in whole milligrams from its central value and its draws in kg."""
    return Whole(milligrams(central_kg), np.rint(drawn_kg * MG_PER_KG).astype(np.int64))


def nothing() -> Whole:
    """Return the figure that adds nothing."""
    return Whole(0, np.zeros(draws.DRAWS, dtype=np.int64))
