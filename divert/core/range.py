"""A value with its 90 % interval: what every estimate is given as."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Range:
    """A central value with the ends of its 90 % interval.

    ``mean`` of the draws stands beside emissions, whose central value is not it.
    """

    central: float
    low: float
    high: float
    mean: float | None = None

    def times(self, factor: float) -> Range:
        """Return the range scaled by a number that is zero or more."""
        mean = None if self.mean is None else self.mean * factor
        return Range(self.central * factor, self.low * factor, self.high * factor, mean)
