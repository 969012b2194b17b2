"""The year of a date written without one: its sheet's, or the only possible one."""

from __future__ import annotations

import datetime as dt

from divert.ingest.cells.date import Day, as_date, with_year
from divert.ingest.tables.context import Context
from divert.site.model import Site


def in_only_year(day: Day, context: Context, site: Site, as_of: dt.date) -> Day:
    """Return the day in the year its sheet names, or in the only year it can have been."""
    if len(context.years) == 1:
        return with_year(day, context.years[0])
    if context.span is not None:
        first, last = context.span
        ends = ((first.year or 0, first.month), (last.year or 0, last.month))
        inside = [
            y for y in range(ends[0][0], ends[1][0] + 1) if ends[0] <= (y, day.month) <= ends[1]
        ]
        return with_year(day, inside[0]) if len(inside) == 1 else day
    if len(context.years) == 2:
        earlier = as_date(with_year(day, context.years[0]))
        start = site.year_starts if site.year_starts > 1 else 7
        later = day.month < start or (earlier is not None and earlier < site.started)
        return with_year(day, context.years[1] if later else context.years[0])
    fits = possible_years(day, site, as_of)
    return with_year(day, fits[0]) if len(fits) == 1 else day


def possible_years(day: Day, site: Site, as_of: dt.date) -> list[int]:
    """Return the years in which a day without one lies between the site's start and today."""
    return [
        y for y in range(site.started.year, as_of.year + 1)
        if (found := as_date(with_year(day, y))) is not None and site.started <= found <= as_of
    ]  # fmt: skip
