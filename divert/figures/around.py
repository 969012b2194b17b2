"""The days at which a period's cells are cut: its own, its neighbours', those on which settings change."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from divert.convert.workings import Workings
from divert.core.period import Period, previous, read_period, same_period_last_year, whole_year
from divert.figures import product
from divert.figures.series import quarters, years
from divert.figures.stretches import DAY, first_of, month_count
from divert.site.model import Site

HISTORY_MONTHS = 24


@dataclass(frozen=True, slots=True)
class Around:
    """A period's neighbours and ``days``, each of which opens a stretch of the cells.

    Who works out one period by the same days gets the same draws, in a site's report as in a sum of
    many sites.
    """

    history_start: dt.date
    before: Period | None
    year_ago: Period | None
    target_years: Mapping[int, Period]
    quarters: list[Period]
    years: list[Period]
    days: list[dt.date]


def around(workings: Workings, period: Period) -> Around:
    """Return what lies around a period."""
    site, end = workings.site, period.end
    history_start = max(
        first_of(month_count(end) - HISTORY_MONTHS + 1), first_of(month_count(site.started))
    )
    history_start = min(history_start, first_of(month_count(end)))
    before, year_ago = previous(period), same_period_last_year(period)
    target_years = _target_years(site, end)
    all_quarters = quarters(site.started, end, site.year_starts)
    all_years = years(site.started, end, site.year_starts)
    compared = [p for p in (before, year_ago) if p is not None]
    near = [period, *compared, *target_years.values(), *all_quarters, *all_years]
    days = [d for p in near for d in (p.start, p.end + DAY)]
    days += [history_start, site.started, end + DAY, product.year_back(end), *_settings_days(site)]
    return Around(history_start, before, year_ago, target_years, all_quarters, all_years, days)


def _settings_days(site: Site) -> list[dt.date]:
    since = [*(v.since for v in site.landfills), *(s.since for s in site.sponsors)]
    days = [d for d in since if d is not None]
    days += [d for g in site.grants for d in (g.start, g.end and g.end + DAY) if d]
    return days


def _target_years(site: Site, end: dt.date) -> dict[int, Period]:
    """Return the days, up to one day, of each target's year that has begun by then."""
    return {
        year: read_period(str(year), as_of=end, started=site.started, year_starts=site.year_starts)
        for year, _ in site.targets_kg
        if whole_year(year, site.year_starts).start <= end
    }
