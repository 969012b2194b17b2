"""Periods of a report: 2025-Q2, 2025, 2025-03, 2025-03/2025-05, all."""

from __future__ import annotations

import calendar
import datetime as dt
import re
from dataclasses import dataclass, replace
from typing import Literal

from divert.core.findings import CannotRun
from divert.core.words import N_, Text

Kind = Literal["year", "quarter", "month", "range", "all"]
_DAY = dt.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Period:
    """A span of days, both ends included; ``to_date`` where it had not ended on the day of asking."""

    label: str
    kind: Kind
    start: dt.date
    end: dt.date
    to_date: bool = False
    year_starts: int = 1


def _month_end(year: int, month: int) -> dt.date:
    return dt.date(year, month, calendar.monthrange(year, month)[1])


def months_on(day: dt.date, months: int) -> dt.date:
    """Return the first of the month ``months`` after the month of ``day``."""
    count = day.year * 12 + day.month - 1 + months
    return dt.date(count // 12, count % 12 + 1, 1)


def read_period(
    text: str,
    *,
    as_of: dt.date,
    started: dt.date,
    year_starts: int = 1,
) -> Period:
    """Read a period as typed; cut it at ``as_of`` and mark it "to date" where it has not ended.

    ``year_starts`` is the month (1-12) of the reporting year, which is named by the calendar year in
    which it ends. ``all`` runs from ``started`` to ``as_of``.
    Raises CannotRun with the shapes that are accepted.
    """
    period = _parse(text.strip(), started, year_starts, as_of)
    if period.start > as_of:
        raise CannotRun(
            Text(N_("The period {label} lies after {day}: nothing can be said about it yet."),
                 {"label": period.label, "day": as_of})
        )  # fmt: skip
    if period.kind != "all" and period.end > as_of:
        return replace(period, end=as_of, to_date=True)
    return period


def _parse(text: str, started: dt.date, year_starts: int, as_of: dt.date) -> Period:
    try:
        if text == "all":
            return Period("all", "all", min(started, as_of), as_of, year_starts=year_starts)
        if match := re.fullmatch(r"(?:FY)?(\d{4})", text):
            return whole_year(int(match[1]), year_starts, text)
        if match := re.fullmatch(r"(\d{4})-?Q([1-4])", text, re.I):
            return quarter(int(match[1]), int(match[2]), year_starts)
        if match := re.fullmatch(r"(\d{4})-(\d{2})", text):
            return month(int(match[1]), int(match[2]), year_starts)
        if match := re.fullmatch(r"(\d{4}-\d{2}(?:-\d{2})?)/(\d{4}-\d{2}(?:-\d{2})?)", text):
            start = dt.date.fromisoformat(match[1] if len(match[1]) == 10 else match[1] + "-01")
            end = (
                dt.date.fromisoformat(match[2])
                if len(match[2]) == 10
                else _month_end(int(match[2][:4]), int(match[2][5:]))
            )
            if start > end:
                raise ValueError
            return Period(text, "range", start, end, year_starts=year_starts)
    except ValueError:
        pass
    raise CannotRun(
        Text(N_('The period "{text}" is not one I can read. Write 2025, 2025-Q2, 2025-03, '
                "2025-03/2025-05, 2025-03-15/2025-06-01 or all."), {"text": text})
    )  # fmt: skip


def whole_year(number: int, year_starts: int = 1, label: str = "") -> Period:
    """Return the reporting year named ``number``, from its first day to its last."""
    start = dt.date(number if year_starts == 1 else number - 1, year_starts, 1)
    return Period(
        label or str(number), "year", start, months_on(start, 12) - _DAY, year_starts=year_starts
    )


def quarter(year: int, number: int, year_starts: int = 1) -> Period:
    """Return quarter 1-4 of the reporting year named ``year``."""
    start = months_on(whole_year(year, year_starts).start, 3 * (number - 1))
    end = months_on(start, 3) - _DAY
    return Period(f"{year}-Q{number}", "quarter", start, end, year_starts=year_starts)


def month(year: int, number: int, year_starts: int = 1) -> Period:
    """Return one calendar month."""
    start = dt.date(year, number, 1)
    return Period(
        f"{year}-{number:02d}", "month", start, _month_end(year, number), False, year_starts
    )


def reporting_year(day: dt.date, year_starts: int = 1) -> int:
    """Return the name of the reporting year a day falls in: the calendar year in which it ends."""
    return day.year + 1 if year_starts > 1 and day.month >= year_starts else day.year


def quarter_of(day: dt.date, year_starts: int = 1) -> Period:
    """Return the quarter of the reporting year that a day falls in."""
    return quarter(
        reporting_year(day, year_starts), (day.month - year_starts) % 12 // 3 + 1, year_starts
    )


def previous(period: Period) -> Period | None:
    """Return the calendar month, quarter or year before; of a range, as many days before; of all, None."""
    if period.kind == "all":
        return None
    if period.kind == "range":
        days = period.end - period.start + _DAY
        start, end = period.start - days, period.start - _DAY
        return Period(f"{start}/{end}", "range", start, end, year_starts=period.year_starts)
    last = period.start - _DAY
    if period.kind == "month":
        return month(last.year, last.month, period.year_starts)
    if period.kind == "quarter":
        return quarter_of(last, period.year_starts)
    return whole_year(
        reporting_year(last, period.year_starts), period.year_starts, _year_label(period, last)
    )


def _year_label(period: Period, day: dt.date) -> str:
    prefix = "FY" if period.label.startswith("FY") else ""
    return f"{prefix}{reporting_year(day, period.year_starts)}"


def same_day_last_year(day: dt.date) -> dt.date:
    """Return the day a year before; the 28th for a 29 February."""
    try:
        return day.replace(year=day.year - 1)
    except ValueError:  # 29 February
        return day.replace(year=day.year - 1, day=28)


def same_period_last_year(period: Period) -> Period | None:
    """Return the same dates a year earlier (up to the same day where to date); of all, None."""
    if period.kind == "all":
        return None
    start, end = same_day_last_year(period.start), same_day_last_year(period.end)
    if period.end == _month_end(period.end.year, period.end.month) and not period.to_date:
        end = _month_end(end.year, end.month)  # a leap February still ends with its month
    if period.kind == "quarter":
        label = f"{int(period.label[:4]) - 1}-{period.label[5:]}"
    elif period.kind == "month":
        label = f"{start:%Y-%m}"
    elif period.kind == "year":
        label = _year_label(period, end)
    else:
        label = f"{start}/{end}"
    return replace(period, label=label, start=start, end=end)


def folder_name(label: str) -> str:
    """Return a period's folder name: a range is written ``2025-03_to_2025-05``."""
    return label.replace("/", "_to_")
