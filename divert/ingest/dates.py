"""A column of dates: which order its texts follow, and which year where none is written.

The order is settled by what the column itself shows (a day above 12), by site.toml, by the sheet's
month, by which order leaves every date between the site's start and today, and by which order lets
the rows run forward in time; where none of these speaks, the ambiguous dates are set aside and asked.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from divert.ingest.cells.date import ORDERS, DateRead, Day, Order, as_date, read_cell, with_year
from divert.ingest.cells.problem import Problem
from divert.ingest.context import Context
from divert.ingest.grid import Cell
from divert.ingest.sheet import Distinct
from divert.site import Site

Days = npt.NDArray[np.datetime64]
Bools = npt.NDArray[np.bool_]
NAT = np.datetime64("NaT", "D")


@dataclass(frozen=True)
class Dated:
    """The dates of a stretch of rows; NaT where none. ``problem`` names why, by row, "" where none.

    ``by_site`` counts the rows whose order only site.toml settled; ``order`` is the one followed.
    """

    days: Days
    problem: npt.NDArray[np.object_]
    order: Order | None = None
    by_site: Bools = field(default_factory=lambda: np.zeros(0, dtype=bool))
    month_only: Bools = field(default_factory=lambda: np.zeros(0, dtype=bool))


@dataclass(frozen=True)
class Parsed:
    """A column's distinct cells as read, each with its dates under every order (NaT: impossible)."""

    reads: list[DateRead | Problem]
    codes: npt.NDArray[np.int64]
    by_order: dict[Order, Days]
    ambiguous: Bools
    yearless: Bools

    __hash__ = object.__hash__


def parse(cells: Distinct, context: Context, site: Site, as_of: dt.date) -> Parsed:
    """Read a column's distinct cells, with the year its sheet names where none is written."""
    reads: list[DateRead | Problem] = []
    fixed: Sequence[Cell] = cells.cells
    by_order = {order: np.full(len(fixed), NAT, dtype="datetime64[D]") for order in ORDERS}
    ambiguous = np.zeros(len(fixed), dtype=bool)
    yearless = np.zeros(len(fixed), dtype=bool)
    plain = np.fromiter((isinstance(c, dt.date) for c in fixed), dtype=bool, count=len(fixed))
    if plain.any():
        known = np.array([c for c in fixed if isinstance(c, dt.date)], dtype="datetime64[D]")
        for order in ORDERS:
            by_order[order][plain] = known
    nothing = DateRead()
    for place, cell in enumerate(fixed):
        if plain[place]:
            reads.append(nothing)
            continue
        read = read_cell(cell)
        reads.append(read)
        if isinstance(read, Problem):
            continue
        days = _with_context(read, context)
        yearless[place] = any(d.year is None for _, d in days)
        for order, day in days:
            year = day if day.year is not None else _only_year(day, context, site, as_of)
            found = as_date(year)
            if found is not None:
                by_order[order][place] = np.datetime64(found, "D")
        _drop_far_years(by_order, place, site, as_of)
        stated = {by_order[o][place] for o, _ in days if not np.isnat(by_order[o][place])}
        ambiguous[place] = len({d for _, d in days}) > 1 and len(stated) > 1
    return Parsed(reads, cells.codes, by_order, ambiguous, yearless)


def _drop_far_years(by_order: dict[Order, Days], place: int, site: Site, as_of: dt.date) -> None:
    """Forget the reading of 24-03-05 as year first where that year is none of the site's."""
    day = by_order["year first"][place]
    others = [by_order[o][place] for o in ORDERS if o != "year first"]
    near = np.datetime64(site.started, "D") - 366 <= day <= np.datetime64(as_of, "D")
    if not np.isnat(day) and not near and any(not np.isnat(o) and o != day for o in others):
        by_order["year first"][place] = NAT


def _with_context(read: DateRead, context: Context) -> list[tuple[Order, Day]]:
    if read.day_alone is not None and context.month is not None:
        day = Day(
            context.years[0] if len(context.years) == 1 else None, context.month, read.day_alone
        )
        return [(order, day) for order in ORDERS]
    return list(read.readings)


def _only_year(day: Day, context: Context, site: Site, as_of: dt.date) -> Day:
    """Return the day in the year its sheet names, or in the only year it can have been."""
    if len(context.years) == 1:
        return with_year(day, context.years[0])
    if len(context.years) == 2:
        first = as_date(with_year(day, context.years[0]))
        start = site.year_starts if site.year_starts > 1 else 7
        later = day.month < start or (first is not None and first < site.started)
        return with_year(day, context.years[1] if later else context.years[0])
    fits = [
        y for y in range(site.started.year, as_of.year + 1)
        if (found := as_date(with_year(day, y))) is not None and site.started <= found <= as_of
    ]  # fmt: skip
    return with_year(day, fits[0]) if len(fits) == 1 else day


@dataclass(frozen=True, slots=True)
class Evidence:
    """Which order a column shows: ``shown`` by dates that only one order allows, ``conflict`` both."""

    shown: Order | None = None
    conflict: bool = False
    counts: tuple[tuple[Order, int], ...] = ()


