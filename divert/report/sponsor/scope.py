"""What a sponsor report shows in detail: the sponsor's own material, or the whole site's."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from divert.core.range import Range
from divert.figures.contract import Compared, Figures, Mass, Month, Part
from divert.figures.numbers.printed import Printed, PrintedRange, Printer
from divert.figures.numbers.scales import Scale
from divert.report.charts.known_months import (
    a_year_before,
    broken_off,
    known_until,
    silent_months,
)
from divert.report.charts.strips import thrown_away


@dataclass(frozen=True, slots=True)
class Scope:
    """One balance with its months and materials, and the figure paths they stand under.

    ``root`` begins the paths ("supplied." or ""); ``scale`` is the one scale of its masses;
    ``silent`` are the months (``YYYY-MM``) that the whole site's records say nothing of, ``cut`` the
    one that the records of a running period end within, ``unlike`` the same where it has gone by.
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
    silent: frozenset[str] = frozenset()
    cut: str = ""
    unlike: str = ""
    a_year_earlier: Compared | None = None

    @property
    def all_weighed(self) -> bool:
        """Return whether everything received was weighed."""
        return _all_weighed(self.basis)

    def is_known(self, month: Month) -> bool:
        """Return whether anything is known of a month: one without entries is not one of nothing."""
        return month.month not in self.silent or bool(month.diverted.central)

    def year_before(self, month: Month) -> Range | None:
        """Return what was diverted in the same month a year before; None where none is its like."""
        then = month.same_month_last_year
        if (
            then is None
            or month.month == self.unlike
            or (a_year_before(month) in self.silent and not then.central)
        ):
            return None
        return then

    def received(self, printer: Printer) -> Printed:
        """Return everything received, as every sentence and drawing prints it."""
        return printer.central(self.balance_key("received"), self.mass.received, self.scale)

    def diverted(self, printer: Printer) -> PrintedRange:
        """Return what was diverted with its range, as every sentence and drawing prints it."""
        return printer.range(
            self.balance_key("diverted"), self.mass.diverted, self.scale, within=self.mass.received
        )

    def balance_key(self, part: str) -> str:
        """Return the path of one mass of the balance ("received", "diverted", "thrown_away" ...)."""
        if self.kind == "supplied" and part in ("received", "diverted"):
            return f"supplied.{part}"
        return f"supplied.mass.{part}" if self.kind == "supplied" else f"mass.{part}"

    @property
    def thrown_away(self) -> Range:
        """Return removed and residue together."""
        return thrown_away(self.mass)


def supplied_scope(figures: Figures, printer: Printer) -> Scope | None:
    """Return the sponsor's own material, or None where they supply none."""
    own = figures.supplied
    if own is None:
        return None
    scale = _scale(own.mass, printer)
    return Scope("supplied", "supplied.", own.mass, own.by_material, own.by_month, own.history,
                 own.not_claimed_by, own.basis, scale, _silent(figures), _cut(figures),
                 broken_off(figures), own.same_period_last_year)  # fmt: skip


def site_scope(figures: Figures, printer: Printer) -> Scope:
    """Return the whole site."""
    scale = _scale(figures.mass, printer)
    return Scope("site", "", figures.mass, figures.by_material, figures.by_month, figures.history,
                 figures.not_claimed, figures.basis, scale, _silent(figures), _cut(figures),
                 broken_off(figures), figures.same_period_last_year)  # fmt: skip


def _cut(figures: Figures) -> str:
    until = known_until(figures)
    over = (until + dt.timedelta(days=1)).month != until.month
    return "" if over or not figures.period.to_date else f"{until:%Y-%m}"


def _silent(figures: Figures) -> frozenset[str]:
    """Return the months the site's records say nothing of, and the years before that they cannot."""
    period = {m.month for m in figures.by_month}
    before = {
        m.month
        for m in figures.history
        if m.month not in period and not m.received.central and not m.diverted.central
    }
    empty = {
        a_year_before(m)
        for m in (*figures.history, *figures.by_month)
        if m.same_month_last_year is not None and not m.same_month_last_year.central
    }
    return silent_months(figures) | before | (empty - {m.month for m in figures.history})


def _scale(mass: Mass, printer: Printer) -> Scale:
    return printer.scale("mass", max(abs(mass.received.central), abs(mass.diverted.central)))


def _all_weighed(basis: Mapping[str, float]) -> bool:
    return round(basis.get("weighed", 0.0), 6) == 1
