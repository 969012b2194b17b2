"""The day of each row of a table: its own date, its group's, its section's, or its sheet's."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from divert.ingest import carry
from divert.ingest.cells import mark
from divert.ingest.cells.date import Day, Order, as_date, read_cell, with_year
from divert.ingest.cells.problem import Problem
from divert.ingest.columns import Column
from divert.ingest.context import Context
from divert.ingest.dates import NAT, Bools, Days, Parsed, parse, resolve
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.rows import Rows
from divert.ingest.sheet import Distinct

Objects = npt.NDArray[np.object_]


@dataclass
class When:
    """Days by row (NaT: none), why not (a short word, "" where none), and which rows say their own."""

    days: Days
    problem: Objects
    own: Bools
    by_site: Bools
    closed: Bools
    grouped: bool = False


def parsed_dates(
    column: Column | None, context: Context, known: Known, as_of: dt.date
) -> Parsed | None:
    """Return a date column's cells as read, before their order is settled."""
    if column is None:
        return None
    return parse(_without_marks(column.cells), context, known.site, as_of)


def _without_marks(cells: Distinct) -> Distinct:
    marks = np.array(
        [*(isinstance(c, str) and mark.read_start(c) is not None for c in cells.cells), False]
    )
    return (
        Distinct(np.where(marks[cells.codes], -1, cells.codes), cells.cells)
        if marks.any()
        else cells
    )


def when(
    shared: Mapping[str, Column],
    parsed: Parsed | None,
    rows: Rows,
    merged: Mapping[str, Bools],
    context: Context,
    known: Known,
    as_of: dt.date,
    elsewhere: Order | None,
) -> When:
    """Return the day of every row."""
    size = len(rows.reason)
    column = shared.get("date")
    if column is not None and parsed is not None:
        named = [
            shared[n].cells.codes >= 0
            for n in ("source", "material", "product", "container")
            if n in shared
        ]
        entries = rows.open & np.logical_or.reduce(named) if named else rows.open
        under = merged.get("date", np.zeros(size, dtype=bool))
        out = _from_column(column, parsed, rows, entries, under, context, known, as_of, elsewhere)
    else:
        out = _from_parts(shared, rows, context, known, as_of)
    _from_sections(out, rows)
    _from_sheet(out, context, known, as_of)
    return out


def _from_column(
    column: Column,
    parsed: Parsed,
    rows: Rows,
    entries: Bools,
    merged: Bools,
    context: Context,
    known: Known,
    as_of: dt.date,
    elsewhere: Order | None,
) -> When:
    dated = resolve(parsed, known.site, as_of, context, elsewhere)
    own = column.cells.codes >= 0
    marks = own & (parsed.codes < 0)
    ditto = carry.dittos(column.cells)
    closed = _closed(column, rows)
    headers = _header_rows(rows, own, dated.days)
    if headers.any():
        rows.reason[headers] = "heading"
    missing = np.isnat(dated.days)
    unread = own & ~ditto & ~marks & missing
    by_day = np.where(missing, -1, dated.days.astype("int64"))
    grouped = carry.is_grouped(
        np.where(unread, np.iinfo(np.int64).max, by_day), entries, int(headers.sum())
    )
    source = carry.carried(np.where(missing, -1, np.arange(len(own))), merged | ditto, unread)
    if grouped:
        source = carry.carried(source, entries & ~own, unread | (rows.reason == "blank"))
    days = np.where(source >= 0, dated.days[source], NAT)
    problem = np.where(unread, dated.problem, "")
    by_site = dated.by_site if len(dated.by_site) else np.zeros(len(own), dtype=bool)
    return When(days, problem, own & ~ditto & ~marks, by_site, closed, grouped)


def _closed(column: Column, rows: Rows) -> Bools:
    said = np.array(
        [
            *(isinstance(c, str) and mark.read_start(c) == "closed" for c in column.cells.cells),
            False,
        ]
    )
    return np.asarray(said[column.cells.codes] & rows.open)


def _header_rows(rows: Rows, own: Bools, days: Days) -> Bools:
    """Return the rows that hold only a date, with undated rows right under them."""
    alone = np.asarray(rows.open & own & (rows.filled == 1) & ~np.isnat(days))
    headers = np.zeros(len(own), dtype=bool)
    for row in np.flatnonzero(alone):
        below = row + 1
        if (
            below < len(own)
            and rows.reason[below] == ""
            and not own[below]
            and rows.filled[below] > 0
        ):
            headers[row] = True
    return headers


