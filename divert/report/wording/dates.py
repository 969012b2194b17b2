"""Dates and periods in words, by the language and the country."""

from __future__ import annotations

import calendar
import datetime as dt
from typing import TYPE_CHECKING, Literal

from divert.core.words import N_, Text, catalogue, first_of_month
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.written import locale_of

if TYPE_CHECKING:
    from divert.figures.contract import PeriodShown

Width = Literal["abbreviated", "wide"]
_QUARTERS = (
    N_("First quarter {year}"),
    N_("Second quarter {year}"),
    N_("Third quarter {year}"),
    N_("Fourth quarter {year}"),
)


def month_name(month: str, language: str, width: Width = "abbreviated") -> str:
    """Return the name of a month written ``YYYY-MM``: "Apr", or "April" where ``width="wide"``."""
    from babel.dates import get_month_names

    names = get_month_names(width, "stand-alone", locale=language)
    return str(names[int(month[5:7])])


def month_and_year(day: dt.date, language: str) -> str:
    """Return "April 2025"."""
    from babel.dates import format_skeleton

    return str(format_skeleton("yMMMM", day, locale=language))


def span(start: dt.date, end: dt.date, language: str, country: str = "US") -> str:
    """Return the days of a span in words: "April to June 2025", else "March 15 to June 1, 2025"."""
    from babel.dates import format_date, format_skeleton

    say = catalogue(language).gettext
    if _whole_months(start, end):
        if (start.year, start.month) == (end.year, end.month):
            return month_and_year(start, language)
        last = month_and_year(end, language)
        first = (
            month_name(f"{start:%Y-%m}", language, "wide")
            if start.year == end.year
            else month_and_year(start, language)
        )
        return say(N_("{first} to {last}")).format(first=first, last=last)
    locale = locale_of(language, country)
    first = (
        format_skeleton("MMMMd", start, locale=locale)
        if start.year == end.year
        else format_date(start, "long", locale=locale)
    )
    first = first_of_month(str(first), start, language)
    last = first_of_month(str(format_date(end, "long", locale=locale)), end, language)
    if start == end:
        return last
    between = catalogue(language).pgettext("days", "{first} to {last}")
    return between.format(first=first, last=last)


def shown_days(period: PeriodShown, printer: Printer) -> str:
    """Return a period's days in words, ", to date" where it has not ended."""
    days = span(period.start, period.end, printer.language, printer.country)
    return printer.plain(Text(N_("{days}, to date"), {"days": days})) if period.to_date else days


def _whole_months(start: dt.date, end: dt.date) -> bool:
    return start.day == 1 and end.day == calendar.monthrange(end.year, end.month)[1]


def period_name(period: PeriodShown, language: str, country: str = "US") -> str:
    """Return a period's name: "Second quarter 2025", "2025", "April 2025", or its days."""
    say = catalogue(language).gettext
    if period.kind == "quarter":
        return say(_QUARTERS[int(period.label[-1]) - 1]).format(year=period.label[:4])
    if period.kind == "year":
        year = period.label.removeprefix("FY")
        whole = period.start.month == 1 or not period.label
        return year if whole else say(N_("Reporting year {year}")).format(year=year)
    if period.kind == "month" and not period.to_date:
        return month_and_year(period.start, language)
    return span(period.start, period.end, language, country)


def this_period(period: PeriodShown) -> Text:
    """Return how a sentence speaks of the period: "this quarter", "this year so far"."""
    words = {
        ("quarter", False): N_("this quarter"),
        ("quarter", True): N_("this quarter so far"),
        ("year", False): N_("this year"),
        ("year", True): N_("this year so far"),
        ("month", False): N_("this month"),
        ("month", True): N_("this month so far"),
        ("range", False): N_("in this period"),
        ("range", True): N_("in this period so far"),
    }
    return Text(words.get((period.kind, period.to_date), N_("since the start")))
