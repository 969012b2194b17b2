"""A column of dates as read: each distinct cell with its dates under every order."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from divert.ingest.arrays import NAT, Bools, Days
from divert.ingest.cells.date import ORDERS, DateRead, Day, Order, as_date, read_cell
from divert.ingest.cells.problem import Problem
from divert.ingest.days.years import in_only_year, possible_years
from divert.ingest.grid import Cell
from divert.ingest.sheet import Distinct
from divert.ingest.tables.context import Context
from divert.site.model import Site

_EPOCH = dt.date(1970, 1, 1).toordinal()


@dataclass(frozen=True)
class Dated:
    """The dates of a stretch of rows; NaT where none. ``problem`` names why, by row, "" where none.

    ``by_site`` marks the rows whose order only site.toml settled; ``order`` is the one followed.
    """

    days: Days
    problem: npt.NDArray[np.object_]
    order: Order | None
    by_site: Bools


@dataclass(frozen=True)
class Parsed:
    """A column's distinct cells as read, each with its dates under every order (NaT: impossible).

    ``loose`` marks dates without a year that one order can place in a single year and another in
    several: that it has a year under one order is no proof that this is the order.
    """

    reads: list[DateRead | Problem]
    codes: npt.NDArray[np.int64]
    by_order: dict[Order, Days]
    ambiguous: Bools
    yearless: Bools
    loose: Bools

    __hash__ = object.__hash__

    @cached_property
    def written(self) -> list[int]:
        """Return the places of the cells that are no stored dates."""
        return [place for place, read in enumerate(self.reads) if read is not STORED]


STORED = DateRead()  # what a cell that is a date is read as: there is nothing to ask about it


def parse(cells: Distinct, context: Context, site: Site, as_of: dt.date) -> Parsed:
    """Read a column's distinct cells, with the year its sheet names where none is written."""
    fixed: Sequence[Cell] = cells.cells
    reads: list[DateRead | Problem] = [STORED] * len(fixed)
    by_order = {order: np.full(len(fixed), NAT, dtype="datetime64[D]") for order in ORDERS}
    ambiguous = np.zeros(len(fixed), dtype=bool)
    yearless = np.zeros(len(fixed), dtype=bool)
    loose = np.zeros(len(fixed), dtype=bool)
    stored = {place: cell for place, cell in enumerate(fixed) if isinstance(cell, dt.date)}
    whole = dict(stored)
    for place, cell in enumerate(fixed) if len(stored) < len(fixed) else ():
        if place in stored:
            continue
        read = reads[place] = _read(cell)
        if isinstance(read, Problem):
            continue
        said = _only_date(read)
        if said is not None:
            whole[place] = said
            continue
        days = _with_context(read, context)
        yearless[place] = any(d.year is None for _, d in days)
        if context.span is not None and yearless[place] and site.dates is not None:
            # A month outside the span that a title names is a question, not the other order.
            days = [(order, day) for order, day in days if order == site.dates] or days
        for order, day in days:
            year = day if day.year is not None else in_only_year(day, context, site, as_of)
            found = as_date(year)
            if found is not None:
                by_order[order][place] = np.datetime64(found, "D")
        _drop_far_years(by_order, place, site, as_of)
        stated = {by_order[o][place] for o, _ in days if not np.isnat(by_order[o][place])}
        loose[place] = yearless[place] and _may_be_several(days, context, site, as_of)
        ambiguous[place] = len({d for _, d in days}) > 1 and (len(stated) > 1 or loose[place])
    if whole:
        days_since = np.array([*map(dt.date.toordinal, whole.values())]) - _EPOCH
        for order in ORDERS:
            by_order[order][list(whole)] = days_since.view("datetime64[D]")
    return Parsed(reads, cells.codes, by_order, ambiguous, yearless, loose)


def _only_date(read: DateRead) -> dt.date | None:
    """Return the whole date that a cell says under every order; None where there is more to ask."""
    if not read.sure or read.day_alone is not None:
        return None
    day = read.readings[0][1]
    return as_date(day) if day.year is not None else None


def _may_be_several(
    days: Sequence[tuple[Order, Day]], context: Context, site: Site, as_of: dt.date
) -> bool:
    """Return whether a date without a year has two readings, one of them in more than one year."""
    told = bool(context.years) or context.span is not None
    if told or len({day for _, day in days}) < 2:
        return False
    return any(len(possible_years(day, site, as_of)) > 1 for _, day in days)


# "5, later" and "3/5 - second load": a day, and a word about it.
_WITH_NOTE = re.compile(r"([^,;]*\d[^,;]*?)(?:\s*[,;]|\s+[-–—])\s*[^\W\d][^\d,;]{1,30}")


def _read(cell: Cell) -> DateRead | Problem:
    """Read a date cell, without the words set off behind it where it is no date with them."""
    read = read_cell(cell)
    noted = (
        _WITH_NOTE.fullmatch(cell) if isinstance(read, Problem) and isinstance(cell, str) else None
    )
    return read_cell(noted[1]) if noted else read


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