def _from_parts(
    shared: Mapping[str, Column], rows: Rows, context: Context, known: Known, as_of: dt.date
) -> When:
    """Build days from day, month and year columns, or from a month column alone (its first day)."""
    size = len(rows.reason)
    out = When(
        np.full(size, NAT, dtype="datetime64[D]"),
        np.full(size, "", dtype=object),
        np.zeros(size, dtype=bool),
        np.zeros(size, dtype=bool),
        np.zeros(size, dtype=bool),
    )
    day, month, year = shared.get("day"), shared.get("month"), shared.get("year")
    if day is None and month is None:
        return out
    stops = rows.reason == "blank"
    columns = {
        name: _numbers(c, rows, stops) if c is not None else None
        for name, c in (("day", day), ("month", month), ("year", year))
    }
    previous: dt.date | None = None
    for row in np.flatnonzero(rows.open):
        stated = _stated(columns, int(row), context)
        own = any(c is not None and c.cells.codes[row] >= 0 for c in (day, month))
        out.own[row] = own
        if stated is None:
            out.problem[row] = "unreadable" if own else ""
            continue
        if stated.year is None:
            stated = _year_of(stated, previous, context, known, as_of)
        found = as_date(stated)
        if found is None:
            out.problem[row] = "no year" if stated.year is None else "unreadable"
        else:
            out.days[row], previous = np.datetime64(found, "D"), found
    return out


def _numbers(column: Column, rows: Rows, stops: Bools) -> list[Day | int | None]:
    """Return what a day, month or year column says on each row, carried down its groups."""
    cells = column.cells
    codes = cells.codes
    if carry.is_grouped(codes, rows.open) or carry.dittos(cells).any():
        codes = carry.carried(np.where(carry.dittos(cells), -1, codes), rows.open, stops)
    read: list[Day | int | None] = []
    for cell in cells.cells:
        if isinstance(cell, str) and (number := bare(cell).strip(".")).isdigit():
            cell = float(number)
        if isinstance(cell, int | float) and cell == cell // 1 and 0 < cell < 2200:
            read.append(int(cell))
            continue
        found = read_cell(cell)
        sure = (
            not isinstance(found, Problem)
            and found.readings
            and (found.sure or len(found.readings) == 1)
        )
        month_text = not isinstance(found, Problem) and any(
            d.day is None for _, d in found.readings
        )
        if month_text and not isinstance(found, Problem):
            read.append(next(d for _, d in found.readings if d.day is None))
        else:
            read.append(found.readings[0][1] if sure and not isinstance(found, Problem) else None)
    read.append(None)
    return [read[c] for c in codes]


def _stated(
    columns: Mapping[str, list[Day | int | None] | None], row: int, context: Context
) -> Day | None:
    def at(name: str) -> Day | int | None:
        column = columns[name]
        return column[row] if column is not None else None

    day, month, year = at("day"), at("month"), at("year")
    if isinstance(day, Day) and day.day is not None:
        return day
    whole = month if isinstance(month, Day) else None
    number = whole.month if whole else (month if isinstance(month, int) else None)
    if columns["month"] is None:
        number = context.month
    if number is None or not 1 <= number <= 12:
        return None
    if columns["day"] is not None and not isinstance(day, int):
        return None
    if isinstance(day, int) and day > 31:
        return None
    stated_year = (whole.year if whole else None) or (
        year if isinstance(year, int) and year > 1900 else None
    )
    if stated_year is None and isinstance(year, int) and 0 < year < 100:
        stated_year = 2000 + year
    return Day(stated_year, number, day if isinstance(day, int) else None)


def _year_of(
    day: Day, previous: dt.date | None, context: Context, known: Known, as_of: dt.date
) -> Day:
    from divert.ingest.dates import _only_year

    found = _only_year(day, context, known.site, as_of)
    if found.year is None and previous is not None:
        found = with_year(day, previous.year + (1 if previous.month - day.month > 6 else 0))
    return found


def _from_sections(out: When, rows: Rows) -> None:
    for row in sorted(rows.days):
        after = np.zeros(len(out.days), dtype=bool)
        following = [r for r in sorted(rows.days) if r > row]
        after[row : following[0] if following else len(out.days)] = True
        gap = after & np.isnat(out.days) & ~out.own
        out.days[gap] = rows.days[row]
        out.problem[gap] = ""


def _from_sheet(out: When, context: Context, known: Known, as_of: dt.date) -> None:
    """Date rows that have no date column by the sheet's own day, or the first of its month."""
    if out.own.any() or (~np.isnat(out.days)).any() or context.month is None:
        return
    from divert.ingest.dates import _only_year

    day = _only_year(Day(None, context.month, context.day), context, known.site, as_of)
    found = as_date(day)
    if found is not None:
        out.days[:] = np.datetime64(found, "D")
        out.problem[:] = ""
