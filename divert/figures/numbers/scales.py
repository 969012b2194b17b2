"""The units that reports print in: how large one is inside, and which one suits a total."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from divert.core.units import KG_PER_LB, KG_PER_SHORT_TON, KG_PER_TONNE, M3_PER_YD3
from divert.figures.numbers.rounding import quantum_for

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

# From here on a mass reads better in the larger unit (four digits of the smaller one are plenty
# for a quarter, five are not).
_LARGE_US_KG = 20_000 * KG_PER_LB
_LARGE_METRIC_KG = 10_000.0
_DIGITS = 3


@dataclass(frozen=True, slots=True)
class Scale:
    """One unit and one rounding unit, shared by all numbers of a table or chart."""

    unit: str
    quantum: float

    @property
    def factor(self) -> float:
        """Return what one unit is in the figures' own unit."""
        return FACTOR[self.unit]

    @property
    def decimals(self) -> int:
        """Return how many decimals the rounding unit needs."""
        places = 0
        while places < 9 and abs(self.quantum * 10**places % 1) > 1e-9:
            places += 1
        return places


def suited(kind: Kind, total: float, units: Units, *, unit: str | None = None) -> Scale:
    """Return the scale for a table or chart whose total is ``total`` (in the figures' own unit).

    Masses print in lb or short tons, kg or tonnes; greenhouse gases always in kg or tonnes of CO2e,
    as inventories count them; shares to whole percents; counts to the whole. ``unit`` forces one.
    """
    unit = unit or _unit(kind, abs(total), units)
    if kind == "share":
        return Scale(unit, 1.0)
    quantum = quantum_for(total / FACTOR[unit], _DIGITS)
    if kind == "count" or (kind == "money" and abs(total) >= 100):
        quantum = 1.0
    elif kind == "money":
        quantum = 0.01
    return Scale(unit, quantum)


def weighed(scale: Scale) -> Scale:
    """Return the scale for a total weighed throughout: to the pound or kilogram read.

    In tons no finer than five digits of the total: no more is read off the scales of such loads.
    """
    five_digits = scale.quantum / 10 ** (5 - _DIGITS)
    in_tons = max(0.001, five_digits)
    fine = {"lb": 1.0, "kg": 1.0, "short ton": in_tons, "tonne": in_tons}
    return Scale(scale.unit, min(scale.quantum, fine.get(scale.unit, scale.quantum)))


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
