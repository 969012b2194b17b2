"""Months, quarters and years of a timeline."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace

from divert.core.period import Period, quarter_of, read_period, reporting_year, same_day_last_year
from divert.figures.contract import Compared, Month, Span
from divert.figures.stretches import DAY, first_of, month_count
from divert.figures.timeline import Days, Timeline


def by_month(line: Timeline, start: dt.date, end: dt.date, started: dt.date) -> tuple[Month, ...]:
    """Return the months between two days, each beside the same month a year before.

    The days a year before end on the same day, so that a month to date is compared with its like.
    """
    first, count = month_count(start), month_count(end) - month_count(start) + 1
    days = _months_between(start, end)
    received, diverted = line.both(days)
    # The same months a year before are those twelve columns on.
    before = _months_between(*year_before(start, end))
    last_year, changes = line.spans("diverted", before), line.changes("diverted", days, before)
    out = []
    for n in range(count):
        day = first_of(first + n)
        month_end = first_of(first + n + 1) - DAY
        partial = (n == 0 and start > day) or (n == count - 1 and end < month_end)
        had = first_of(first + n - 11) > started
        out.append(
            Month(
                f"{day:%Y-%m}",
                received[n],
                diverted[n],
                last_year[n] if had else None,
                partial,
                changes[n] if had else None,
            )
        )
    return tuple(out)


def _months_between(start: dt.date, end: dt.date) -> list[Days]:
    months = range(month_count(start), month_count(end) + 1)
    return [(max(start, first_of(m)), min(end, first_of(m + 1) - DAY)) for m in months]


def year_before(start: dt.date, end: dt.date) -> tuple[dt.date, dt.date]:
    """Return the days a year before two days, ending on the same day of the year."""
    return same_day_last_year(start), same_day_last_year(end + DAY) - DAY


def compared(line: Timeline, now: Period, then: Period, started: dt.date) -> Compared:
    """Return another period's masses, and by how much the period's own differ from them.

    No difference is given where the other began before the site did: it is no whole to compare with.
    """
    days = (then.start, then.end)
    change = None
    if then.start >= started:
        change = line.changes("diverted", [(now.start, now.end)], [days])[0]
    return Compared(
        then.label, then.start, then.end, line.total("diverted", *days),
        line.total("received", *days), change=change,
    )  # fmt: skip


def spans(line: Timeline, periods: Iterable[Period], a_year_on: int) -> tuple[Span, ...]:
    """Return diverted, received and weighed mass of whole periods, e.g. quarters.

    ``a_year_on`` is how many of them lie between one and the same a year later: 4 quarters, 1 year.
    A span that is not whole, or whose year before is not, has no difference.
    """
    chosen = list(periods)
    days = [(p.start, p.end) for p in chosen]
    received, diverted = line.both(days)
    later = [
        n for n in range(a_year_on, len(chosen))
        if not chosen[n].to_date and not chosen[n - a_year_on].to_date
    ]  # fmt: skip
    now, then = [days[n] for n in later], [days[n - a_year_on] for n in later]
    changes = dict(zip(later, line.changes("diverted", now, then), strict=True))
    return tuple(
        Span(p.label, p.start, p.end, r, d, line.weighed_between(p.start, p.end), p.to_date,
             changes.get(n))
        for n, (p, r, d) in enumerate(zip(chosen, received, diverted, strict=True))
    )  # fmt: skip


def quarters(started: dt.date, end: dt.date, year_starts: int) -> list[Period]:
    """Return the quarters from the start to a day, the last one cut there and marked to date."""
    out = []
    day = started
    while day <= end:
        label = quarter_of(day, year_starts).label
        period = read_period(label, as_of=end, started=started, year_starts=year_starts)
        out.append(period)
        day = quarter_of(day, year_starts).end + DAY
    return _first_partial(out, started)


def years(started: dt.date, end: dt.date, year_starts: int) -> list[Period]:
    """Return the reporting years from the start to a day, the last cut there."""
    names = range(reporting_year(started, year_starts), reporting_year(end, year_starts) + 1)
    found = [
        read_period(str(n), as_of=end, started=started, year_starts=year_starts) for n in names
    ]
    return _first_partial(found, started)


def _first_partial(periods: list[Period], started: dt.date) -> list[Period]:
    if periods and periods[0].start < started:
        periods[0] = replace(periods[0], to_date=True)
    return periods
