"""A table that logs loads, day by day and by known names, though no column says how much came."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from divert.ingest.arrays import Bools
from divert.ingest.cells.unit import read_cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import IGNORE, Column
from divert.ingest.tables.table import Table

_OTHER_KINDS = ("activity", "fuel", "sale", "nothing")
_NONE = (
    IGNORE,
    "price",
    "money",
    "removed",
    "",
    "other",
    "fill",
)  # hold no weight, or are asked about below
_OPEN = ("", "other", "fill", "money", "running")
_HOURS = 24
_MOST = 0.5  # of a column's cells must be known names, or numbers


@dataclass(frozen=True)
class Logged:
    """The rows (from 0, of the sheet) that each stand for a load, and the column that shows it.

    ``column``: the one that shows most; ``shown``: for each row the place of its own, for a load may lack
    the first of several amounts. ``amounts``: whether they hold the numbers that may be the amounts.
    """

    rows: tuple[int, ...]
    shown: tuple[int, ...]
    column: Column
    amounts: bool


def logged_loads(columns: Sequence[Column], table: Table, kind: str, known: Known) -> Logged | None:
    """Return the loads of a table without a column of amounts; None where it may log anything else.

    It logs loads where it tells the day and both the source and the material, or one of the two and
    a number under words that nobody knows.
    """
    dated = [c for c in columns if c.field in ("date", "day", "month")]
    named = [c for c in columns if _names(c)]
    open_ = [c for c in columns if (c.field in _OPEN or _is_no_hour(c)) and _counts(c)]
    meters = [c for c in columns if c.field not in _NONE and _may_measure(c)]
    if kind not in _OTHER_KINDS and dated and meters:
        return _logged((dated[0].cells.codes >= 0) & _filled(meters), table, meters, True)
    if kind in _OTHER_KINDS or not dated or not named or not (open_ or len(named) > 1):
        return None
    load = np.zeros(table.end - table.first, dtype=bool)
    for column in named:
        load |= column.cells.rows_where(lambda cell: known.names(as_text(cell)))
    if open_ and load.any():  # a row that names what nobody knows is a load as well
        load = _filled(named) & (dated[0].cells.codes >= 0) & _filled(open_)
    return _logged(load, table, open_ or dated[:1], bool(open_))


def _filled(columns: Sequence[Column]) -> Bools:
    """Return the rows on which any of some columns holds a cell."""
    return np.asarray(np.logical_or.reduce([c.cells.codes >= 0 for c in columns]))


def _logged(load: Bools, table: Table, columns: Sequence[Column], amounts: bool) -> Logged | None:
    """Return the loads of some rows, each shown by the first of the columns that holds a cell there."""
    rows = np.flatnonzero(load).tolist()
    if not rows:
        return None
    first = columns[0].index
    shown = (next((c.index for c in columns if c.cells.codes[r] >= 0), first) for r in rows)
    return Logged(tuple(r + table.first for r in rows), tuple(shown), columns[0], amounts)


def _is_no_hour(column: Column) -> bool:
    """Return whether numbers that no clock shows stand under a word for a time: "Start reading"."""
    numbers = (c for c in column.cells.cells if isinstance(c, int | float))
    return column.field == "time" and any(number > _HOURS for number in numbers)


def _may_measure(column: Column) -> bool:
    """Return whether a column's numbers may be amounts, though its head says of what: "Tote no. 2, lb"."""
    of_one = column.field in ("each", "size") and column.content.numbers > _MOST
    numbered = column.field == "id" and column.heading.unit_text in ("", "#")  # "Ticket #"
    return of_one or (weighs(column) and not numbered)


def weighs(column: Column) -> bool:
    """Return whether sums of a mass stand in a column: "Food scraps, lb to date" is a log by a meter."""
    return "mass" in dimensions_of(column) and column.content.numbers > _MOST


def dimensions_of(column: Column) -> set[str]:
    """Return what the units in a heading measure, wherever in it they stand: "Est. yards of leaves"."""
    read = [
        read_cell(w, column.known.trade.meaning)
        for w in re.findall(r"[a-z]+", bare(column.head.text))
    ]
    return {u.dimension for u in (*read, column.heading.unit) if u is not None}


def _names(column: Column) -> bool:
    return column.field in ("source", "material") and column.content.of(column.field) > _MOST


def _counts(column: Column) -> bool:
    content = column.content
    return bool(column.head.text) and max(content.numbers, content.quantities) > _MOST
