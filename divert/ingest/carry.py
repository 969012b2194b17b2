"""Carry a value down: under a merged cell, a ditto mark, or a group that names it once.

A blank in a column that is otherwise filled on every row is a gap, not a group: it is never filled.
A column is grouped where its values do not repeat from one row to the next and blanks follow them.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from divert.ingest.arrays import Bools, Codes
from divert.ingest.cells.mark import read_cell
from divert.ingest.sheet import Distinct

_SHARE = 0.2  # of a column's rows blank: fewer than this, and fewer than three, are gaps


def dittos(cells: Distinct) -> Bools:
    """Return the rows whose cell is a ditto mark."""
    return cells.rows_of_texts(lambda text: read_cell(text) == "ditto")


def is_grouped(codes: Codes, entries: Bools, headers: int = 0) -> bool:
    """Return whether a column names a value once for the rows under it.

    ``codes``: -1 where blank; ``entries``: the rows that hold an entry; ``headers``: how many rows
    name only this value, with unnamed rows right under them.
    """
    if headers:
        return True
    run = codes[entries]
    if len(run) < 2 or run[0] < 0:
        return False
    blank = run < 0
    filled = ~blank
    if not blank.any() or not filled.any():
        return False
    repeated = int(((run[1:] == run[:-1]) & filled[1:]).sum())
    share = blank.mean()
    if repeated:
        return bool(share >= 0.4 and repeated <= 0.1 * filled.sum())
    return bool(share >= _SHARE and (blank.sum() >= 2 or share >= 0.4))


def carried(codes: Codes, allowed: Bools, stops: Bools) -> Codes:
    """Return codes with blanks in ``allowed`` rows filled from the nearest value above.

    Nothing is carried past a row in ``stops`` (a blank line, a new section).
    """
    rows = np.arange(len(codes))
    source = np.where(codes >= 0, rows, -1)
    last = np.maximum.accumulate(source) if len(source) else source
    barrier = np.maximum.accumulate(np.where(stops, rows, -1)) if len(rows) else rows
    reachable = allowed & (codes < 0) & (last >= 0) & (last > barrier)
    out = codes.copy()
    out[reachable] = codes[last[reachable]]
    return out


def merged_rows(
    spans: Iterable[tuple[int, int, int, int]], column: int, first: int, rows: int
) -> Bools:
    """Return the rows (from ``first``, 0-based) under the top cell of a merge in a column."""
    under = np.zeros(rows, dtype=bool)
    for r1, c1, r2, c2 in spans:
        if c1 - 1 <= column <= c2 - 1 and r2 > r1:
            under[max(0, r1 - first) : max(0, r2 - first)] = True
    return under
