"""Totals that name what they sum: "School 50" under the school's loads, "Q1 140" under a quarter's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from divert.ingest.amounts.sums import LEAST, equals_sum
from divert.ingest.arrays import Bools, Codes, Floats, no_rows
from divert.ingest.days.dated_rows import When
from divert.ingest.days.periods import Period, months_of, read_period
from divert.ingest.sheet import as_text
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.rows import Rows

_NAMES = ("source", "material", "product", "container")
_MOST = 0.8  # of the undated rows of a table must be sums, else they are loads with gaps
_TRIED = 50  # the first rows tried, before a long table is gone through
_WHOLE = 200  # rows whose sum may run from the table's top


def named_totals(
    rows: Rows, dated: When, layout: Layout, values: Sequence[Floats]
) -> tuple[Bools, Bools]:
    """Return the rows that sum the loads of the name or period they bear, and those that ought to.

    A row that ought to and does not is no load either: nobody could tell what it is.
    """
    size = len(rows.reason)
    amounts = rows.open & np.logical_or.reduce([~np.isnan(v) for v in values])
    names = [layout.shared[n].cells.codes for n in _NAMES if n in layout.shared]
    some = np.logical_or.reduce([c >= 0 for c in names]) if names else no_rows(size)
    every = np.logical_and.reduce([c >= 0 for c in names]) if names else ~no_rows(size)
    undated = amounts & ~dated.own & some & ~every
    summed, doubtful = _sum_periods(amounts & ~some, amounts & every, dated, layout, values)
    if undated.any():
        by_name = _sum_names(undated, amounts & every & dated.own, names, values)
        summed |= by_name[0]
        doubtful |= by_name[1]
    return summed, doubtful


def _sum_names(
    undated: Bools, loads: Bools, names: Sequence[Codes], values: Sequence[Floats]
) -> tuple[Bools, Bools]:
    """Return the undated rows that sum the loads above with every name they bear.

    Nearly all must, and one of them two loads or more: else they are loads whose day stands above.
    """
    size = len(undated)
    places = np.flatnonzero(undated)
    found, several, last = no_rows(size), 0, 0
    for tried, row in enumerate(places.tolist()):
        if tried == _TRIED and found.sum() < _MOST * tried:
            break
        for start in dict.fromkeys((last, 0) if tried < _WHOLE else (last,)):
            alike = loads[start:row].copy()
            for codes in names:
                if codes[row] >= 0:
                    alike &= codes[start:row] == codes[row]
            above = start + np.flatnonzero(alike)
            if len(above) and equals_sum(values, above, row):
                found[row] = True
                several += len(above) >= LEAST
                break
        last = row + 1
    if not several or found.sum() < _MOST * len(places):
        return no_rows(size), no_rows(size)
    return found, undated & ~found


def _sum_periods(
    unnamed: Bools, named: Bools, dated: When, layout: Layout, values: Sequence[Floats]
) -> tuple[Bools, Bools]:
    """Return the rows whose date cell names a period that they sum, and those that should sum one."""
    size = len(unnamed)
    summed, doubtful = no_rows(size), no_rows(size)
    periods = dict(_period_rows(unnamed, layout))
    length = np.zeros(size)  # in months; 0 where a row has a day, or nothing
    length[list(periods)] = [p.months for p in periods.values()]
    days = dated.days.astype("datetime64[M]")
    loads = (named | unnamed) & ~np.isnat(dated.days)
    for row, period in sorted(periods.items(), key=lambda one: (one[1].months, one[0])):
        for months in months_of(period, days):
            shorter = loads & ~summed & (length < length[row])
            inside = np.flatnonzero(shorter & np.isin(days, months))
            if len(inside) and equals_sum(values, inside, row):
                summed[row] = True
                break
            doubtful[row] |= len(inside) >= LEAST
    return summed, doubtful & ~summed


def _period_rows(candidates: Bools, layout: Layout) -> Iterator[tuple[int, Period]]:
    column = layout.shared.get("date") or layout.shared.get("month")
    if column is None or not candidates.any():
        return
    periods = [read_period(as_text(c)) for c in column.cells.cells]
    if not any(periods):
        return
    for row in np.flatnonzero(candidates & (column.cells.codes >= 0)).tolist():
        period = periods[column.cells.codes[row]]
        if period is not None:
            yield row, period
