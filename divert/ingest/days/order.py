"""Which order the parts of a column's dates follow.

The order is settled by what the column itself shows (a day above 12), by site.toml, by the sheet's
month, by which order leaves every date between the site's start and today, and by which order lets
the rows run forward in time; where none of these speaks, the ambiguous dates are set aside and asked.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

import numpy as np

from divert.ingest.arrays import NAT, Days
from divert.ingest.cells.date import ORDERS, DateRead, Order, as_date, with_year
from divert.ingest.cells.problem import Problem
from divert.ingest.days.column import Dated, Parsed
from divert.ingest.days.turned import is_text, steps_back, turned_round
from divert.ingest.tables.context import Context
from divert.site.model import Site


@dataclass(frozen=True, slots=True)
class Evidence:
    """Which order a column shows: ``shown`` by dates that only one order allows, ``conflict`` both."""

    shown: Order | None = None
    conflict: bool = False


def evidence(parsed: Parsed) -> Evidence:
    """Return what a column's unambiguous text dates show of its order."""
    only: set[Order] = set()
    for place in parsed.written:
        if parsed.loose[place] or not is_text(parsed.reads[place]):
            continue
        possible = [o for o in ORDERS if not np.isnat(parsed.by_order[o][place])]
        if len(possible) == 1:
            only.add(possible[0])
    if len(only) == 1:
        return Evidence(next(iter(only)))
    return Evidence(conflict=len(only) > 1)


def order_followed(
    parsed: Parsed, site: Site, as_of: dt.date, context: Context, elsewhere: Order | None
) -> Order | None:
    """Return the order that a column's text dates follow; None where nothing settles it."""
    return _order(parsed, evidence(parsed), site, as_of, context, elsewhere)[0]


def resolve(
    parsed: Parsed,
    site: Site,
    as_of: dt.date,
    context: Context,
    elsewhere: Order | None = None,
    planned: Order | None = None,
) -> Dated:
    """Return the date of each row.

    ``elsewhere`` is the order other columns of the same file show, ``planned`` the one a plan gives.
    """
    rows = len(parsed.codes)
    problem = np.full(rows, "", dtype=object)
    have = parsed.codes >= 0
    shown = evidence(parsed)
    order, by_site = (
        _order(parsed, shown, site, as_of, context, elsewhere)
        if planned is None
        else (planned, shown.shown is None and planned == site.dates)
    )
    chosen = parsed.by_order[order or "month first"].copy()
    for other in ORDERS:  # dates that only another order allows stand as they are
        gaps = np.isnat(chosen) & ~parsed.loose
        chosen[gaps] = parsed.by_order[other][gaps]
    unread = np.zeros(len(parsed.reads), dtype=bool)
    unread[parsed.written] = [_is_unread(parsed.reads[place]) for place in parsed.written]
    chosen = np.append(chosen, NAT)
    days = chosen[parsed.codes]
    if context.span is None:  # else the title has given each its year, or has none for it
        days = _years_from_rows(parsed, order, days)
    problem[have & np.isnat(days)] = "no year"
    if unread.any():
        problem[have & np.append(unread, False)[parsed.codes] & np.isnat(days)] = "unreadable"
    ambiguous = np.append(parsed.ambiguous, False)[parsed.codes]
    if order is None:
        problem[have & ambiguous] = "ambiguous"
        days = np.where(have & ambiguous, NAT, days)
    turned = turned_round(parsed)
    problem[turned] = "turned round"
    days = np.where(turned, NAT, days)
    return Dated(days, problem, order, ambiguous & by_site & have)


def _is_unread(read: DateRead | Problem) -> bool:
    return isinstance(read, Problem) or (not read.readings and read.day_alone is not None)


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
    ambiguous = np.append(parsed.ambiguous & ~parsed.loose, False)[parsed.codes]
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
        fit.append((order, steps_back(run) / max(1, len(run)), len(np.unique(run))))
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
            if isinstance(read, Problem) or not read.readings:  # a day alone states no month
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
