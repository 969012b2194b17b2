"""What a quantity cell says, and the problems it may have."""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.ingest.cells.problem import Problem


@dataclass(frozen=True, slots=True)
class Quantity:
    """What a cell says was there. ``number`` is a bare number, for the column to explain.

    ``loose`` marks a bare number with an unknown word after it (in ``note``): a note where the
    column has a unit, an unknown unit where it has none. ``asked`` are words site.toml settled.
    """

    number: float | None = None
    count: float | None = None
    container: str = ""
    fill: float | None = None
    volume_m3: float | None = None
    mass_kg: float | None = None
    gross: bool = False
    each: bool = False
    note: str = ""
    loose: bool = False
    unit: str = ""
    asked: tuple[str, ...] = ()


def unreadable() -> Problem:
    """Return the problem of a cell that holds no quantity we can be sure of."""
    return Problem(
        "quantity unreadable",
        Text(N_("Write one amount and its unit, such as 3 totes, 40 lb or 2 yd3.")),
    )


def unit_unknown() -> Problem:
    """Return the problem of an amount whose unit is not known."""
    return Problem(
        "unit unknown",
        Text(N_("Write the unit in the heading or beside the number, such as 40 lb.")),
    )
