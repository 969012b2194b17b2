"""Days from columns of days, months and years."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from divert.ingest import carry
from divert.ingest.arrays import NAT, Bools, Days
from divert.ingest.cells.date import Day, as_date, read_cell, with_year
from divert.ingest.cells.problem import Problem
from divert.ingest.days.dated_rows import When
from divert.ingest.days.years import in_only_year
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.rows import Rows


def days_from_parts(
    shared: Mapping[str, Column],
    rows: Rows,
    entries: Bools,
    context: Context,
    known: Known,
    as_of: dt.date,
) -> When:
    """Build days from day, month and year columns, or from a month column alone (its first day).

    ``entries``: the rows to which what their group says is carried down.
    """
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
        name: _numbers(c, entries, stops) if c is not None else None
        for name, c in (("day", day), ("month", month), ("year", year))
    }
    previous: dt.date | None = None
    for row in np.flatnonzero(rows.open):
        around = in_section(context, rows, int(row))
        stated = _stated(columns, int(row), around)
        own = any(c is not None and c.cells.codes[row] >= 0 for c in (day, month))
        out.own[row] = own
        if stated is None:
            out.problem[row] = "unreadable" if own else ""
            continue
        if stated.year is None:
            stated = _year_of(stated, previous, around, known, as_of)
        found = as_date(stated)
        if found is None:
            out.problem[row] = "no year" if stated.year is None else "unreadable"
        else:
            out.days[row], previous = np.datetime64(found, "D"), found
    return out


def in_section(context: Context, rows: Rows, row: int) -> Context:
    """Return what is said around a row, with the year and the month of the section it stands in."""
    years_above = [r for r in rows.years if r < row]
    if years_above:
        context = replace(context, years=(rows.years[max(years_above)],), span=None)
    above = [r for r in rows.months if r < row]
    if not above:
        return context
    month = rows.months[max(above)]
    years = (month.year,) if month.year is not None else context.years
    return replace(context, month=month.month, years=years)


def days_in_month(
    column: Column, rows: Rows, month: Day, context: Context, known: Known, as_of: dt.date
) -> Days:
    """Return the days that a column of day numbers means in a month named at the head of others."""
    around = replace(
        context, month=month.month, years=(month.year,) if month.year else context.years
    )
    numbers = _numbers(column, rows.open, rows.reason == "blank")
    out = np.full(len(numbers), NAT, dtype="datetime64[D]")
    for row in np.flatnonzero(rows.open):
        number = numbers[row]
        if isinstance(number, int) and number <= 31:
            stated = in_only_year(Day(month.year, month.month, number), around, known.site, as_of)
            found = as_date(stated)
            out[row] = NAT if found is None else np.datetime64(found, "D")
    return out


def _numbers(column: Column, entries: Bools, stops: Bools) -> list[Day | int | None]:
    """Return what a day, month or year column says on each row, carried down its groups."""
    cells = column.cells
    codes = cells.codes
    if carry.is_grouped(codes, entries) or carry.dittos(cells).any():
        codes = carry.carried(np.where(carry.dittos(cells), -1, codes), entries, stops)
    read: list[Day | int | None] = []
    for cell in cells.cells:
        if isinstance(cell, str) and (number := bare(cell).strip(".")).isdigit():
            cell = float(number)
        if isinstance(cell, int | float) and cell == cell // 1 and 0 < cell < 2200:
            read.append(int(cell))
            continue
        found = read_cell(cell)
        if not isinstance(found, Problem) and found.day_alone is not None:
            read.append(found.day_alone)  # "Mon 3", "lundi 8", "1er"
            continue
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
    found = in_only_year(day, context, known.site, as_of)
    if found.year is None and previous is not None:
        found = with_year(day, previous.year + (1 if previous.month - day.month > 6 else 0))
    return found
