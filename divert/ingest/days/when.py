"""The day of each row of a table: its own date, its group's, its section's, or its sheet's."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

import numpy as np

from divert.ingest import carry
from divert.ingest.arrays import NAT, Bools, Days
from divert.ingest.cells import mark
from divert.ingest.cells.date import Day, Order, as_date, with_year
from divert.ingest.cells.problem import Problem
from divert.ingest.days.column import Dated, Parsed, parse
from divert.ingest.days.dated_rows import When
from divert.ingest.days.order import resolve
from divert.ingest.days.parts import days_from_parts
from divert.ingest.days.years import in_only_year
from divert.ingest.known import Known
from divert.ingest.sheet import Distinct
from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.rows import Rows


def parsed_dates(
    column: Column | None, context: Context, known: Known, as_of: dt.date
) -> Parsed | None:
    """Return a date column's cells as read, before their order is settled."""
    if column is None:
        return None
    return parse(_without_marks(column.cells), context, known.site, as_of)


def _without_marks(cells: Distinct) -> Distinct:
    marks = cells.rows_of_texts(lambda text: mark.read_start(text) is not None)
    return Distinct(np.where(marks, -1, cells.codes), cells.cells) if marks.any() else cells


def when(
    shared: Mapping[str, Column],
    parsed: Parsed | None,
    rows: Rows,
    merged: Mapping[str, Bools],
    context: Context,
    known: Known,
    as_of: dt.date,
    elsewhere: Order | None,
    planned: Order | None = None,
) -> When:
    """Return the day of every row (orders as in :func:`divert.ingest.days.order.resolve`)."""
    size = len(rows.reason)
    column = shared.get("date")
    named = [
        shared[n].cells.codes >= 0
        for n in ("source", "material", "product", "container")
        if n in shared
    ]
    entries = rows.open & np.logical_or.reduce(named) if named else rows.open
    if column is not None and parsed is not None:
        under = merged.get("date", np.zeros(size, dtype=bool))
        dated = resolve(parsed, known.site, as_of, context, elsewhere, planned)
        out = _from_column(column, parsed, dated, rows, entries, under)
    else:
        out = days_from_parts(shared, rows, entries, context, known, as_of)
    _from_sections(out, rows)
    _from_sheet(out, context, known, as_of)
    return out


def _from_column(
    column: Column,
    parsed: Parsed,
    dated: Dated,
    rows: Rows,
    entries: Bools,
    merged: Bools,
) -> When:
    _put_years(dated, parsed, rows)
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
    stops = unread & (
        rows.reason != "note"
    )  # a remark between two rows parts no ditto from its date
    source = carry.carried(np.where(missing, -1, np.arange(len(own))), merged | ditto, stops)
    if grouped:
        source = carry.carried(source, entries & ~own, stops | (rows.reason == "blank"))
    days = np.where(source >= 0, dated.days[source], NAT)
    problem = np.where(unread, dated.problem, "")
    return When(days, problem, own & ~ditto & ~marks, dated.by_site, closed, grouped)


def _put_years(dated: Dated, parsed: Parsed, rows: Rows) -> None:
    """Give the days written without a year the one that stands in a row of its own over them."""
    for start, year in sorted(rows.years.items()):
        for row in range(start + 1, len(dated.days)):
            code = parsed.codes[row]
            if code < 0 or not parsed.yearless[code] or dated.problem[row] == "ambiguous":
                continue
            read = parsed.reads[code]
            if not isinstance(read, Problem):
                said = dict(read.readings).get(dated.order or "month first")
                found = as_date(with_year(said or read.readings[0][1], year))
                dated.days[row] = NAT if found is None else np.datetime64(found, "D")
                dated.problem[row] = "" if found else "unreadable"


def _closed(column: Column, rows: Rows) -> Bools:
    said = column.cells.rows_of_texts(lambda text: mark.read_start(text) == "closed")
    return np.asarray(said & rows.open)


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

    day = in_only_year(Day(None, context.month, context.day), context, known.site, as_of)
    found = as_date(day)
    if found is not None:
        out.days[:] = np.datetime64(found, "D")
        out.problem[:] = ""
