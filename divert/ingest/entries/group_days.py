"""The days of one group of columns: its rows' own, or the day, month or weekday at its head."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from divert.core.names import plain
from divert.ingest.arrays import NAT, Days
from divert.ingest.cells.date import Day, as_date
from divert.ingest.days.dated_rows import When
from divert.ingest.days.parts import days_in_month, in_section
from divert.ingest.days.when import parsed_dates, when
from divert.ingest.days.years import in_only_year
from divert.ingest.entries.job import TableJob
from divert.ingest.tables.groups import Group
from divert.ingest.tables.rows import Rows


def days_of_group(group: Group, dated: When, job: TableJob, rows: Rows) -> Days:
    """Return the day of each entry of a group, NaT where none can be told."""
    label = group.label
    if label.ambiguous:
        return np.full(len(dated.days), NAT)
    if label.number is not None:
        return _numbered(label.number, label.day, dated, job, rows)
    numbers = job.layout.shared.get("day")
    if label.day is not None and label.day.day is None and numbers is not None:
        return days_in_month(numbers, rows, label.day, job.context, job.known, job.as_of)
    if label.day is not None:
        found = as_date(in_only_year(label.day, job.context, job.known.site, job.as_of))
        return np.full(len(dated.days), NAT if found is None else np.datetime64(found, "D"))
    if label.year is not None:
        return _in_year(label.year, job, rows)
    if label.weekday is None:
        return dated.days
    weekday = (dated.days.astype("int64") + 3) % 7  # 1970-01-01 was a Thursday
    column = job.layout.shared.get("date")
    ends = column is not None and any(w in plain(column.head.text) for w in ("ending", "fin"))
    ahead = (label.weekday - weekday) % 7
    back = (weekday - label.weekday) % 7
    moved = dated.days - back if ends else dated.days + ahead
    return np.where(np.isnat(dated.days), NAT, moved).astype("datetime64[D]")


def _numbered(number: int, month: Day | None, dated: When, job: TableJob, rows: Rows) -> Days:
    """Return a numbered day of the month over it, of each row's own month, or of its section's."""
    out = np.full(len(dated.days), NAT)
    for row in np.flatnonzero(rows.open).tolist():
        around = in_section(job.context, rows, row)
        own = dated.days[row].item() if month is None and dated.own[row] else None
        if own is not None:
            said = Day(own.year, own.month, number) if own.day == 1 else None
        elif month is not None:
            said = Day(month.year, month.month, number)
        else:
            said = None if around.month is None else Day(None, around.month, number)
        if said is not None:
            found = as_date(in_only_year(said, around, job.known.site, job.as_of))
            out[row] = NAT if found is None else np.datetime64(found, "D")
    return out


def _in_year(year: int, job: TableJob, rows: Rows) -> Days:
    """Return the days of the rows in a year that stands at the head of their column."""
    context = replace(job.context, years=(year,))
    shared = job.layout.shared
    parsed = parsed_dates(shared.get("date"), context, job.known, job.as_of)
    return when(shared, parsed, rows, {}, context, job.known, job.as_of, job.order).days
