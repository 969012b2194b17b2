"""The periods that a person may choose: quarters, years and grants, the last one first."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection
from dataclasses import dataclass

from divert.core.period import (
    Period,
    months_on,
    quarter_of,
    read_period,
    reporting_year,
    whole_year,
)
from divert.site.model import Site


@dataclass(frozen=True, slots=True)
class Periods:
    """Quarters and reporting years with any day of the site in them, newest first, and grants'."""

    quarters: tuple[Period, ...]
    years: tuple[Period, ...]
    grants: tuple[tuple[str, str], ...]


def periods_of(site: Site, first: dt.date, today: dt.date) -> Periods:
    """Return the periods from the first entry to today."""
    start = min(max(first, site.started), today)
    quarters, day = [], start
    while day <= today:
        quarters.append(quarter_of(day, site.year_starts))
        day = months_on(quarters[-1].start, 3)
    years = [
        whole_year(number, site.year_starts)
        for number in range(
            reporting_year(start, site.year_starts), reporting_year(today, site.year_starts) + 1
        )
    ]
    grants = tuple(
        (g.name, f"{g.start or site.started}/{min(g.end or today, today)}")
        for g in site.grants
        if (g.start or site.started) <= today
    )
    return Periods(tuple(reversed(quarters)), tuple(reversed(years)), grants)


def last_whole_quarter(site: Site, today: dt.date) -> Period:
    """Return the last quarter that has ended."""
    return quarter_of(
        quarter_of(today, site.year_starts).start - dt.timedelta(days=1), site.year_starts
    )


def last_quarter_logged(site: Site, days: Collection[dt.date], today: dt.date) -> Period:
    """Return the last quarter that has ended and in which anything was logged, else the last ended."""
    ended = last_whole_quarter(site, today)
    by_then = [day for day in days if site.started <= day <= ended.end]
    return quarter_of(max(by_then), site.year_starts) if by_then else ended


def last_whole_year(site: Site, today: dt.date) -> Period:
    """Return the last reporting year that has ended."""
    return whole_year(reporting_year(today, site.year_starts) - 1, site.year_starts)


def period_from(text: str, site: Site, today: dt.date) -> Period:
    """Read a period as a person chose it. Raises CannotRun."""
    return read_period(text, as_of=today, started=site.started, year_starts=site.year_starts)