def evidence(parsed: Parsed) -> Evidence:
    """Return what a column's unambiguous text dates show of its order."""
    only: dict[Order, int] = {}
    text = np.array(
        [not isinstance(r, Problem) and bool(r.readings) and not r.sure for r in parsed.reads],
        dtype=bool,
    )
    for place in np.flatnonzero(text):
        possible = [o for o in ORDERS if not np.isnat(parsed.by_order[o][place])]
        if len(possible) == 1:
            only[possible[0]] = only.get(possible[0], 0) + 1
    if len(only) == 1:
        return Evidence(next(iter(only)), counts=tuple(only.items()))
    return Evidence(conflict=len(only) > 1, counts=tuple(only.items()))


def resolve(
    parsed: Parsed, site: Site, as_of: dt.date, context: Context, elsewhere: Order | None = None
) -> Dated:
    """Return the date of each row. ``elsewhere`` is the order other columns of the same file show."""
    rows = len(parsed.codes)
    problem = np.full(rows, "", dtype=object)
    have = parsed.codes >= 0
    shown = evidence(parsed)
    order, by_site = _order(parsed, shown, site, as_of, context, elsewhere)
    chosen = parsed.by_order[order or "month first"].copy()
    for other in ORDERS:  # dates that only another order allows stand as they are
        gaps = np.isnat(chosen)
        chosen[gaps] = parsed.by_order[other][gaps]
    unread = np.array(
        [
            isinstance(r, Problem) or (not r.readings and r.day_alone is not None)
            for r in parsed.reads
        ],
        dtype=bool,
    )
    chosen = np.append(chosen, NAT)
    days = chosen[parsed.codes]
    days = _years_from_rows(parsed, order, days)
    problem[have & np.isnat(days)] = "no year"
    if unread.any():
        problem[have & np.append(unread, False)[parsed.codes] & np.isnat(days)] = "unreadable"
    ambiguous = np.append(parsed.ambiguous, False)[parsed.codes]
    if order is None:
        problem[have & ambiguous] = "ambiguous"
        days = np.where(have & ambiguous, NAT, days)
    month_only = np.array(
        [
            not isinstance(r, Problem) and bool(r.readings) and r.readings[0][1].day is None
            for r in parsed.reads
        ]
        + [False],
        dtype=bool,
    )
    return Dated(days, problem, order, ambiguous & by_site & have, month_only[parsed.codes] & have)


def _order(
    parsed: Parsed,
    shown: Evidence,
    site: Site,
    as_of: dt.date,
    context: Context,
    elsewhere: Order | None,
) -> tuple[Order | None, bool]:
    """Return the order to follow and whether site.toml alone settled it."""
    if not parsed.ambiguous.any():
        return site.dates or "month first", False
    if shown.shown is not None and (site.dates is None or shown.shown == site.dates):
        return shown.shown, False
    agreed = _agreed(parsed, site, as_of, context)
    if site.dates is not None:
        if shown.shown is None:
            return site.dates, True
        return (agreed, False) if agreed is not None else (None, False)
    if shown.conflict:
        return None, False
    return elsewhere or agreed, False


def _agreed(parsed: Parsed, site: Site, as_of: dt.date, context: Context) -> Order | None:
    """Return the one order that fits the sheet's month, the site's days and the run of the rows."""
    ambiguous = np.append(parsed.ambiguous, False)[parsed.codes]
    have = parsed.codes >= 0
    fit: list[tuple[Order, float, int]] = []
    start, end = np.datetime64(site.started, "D"), np.datetime64(as_of, "D")
    for order in ORDERS:
        days = np.append(parsed.by_order[order], NAT)[parsed.codes]
        if np.isnat(days[ambiguous]).any():
            continue
        if context.month is not None:
            months = days[ambiguous].astype("datetime64[M]").astype(int) % 12 + 1
            if not (months == context.month).all():
                continue
        if ((days[ambiguous] < start) | (days[ambiguous] > end)).any():
            continue
        run = days[have]
        run = run[~np.isnat(run)]
        back = int((np.diff(run) < np.timedelta64(0, "D")).sum())
        fit.append((order, back / max(1, len(run)), len(np.unique(run))))
    if len(fit) == 1:
        return fit[0][0]
    if not fit:
        return None
    fit.sort(key=lambda f: f[1])
    best, second = fit[0], fit[1]
    steady = best[1] == 0 and best[2] >= 4 and second[1] > 0
    return best[0] if steady else None


def _years_from_rows(parsed: Parsed, order: Order | None, days: Days) -> Days:
    """Give a date with no year the year of the rows before it, going on when the months wrap."""
    lacking = np.append(parsed.yearless, False)[parsed.codes] & np.isnat(days)
    if not lacking.any() or not (~np.isnat(days)).any():
        return days
    out = days.copy()
    before: np.datetime64 | None = None
    for row in range(len(out)):
        if parsed.codes[row] < 0:
            continue
        if lacking[row] and before is not None:
            read = parsed.reads[parsed.codes[row]]
            if isinstance(read, Problem):
                continue
            stated = dict(read.readings).get(order or "month first") or read.readings[0][1]
            last = before.astype(object)
            year = last.year + 1 if last.month - stated.month > 6 else last.year
            found = as_date(with_year(stated, year))
            if found is not None:
                out[row] = np.datetime64(found, "D")
        if not np.isnat(out[row]):
            before = out[row]
    return out
