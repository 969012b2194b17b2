"""Rows in which no amount stood: notes, closed days, dates filled in ahead, gaps."""

from __future__ import annotations

import numpy as np

from divert.ingest.arrays import NAT, Bools
from divert.ingest.coverage.outside import tells_a_load
from divert.ingest.days.dated_rows import When
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob, row_text, text_at
from divert.ingest.entries.left_out import refuse_row, skip_gap, skip_row
from divert.ingest.entries.row_facts import RowFacts
from divert.ingest.tables.columns import Column
from divert.ingest.tables.rows import Rows

# Why a row is skipped that begins with a mark and holds no amount.
_REASONS = {
    "closed": "closed",
    "nothing": "nothing delivered",
    "rejected": "nothing delivered",
    "void": "correction",
}


def leftover_rows(
    job: TableJob, rows: Rows, dated: When, shared: RowFacts, answered: Bools, out: Gathered
) -> None:
    """Account for rows in which no group had an entry: notes, closed days, prefilled dates, gaps."""
    marks = shared.start_mark.texts()
    content = _content_rows(job)
    gaps = _gaps(job, rows, out)
    for row in np.flatnonzero(((rows.reason != "") | ~answered) & ~gaps).tolist():
        reason = rows.reason[row]
        if reason != "":
            day = dated.days[row] if reason in ("closed", "nothing delivered") else NAT
            if reason != "note" or not _load_in_words(job, rows, row, out):
                skip_row(job, row, None, str(reason), day, out)
            continue
        if answered[row]:
            continue
        said = marks[row]
        if said in _REASONS:
            skip_row(job, row, None, _REASONS[said], dated.days[row], out)
        elif content[row] and not _only_words_for_a_date(job, dated, row):
            if job.layout.wide:
                skip_row(job, row, None, "blank", NAT, out)
            else:
                refuse_row(
                    job,
                    row,
                    _quantity_column(job),
                    "no date" if np.isnat(dated.days[row]) else "no quantity",
                    out,
                )
        else:
            note = _has_words(job, row) or _only_words_for_a_date(job, dated, row)
            if not _load_in_words(job, rows, row, out):
                skip_row(job, row, None, "note" if note else "blank", dated.days[row], out)


def _load_in_words(job: TableJob, rows: Rows, row: int, out: Gathered) -> bool:
    """Set aside a row whose one text tells an amount and of whom or what: "Forgot: 2 totes, hotel"."""
    told = int(rows.filled[row]) == 1 and tells_a_load(row_text(job, row), job.known)
    if told:
        column = next(c for c in job.columns if c.cells.codes[row] >= 0)
        refuse_row(job, row, column, "load in words", out)
    return told


def _gaps(job: TableJob, rows: Rows, out: Gathered) -> Bools:
    """Return the rows of long empty stretches, each skipped here as one range.

    One stray word far down a sheet leaves a million empty rows above it.
    """
    if job.sheet.origin is not None:
        return np.zeros(len(rows.filled), dtype=bool)
    blank = (rows.filled == 0) & (rows.reason == "blank")
    edges = np.flatnonzero(np.diff(np.concatenate([[False], blank, [False]]).astype(np.int8)))
    gaps = np.zeros(len(blank), dtype=bool)
    for start, end in edges.reshape(-1, 2).tolist():
        if end - start >= LONG_GAP:
            gaps[start:end] = True
            skip_gap(job, start, end - start, out)
    return gaps


LONG_GAP = 100  # empty rows; shorter stretches are named row by row


def _only_words_for_a_date(job: TableJob, dated: When, row: int) -> bool:
    """Return whether words stand where the date should, on a row with no amount: a note, not a load."""
    column = job.layout.shared.get("date")
    if column is None or not dated.own[row] or not np.isnat(dated.days[row]):
        return False
    return dated.problem[row] == "unreadable" and any(c.isalpha() for c in text_at(column, row))


def _quantity_column(job: TableJob) -> Column:
    return job.layout.groups[0].first if job.layout.groups else job.columns[0]


def _content_rows(job: TableJob) -> Bools:
    """Return the rows that name a source, material or container: somebody meant to log something."""
    size = job.table.end - job.table.first
    out = np.zeros(size, dtype=bool)
    for name in ("source", "material", "container", "product", "fill", "fuel"):
        column = job.layout.shared.get(name)
        if column is not None:
            out |= column.cells.codes >= 0
    return out


def _has_words(job: TableJob, row: int) -> bool:
    dates = ("date", "day", "month", "year", "weekday", "time")
    return any(c.cells.codes[row] >= 0 and c.field not in dates for c in job.columns)


def total_cells(job: TableJob, rows: Rows, out: Gathered) -> None:
    """Name each filled cell of a total column of a wide table: seen, and skipped."""
    if not job.layout.wide:
        return
    for column in job.layout.totals:
        for row in np.flatnonzero((column.cells.codes >= 0) & rows.open):
            skip_row(job, int(row), column, "total or subtotal", NAT, out)
