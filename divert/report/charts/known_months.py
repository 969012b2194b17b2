"""Which months nothing is known of: a month without an entry is not a month of nothing."""

from __future__ import annotations

import datetime as dt

from divert.core.period import months_on
from divert.figures.contract import Figures, Month


def first_day(month: Month) -> dt.date:
    """Return the first day of a month."""
    return dt.date(int(month.month[:4]), int(month.month[5:7]), 1)


def a_year_before(month: Month) -> str:
    """Return the same month a year before, as ``YYYY-MM``."""
    return f"{int(month.month[:4]) - 1}{month.month[4:]}"


def known_until(figures: Figures) -> dt.date:
    """Return the last day anything is known of: in a period still running, that of its last entry.

    A period of everything runs on as well.
    """
    period = figures.period
    if (period.to_date or period.kind == "all") and period.last_entry is not None:
        return min(period.end, period.last_entry)
    return period.end


def broken_off(figures: Figures) -> str:
    """Return the month (``YYYY-MM``) gone by that the records end within; "" where there is none.

    The same month a year before is whole, and so no like of it.
    """
    until = known_until(figures)
    over = until.month != (until + dt.timedelta(days=1)).month
    return "" if over or months_on(until, 1) > figures.period.end else f"{until:%Y-%m}"


def silent_months(figures: Figures) -> frozenset[str]:
    """Return the months (``YYYY-MM``) of a period that nothing is known of.

    Nothing came in and a week of the month is missing (a week belongs to the month of its Thursday);
    a month in which the site was closed, or wrote down that nothing came, is a month of zero.
    """
    until = known_until(figures)
    missing = {f"{monday + dt.timedelta(days=3):%Y-%m}" for monday in figures.weeks.missing_weeks}
    return frozenset(
        m.month
        for m in figures.by_month
        if first_day(m) > until
        or (m.month in missing and not m.received.central and not m.diverted.central)
    )
