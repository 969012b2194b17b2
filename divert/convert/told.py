"""What the conversion tells of itself beside its masses: how rows fared, which densities it used."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rows:
    seen: int
    used: int
    set_aside: int
    skipped: int
    queries: int


@dataclass(frozen=True, slots=True)
class Density:
    """A density in use, kg/m³, with the number of weigh-ins behind it (0 where not measured)."""

    material: str
    condition: str
    basis: str
    value: float
    low: float
    high: float
    weigh_ins: int
    published_low: float | None = None
    published_high: float | None = None
    more_to_halve: int | None = None
