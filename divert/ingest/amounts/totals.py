"""Totals typed among rows without a label, known by arithmetic: equal to the sum of the rows above."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from divert.ingest.amounts.column import VALUE
from divert.ingest.amounts.measured import Measured
from divert.ingest.amounts.named_totals import named_totals
from divert.ingest.amounts.sums import LEAST, equals_sum
from divert.ingest.arrays import NAT, Bools, Floats, no_rows
from divert.ingest.days.dated_rows import When
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.rows import Rows


def arithmetic(rows: Rows, dated: When, layout: Layout, measured: Sequence[Measured]) -> Bools:
    """Return the rows that name no load of their own and equal the sum above, in every filled cell.

    Rows that ought to sum what they name and do not lose their day: nobody could tell what they are.
    The sum runs from the last total, the last blank line or section, or the table's first row.
    """
    size = len(rows.reason)
    if not measured:
        return np.zeros(size, dtype=bool)
    values = values_of(measured)
    filled = np.logical_or.reduce([~np.isnan(v) for v in values])
    out, doubtful = named_totals(rows, dated, layout, values)
    dated.days[doubtful], dated.problem[doubtful] = NAT, "no sum"
    unnamed = _unnamed(rows, dated, layout) & ~out
    for row in np.flatnonzero(unnamed & rows.open & filled):
        for start in starts_of(rows, dated, out, int(row)):
            above = np.zeros(size, dtype=bool)
            above[start:row] = rows.open[start:row] & ~out[start:row]
            if above.sum() >= LEAST and equals_sum(values, above, int(row)):
                out[row] = True
                break
    bare = unnamed & rows.open & _nothing_named(layout, size)
    if (bare & ~out).any() and not dated.grouped:
        out |= _bare_sums(values, rows, dated, bare)
    return out


def _bare_sums(values: Sequence[Floats], rows: Rows, dated: When, bare: Bools) -> Bools:
    """Return the rows of nothing but an amount that sum the rows with names above them.

    Where one of them sums two rows or more, another may stand under a single row.
    """
    loads = rows.open & ~bare
    sums = {least: np.zeros(len(bare), dtype=bool) for least in (1, LEAST)}
    for row in np.flatnonzero(bare).tolist():
        since = np.flatnonzero(bare[:row])
        for start in {int(since[-1]) + 1 if len(since) else 0, *starts_of(rows, dated, bare, row)}:
            above = np.zeros(len(bare), dtype=bool)
            above[start:row] = loads[start:row]
            if above.any() and equals_sum(values, above, row):
                sums[LEAST if above.sum() >= LEAST else 1][row] = True
    return sums[LEAST] | (sums[1] if sums[LEAST].any() else False)


def _nothing_named(layout: Layout, size: int) -> Bools:
    """Return the rows whose shared columns are all empty."""
    out = np.ones(size, dtype=bool)
    for name, column in layout.shared.items():
        if name not in ("removed", "contamination"):
            out &= column.cells.codes < 0
    return out


def values_of(measured: Sequence[Measured]) -> list[Floats]:
    """Return what groups of columns say in each measure that they use, unreadable rows among them."""
    values = []
    for one in measured:
        usable = one.state == VALUE
        for column in (one.mass_kg, one.gross_kg, one.volume_m3, one.count):
            picked = np.where(usable | (one.problem > 0), column, np.nan)
            if not np.isnan(picked).all():
                values.append(picked)
    return values or [np.full(len(measured[0].count), np.nan)]


def _unnamed(rows: Rows, dated: When, layout: Layout) -> Bools:
    """Return the rows that lack what every entry of the table names.

    A row that says whose, what and in what is a load, whatever it comes to.
    """
    size = len(rows.reason)

    def said(*fields: str) -> list[Bools]:
        return [layout.shared[f].cells.codes >= 0 for f in fields if f in layout.shared]

    named, dates = said("source", "material", "product"), said("date", "day", "month")
    held = np.logical_or.reduce([no_rows(size), *said("container", "fill")])
    no_dates = ~np.logical_or.reduce(dates) if dates else no_rows(size)
    if not named:
        return np.asarray(no_dates & ~held)
    no_names = ~np.logical_or.reduce(named) & ~held
    if not dates or dated.grouped:
        return np.asarray(no_names)
    partly = ~np.logical_and.reduce(named) & ~held
    return np.asarray(no_names | (no_dates & ~dated.own & partly))


def starts_of(rows: Rows, dated: When, found: Bools, row: int) -> list[int]:
    """Return where a total's rows may begin, nearest first."""
    marks = []
    for reasons in (("total or subtotal",), ("total or subtotal", "blank", "heading")):

        def ends(part: slice, among: tuple[str, ...] = reasons) -> Bools:
            return np.asarray(np.isin(rows.reason[part], among) | found[part])

        marks.append(_last(row, ends) + 1)
    back = _last(row, lambda part: ~np.isin(rows.reason[part], ("blank", "heading")))
    group = _last(back + 1, lambda part: dated.own[part])
    marks += [group] if group >= 0 else []
    return list(dict.fromkeys([*marks, 0]))


def _last(end: int, holds: Callable[[slice], Bools]) -> int:
    """Return the last row before ``end`` of which something holds, -1 where of none; looked for from
    below, a longer stretch each time: a table may have a total for each of its days.
    """
    size = 16
    while end > 0:
        part = slice(max(end - size, 0), end)
        if len(found := np.flatnonzero(holds(part))):
            return part.start + int(found[-1])
        end, size = part.start, 4 * size
    return -1
