"""What a board report is made from: the period, the same one a year before, and the bands."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from divert.core.period import months_on, reporting_year
from divert.factors import Band
from divert.figures.compare import Verdict
from divert.figures.contract import Figures, Month, Target
from divert.figures.numbers.printed import PrintedRange, Printer
from divert.figures.numbers.scales import Scale
from divert.report.charts.known_months import first_day, known_until
from divert.report.paper.look import Look
from divert.report.sponsor.scope import Scope
from divert.report.wording.against_last_year import Against, against_last_year, alike
from divert.site.model import Site


@dataclass(frozen=True, slots=True)
class BoardFigures:
    """The figures of a board report; ``before`` is the same period a year earlier, if there is one.

    ``alike`` are the days of the period that the year before has too, where the site began within it.
    """

    period: Figures
    before: Figures | None = None
    alike: Figures | None = None


@dataclass(frozen=True, slots=True)
class Board:
    """All that the parts of a board report draw on; ``scope`` is the whole site."""

    figures: BoardFigures
    site: Site
    bands: Mapping[str, Band]
    printer: Printer
    look: Look
    scope: Scope
    screen: bool

    @property
    def mass(self) -> Scale:
        """Return the scale of the whole site's mass."""
        return self.scope.scale

    @property
    def now(self) -> Figures:
        """Return the figures of the period."""
        return self.figures.period

    @property
    def before(self) -> Figures | None:
        """Return the figures of the same period a year before."""
        return self.figures.before

    @property
    def comparable(self) -> Figures | None:
        """Return the year before where it can be set against this one: whole, and written down."""
        before = self.before
        if before is None or self.began_within or not before.weeks.logged or self.gaps_differ:
            return None
        return before

    @property
    def gaps_differ(self) -> bool:
        """Return whether one of the two times has clearly more weeks without entries than the other.

        What is missing would else be told as less.
        """
        if self.before is None:
            return False
        return not alike(self.now.weeks, self.before.weeks)

    @property
    def began_within(self) -> bool:
        """Return whether the site began in the course of the year before, which is then no whole."""
        return self.before is not None and self.before.period.start < self.site.started

    @property
    def same_days(self) -> tuple[str, Figures] | None:
        """Return the set and figures of now whose days the year before has too; None without any."""
        if self.before is None or not self.before.weeks.logged:
            return None
        if not self.began_within:
            return "period", self.now
        return None if self.figures.alike is None else ("alike", self.figures.alike)

    @property
    def diverted(self) -> PrintedRange:
        """Return what was diverted, as every sentence and drawing prints it."""
        return self.scope.diverted(self.printer)

    @property
    def against(self) -> Against | None:
        """Return how what was diverted compares with a year earlier; None where it cannot be told."""
        if self.comparable is None:
            return None
        return against_last_year(
            self.now.same_period_last_year, "same_period_last_year", self.diverted.central,
            self.mass, self.printer, self.now.weeks,
        )  # fmt: skip

    @property
    def than_before(self) -> Verdict | None:
        """Return how it compares with a year earlier in a word; None where it cannot be told."""
        return None if self.against is None else self.against.than_then

    @property
    def days_before(self) -> tuple[dt.date, dt.date] | None:
        """Return the first and last day that the year before stands for."""
        if self.before is None:
            return None
        period = self.before.period
        return max(period.start, self.site.started), period.end

    @property
    def known_until(self) -> dt.date:
        """Return the last day anything is known of: blank is not zero in a period still running."""
        return known_until(self.now)

    @property
    def known_months(self) -> list[tuple[int, Month]]:
        """Return the months from the site's start to the last day anything is known of, by place."""
        return [
            (i, m)
            for i, m in enumerate(self.now.by_month)
            if first_day(m) <= self.known_until and months_on(first_day(m), 1) > self.site.started
        ]

    @property
    def year(self) -> int:
        """Return the reporting year in which the period ends."""
        return reporting_year(self.now.period.end, self.site.year_starts)

    @property
    def target(self) -> tuple[int, Target] | None:
        """Return the period's target with its place in the figures, where the period is a year."""
        if self.now.period.kind != "year":
            return None
        for place, target in enumerate(self.now.targets):
            if target.year == self.year:
                return place, target
        return None
