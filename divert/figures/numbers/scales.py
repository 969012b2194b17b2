"""The units that reports print in: how large one is inside, and which one suits a total."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from divert.core.range import Range
from divert.core.units import KG_PER_LB, KG_PER_SHORT_TON, KG_PER_TONNE, M3_PER_YD3
from divert.figures.numbers.rounding import quantum_for, quantum_of_range

Kind = Literal["mass", "co2e", "ch4", "volume", "share", "count", "money", "density", "bed load"]
Units = Literal["us", "metric"]

M3_PER_GAL = 231 * 0.0254**3  # the US gallon is 231 cubic inches (NIST Handbook 44, Appendix C)
M2_PER_FT2 = 0.3048**2
LITRE = 0.001

# What one of each is in the figures' own units (kg, m³, share, kg/m³ ...).
FACTOR: dict[str, float] = {
    "lb": KG_PER_LB,
    "short ton": KG_PER_SHORT_TON,
    "kg": 1.0,
    "tonne": KG_PER_TONNE,
    "kg CO2e": 1.0,
    "tonne CO2e": KG_PER_TONNE,
    "kg CH4": 1.0,
    "yd3": M3_PER_YD3,
    "gal": M3_PER_GAL,
    "m3": 1.0,
    "L": LITRE,
    "%": 0.01,
    "count": 1.0,
    "money": 1.0,
    "money per short ton": KG_PER_TONNE / KG_PER_SHORT_TON,  # of what is counted per tonne
    "g per kg": 0.001,
    "lb/yd3": KG_PER_LB / M3_PER_YD3,
    "kg/m3": 1.0,
    "lb/ft2 week": KG_PER_LB / M2_PER_FT2,
    "kg/m2 week": 1.0,
}

# The finest rounding unit of each; what no unit names is printed with the digits it has.
_FINEST: dict[str, float] = {
    "lb": 1.0,
    "kg": 1.0,
    "short ton": 0.001,
    "tonne": 0.001,
    "kg CO2e": 1.0,
    "tonne CO2e": 0.001,
    "kg CH4": 0.01,
    "yd3": 0.01,
    "m3": 0.01,
    "gal": 1.0,
    "L": 1.0,
}
_FIXED: dict[Kind, float] = {"share": 1.0, "count": 1.0}  # whole percents, whole things

# From here on a mass reads better in the larger unit (four digits of the smaller one are plenty
# for a quarter, five are not).
_LARGE_US_KG = 20_000 * KG_PER_LB
_LARGE_METRIC_KG = 10_000.0


@dataclass(frozen=True, slots=True)
class Scale:
    """A unit to print in; ``quantum`` is a rounding unit that all its figures share, else None.

    Without one each figure has the digits that follow from itself.
    """

    unit: str
    quantum: float | None = None

    @property
    def factor(self) -> float:
        """Return what one unit is in the figures' own unit."""
        return FACTOR[self.unit]

    def quantum_of(self, value: float, spread: Range | None = None) -> float:
        """Return the rounding unit of one figure, in this unit: by its range where it has one."""
        if self.quantum is not None:
            return self.quantum
        if self.unit in ("money", "money per short ton"):
            return 1.0 if abs(value / self.factor) >= 100 else 0.01
        found = (
            quantum_for(value / self.factor)
            if spread is None
            else quantum_of_range(spread, self.factor)
        )
        return max(found, _FINEST.get(self.unit, 0.0)) or 1.0


def decimals(quantum: float) -> int:
    """Return how many decimals a rounding unit needs.

    >>> decimals(10.0), decimals(1.0), decimals(0.05)
    (0, 0, 2)
    """
    places = 0
    while places < 9 and abs(quantum * 10**places % 1) > 1e-9:
        places += 1
    return places


def suited(kind: Kind, total: float, units: Units, *, unit: str | None = None) -> Scale:
    """Return the scale for a table or chart whose largest figure is ``total`` (in its own unit).

    Masses print in lb or short tons, kg or tonnes; greenhouse gases always in kg or tonnes of CO2e,
    as inventories count them; shares to whole percents; counts to the whole. ``unit`` forces one.
    """
    return Scale(unit or _unit(kind, abs(total), units), _FIXED.get(kind))


def _unit(kind: Kind, total: float, units: Units) -> str:
    us = units == "us"
    if kind == "mass":
        if us:
            return "lb" if total < _LARGE_US_KG else "short ton"
        return "kg" if total < _LARGE_METRIC_KG else "tonne"
    if kind == "co2e":
        return "kg CO2e" if total < KG_PER_TONNE else "tonne CO2e"
    if kind == "volume":
        if us:
            return "gal" if total < M3_PER_YD3 else "yd3"
        return "L" if total < 1.0 else "m3"
    return {
        "ch4": "kg CH4",
        "share": "%",
        "count": "count",
        "money": "money",
        "density": "lb/yd3" if us else "kg/m3",
        "bed load": "lb/ft2 week" if us else "kg/m2 week",
    }[kind]
