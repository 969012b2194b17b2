"""What the signs in tables mean, how numbers are rounded, and when the next report comes."""

from __future__ import annotations

import datetime as dt

from divert.core.period import Period, month, quarter_of, reporting_year, whole_year
from divert.core.words import N_, Text
from divert.figures.contract import PeriodShown
from divert.figures.numbers.printed import Printer
from divert.report.wording.dates import span
from divert.report.wording.method_box import Note

_DAY = dt.timedelta(days=1)


def signs(printer: Printer) -> Note:
    """Return how numbers are rounded, and that a dash, nought and "under 1" are three things."""
    said = Text(N_("Each number is rounded by itself, so parts may not add. A dash: nothing recorded. "
                   "0: recorded, and nothing. “Under 1”: more than nothing, too little to print."
                   ))  # fmt: skip
    return Note(printer.plain(Text(N_("Rounding and signs."))), printer.say(said))


def next_report(
    period: PeriodShown, year_starts: int, printer: Printer, last: dt.date | None = None
) -> str:
    """Return when the next one comes; "" where the period is no month, quarter or year.

    ``last`` is the day on which a grant ends.
    """
    following = _following(period, year_starts)
    if following is None:
        return ""
    if last is not None and following.start > last:
        return printer.plain(Text(N_("The grant ends on {day}: no other statement follows."),
                                  {"day": printer.date(last)}))  # fmt: skip
    days = span(following.start, following.end, printer.language, printer.country)
    return printer.plain(Text(N_("The next report covers {days}."), {"days": days}))


def _following(period: PeriodShown, year_starts: int) -> Period | None:
    """Return the month, quarter or year after; of one still running, that one when it is over."""
    first = period.start if period.to_date else period.end + _DAY
    if period.kind == "month":
        return month(first.year, first.month, year_starts)
    if period.kind == "quarter":
        return quarter_of(first, year_starts)
    if period.kind == "year":
        return whole_year(reporting_year(first, year_starts), year_starts)
    return None
