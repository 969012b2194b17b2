"""What a sponsor report shows in detail: the sponsor's own material, or the whole site's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from divert.figures import Figures, Mass, Month, Part, Range
from divert.report.printed import Printer
from divert.report.rounding import steps
from divert.report.scales import Scale
from divert.report.two_way import add_up_to


@dataclass(frozen=True, slots=True)
class Scope:
    """One balance with its months and materials, and the figure paths they stand under.

    ``root`` begins the paths ("supplied." or ""); ``scale`` is the one scale of its masses.
    """

    kind: Literal["supplied", "site"]
    root: str
    mass: Mass
    by_material: tuple[Part, ...]
    by_month: tuple[Month, ...]
    history: tuple[Month, ...]
    not_claimed: Mapping[str, Range]
    basis: Mapping[str, float]
    scale: Scale

    def balance_key(self, part: str) -> str:
        """Return the path of one mass of the balance ("received", "diverted", "thrown_away" ...)."""
        if self.kind == "supplied" and part in ("received", "diverted"):
            return f"supplied.{part}"
        return f"supplied.mass.{part}" if self.kind == "supplied" else f"mass.{part}"

    @property
    def thrown_away(self) -> Range:
        """Return removed and residue together."""
        if self.mass.thrown_away is not None:
            return self.mass.thrown_away
        one, other = self.mass.removed, self.mass.residue
        return Range(one.central + other.central, one.low + other.low, one.high + other.high)


def balance_counts(scope: Scope) -> tuple[int, int, int]:
    """Return diverted, not claimed and thrown away in rounding units; they add to received.

    Diverted is the same in every table and report; the other two make up what was received.
    """
    mass, scale = scope.mass, scope.scale
    diverted = steps(mass.diverted.central / scale.factor, scale.quantum)
    whole = steps(mass.received.central / scale.factor, scale.quantum)
    others = [
        value / scale.factor for value in (mass.not_claimed.central, scope.thrown_away.central)
    ]
    not_claimed, thrown_away = add_up_to(others, whole - diverted, scale.quantum)
    return diverted, not_claimed, thrown_away


def supplied_scope(figures: Figures, printer: Printer) -> Scope | None:
    """Return the sponsor's own material, or None where they supply none."""
    own = figures.supplied
    if own is None:
        return None
    scale = _scale(own.mass, own.basis, printer)
    return Scope("supplied", "supplied.", own.mass, own.by_material, own.by_month, own.history,
                 own.not_claimed_by, own.basis, scale)  # fmt: skip


def site_scope(figures: Figures, printer: Printer) -> Scope:
    """Return the whole site."""
    scale = _scale(figures.mass, figures.basis, printer)
    return Scope("site", "", figures.mass, figures.by_material, figures.by_month, figures.history,
                 figures.not_claimed, figures.basis, scale)  # fmt: skip


def _scale(mass: Mass, basis: Mapping[str, float], printer: Printer) -> Scale:
    all_weighed = round(basis.get("weighed", 0.0), 6) == 1
    size = max(abs(mass.received.central), abs(mass.diverted.central))
    return printer.scale("mass", size, all_weighed=all_weighed)
