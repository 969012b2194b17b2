"""Dates that a spreadsheet program turned round while they were typed.

Typed day first into a program that expects the month first, 03/04 becomes a date of 4 March, while
25/03 stays a text. Such a column holds texts that only one order allows, beside stored dates of
which every day could be a month. Nothing in a stored date says which it was, so it is asked about.
"""

from __future__ import annotations

import numpy as np

from divert.ingest.arrays import NAT, Bools, Codes, Days
from divert.ingest.cells.date import DateRead
from divert.ingest.cells.problem import Problem
from divert.ingest.days.column import STORED, Parsed

_LEAST = 2  # of each kind: one alone may be chance
_BY_CHANCE = 4  # stored dates that may all lie before the 13th by chance: (12/30)^4 is 2.6 %


def turned_round(parsed: Parsed) -> Bools:
    """Return the rows whose stored date was likely turned round (those with day = month excepted)."""
    none = np.zeros(len(parsed.codes), dtype=bool)
    if len(parsed.written) < _LEAST:
        return none
    texts = np.array([is_text(r) for r in parsed.reads], dtype=bool)
    stored = np.array([r is STORED for r in parsed.reads], dtype=bool)
    if texts.sum() < _LEAST or stored.sum() < _LEAST or parsed.ambiguous.any():
        return none
    both = ~np.isnat(parsed.by_order["month first"]) & ~np.isnat(parsed.by_order["day first"])
    only_day_first = texts & np.isnat(parsed.by_order["month first"])
    only_month_first = texts & np.isnat(parsed.by_order["day first"])
    if (texts & both).any() or (only_day_first.any() and only_month_first.any()):
        return none
    as_is = parsed.by_order["month first"].copy()
    days_of_month = _day(as_is[stored])
    if (days_of_month > 12).any():
        return none
    swapped = as_is.copy()
    swapped[stored] = _swapped(as_is[stored])
    spread = np.append(stored & (as_is != swapped), False)[parsed.codes]
    back, back_swapped = steps_back(_rows(parsed, as_is)), steps_back(_rows(parsed, swapped))
    if back_swapped < back or (back_swapped == back and spread.sum() >= _BY_CHANCE):
        return np.asarray(spread)
    return none


def is_text(read: DateRead | Problem) -> bool:
    """Return whether a cell's dates were read from its text, and may be meant in several orders."""
    return not isinstance(read, Problem) and bool(read.readings) and not read.sure


def _day(days: Days) -> Codes:
    return np.asarray((days - days.astype("datetime64[M]")).astype(np.int64) + 1)


def _swapped(days: Days) -> Days:
    months = days.astype("datetime64[M]").astype(np.int64) % 12 + 1
    starts = days.astype("datetime64[Y]").astype("datetime64[M]") + (_day(days) - 1)
    return np.asarray(starts.astype("datetime64[D]") + (months - 1))


def _rows(parsed: Parsed, chosen: Days) -> Days:
    filled = np.where(np.isnat(chosen), parsed.by_order["day first"], chosen)
    days = np.append(filled, NAT)[parsed.codes]
    return np.asarray(days[~np.isnat(days)])


def steps_back(run: Days) -> int:
    """Return how often a run of days steps back in time."""
    return int((np.diff(run) < np.timedelta64(0, "D")).sum())
