"""A table with a very long empty stretch, closed up while it is read, and its rows told as they stand.

One stray word in the last row of a sheet leaves a million empty rows over it. They are one range to a
reader; going through them column by column would take a second for each sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from divert.core.findings import Finding, Where
from divert.ingest.arrays import Bools, Codes
from divert.ingest.coded import Part
from divert.ingest.entries.gathered import Gathered, SkippedRow, SkippedRows
from divert.ingest.entries.job import TableJob
from divert.ingest.entries.leftover import LONG_GAP
from divert.ingest.sheet import Distinct, Sheet
from divert.ingest.tables.columns import Column
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.table import Table

LEAST = 10_000  # rows left out, below which it is not worth it


@dataclass(frozen=True)
class ClosedUp:
    """A table's job without most of its empty rows; ``kept`` are the rows of the sheet that it has."""

    job: TableJob
    kept: Codes

    __hash__ = object.__hash__


def closed_up(job: TableJob, least: int = LEAST) -> ClosedUp | None:
    """Return a table with every long empty stretch as short as one may be; None where it gains little.

    What lies beside the table in those rows, a merge over them or a line through them keeps it as
    it is.
    """
    table, sheet = job.table, job.sheet
    if table.end - table.first < least or job.doubted is not None:
        return None
    keep = np.ones(sheet.height, dtype=bool)
    keep[table.first : table.end] = ~_surplus(sheet, table)
    kept = np.flatnonzero(keep)
    if sheet.height - len(kept) < max(least, 1) or _reached(sheet, keep):
        return None
    inside = kept[slice(*np.searchsorted(kept, [table.first, table.end]))] - table.first

    def place(row: int) -> int:  # in the closed-up sheet, of the last row up to this that is kept
        return int(np.searchsorted(kept, row, side="right")) - 1

    columns = {id(c): replace(c, cells=_less(c.cells, inside)) for c in _all(job)}
    parsed = job.parsed and replace(job.parsed, codes=job.parsed.codes[inside])
    return ClosedUp(
        replace(
            job,
            sheet=_sheet(sheet, kept, place),
            table=_table(table, len(inside), place),
            columns=tuple(columns[id(c)] for c in job.columns),
            layout=_layout(job.layout, columns),
            parsed=parsed,
        ),
        kept,
    )


def _surplus(sheet: Sheet, table: Table) -> Bools:
    """Return the rows of a table that lie in a long empty stretch, but for its first ones."""
    blank = np.ones(table.end - table.first, dtype=bool)
    for column in sheet.columns:
        blank &= column.codes[table.first : table.end] < 0
    edges = np.flatnonzero(np.diff(np.concatenate([[False], blank, [False]]).astype(np.int8)))
    out = np.zeros(len(blank), dtype=bool)
    for start, end in edges.reshape(-1, 2).tolist():
        out[start + LONG_GAP : end] = True
    return out


def _reached(sheet: Sheet, keep: Bools) -> bool:
    """Return whether a merge or a line through a row reaches rows that would be left out."""
    merged = any(not keep[top - 1 : bottom].all() for top, _, bottom, _ in sheet.merged)
    return merged or any(not keep[row] for row in sheet.struck if row < len(keep))


def _less(cells: Distinct, kept: Codes) -> Distinct:
    return Distinct(cells.codes[kept], cells.cells)


def _sheet(sheet: Sheet, kept: Codes, place: Callable[[int], int]) -> Sheet:
    height = sheet.height

    def moved(row: int) -> int:  # counted from 1, as merges are
        return place(min(row, height) - 1) + 1

    return replace(
        sheet,
        columns=tuple(_less(c, kept) for c in sheet.columns),
        height=len(kept),
        merged=tuple((moved(a), b, moved(c), d) for a, b, c, d in sheet.merged),
        struck=frozenset(place(row) for row in sheet.struck if row < height),
        hidden_rows=frozenset(place(row) for row in sheet.hidden_rows if row < height),
    )


def _table(table: Table, rows: int, place: Callable[[int], int]) -> Table:
    first = place(table.first - 1) + 1
    return replace(
        table,
        first=first,
        end=first + rows,
        heading_rows=tuple(map(place, table.heading_rows)),
        repeats=frozenset(map(place, table.repeats)),
    )


def _all(job: TableJob) -> list[Column]:
    layout = job.layout
    grouped = [c for g in layout.groups for c in g.members]
    blanks = [c for g in layout.groups for c in g.only_where_blank]
    named = (*layout.columns, *layout.shared.values(), *layout.totals, *layout.notes)
    return [*job.columns, *named, *layout.unread, *grouped, *blanks]


def _layout(layout: Layout, new: dict[int, Column]) -> Layout:
    def of(columns: Sequence[Column]) -> tuple[Column, ...]:
        return tuple(new[id(c)] for c in columns)

    return replace(
        layout,
        columns=of(layout.columns),
        shared={name: new[id(c)] for name, c in layout.shared.items()},
        groups=tuple(
            replace(
                group,
                columns={field: list(of(cs)) for field, cs in group.columns.items()},
                only_where_blank=of(group.only_where_blank),
            )
            for group in layout.groups
        ),
        totals=of(layout.totals),
        notes=of(layout.notes),
        unread=of(layout.unread),
    )


def opened_again(found: Gathered, closed: ClosedUp, out: Gathered) -> None:
    """Add what was gathered from a closed-up table to ``out``, each row as it stands in the sheet."""
    kept = closed.kept
    out.add(
        found.moved(
            lambda one: _part(one, kept),
            lambda one: (*one[:2], _row(one[2], kept), *one[3:]),
            lambda one: _skipped(one, kept),
            lambda one: _finding(one, kept),
            lambda one: _where(one, kept),
        )
    )


def _row(row: int, kept: Codes) -> int:
    """Return a row of the sheet, counted from 1 as the closed-up one is."""
    return int(kept[row - 1]) + 1


def _part(part: Part, kept: Codes) -> Part:
    return replace(part, rows=(kept[part.rows.astype(np.int64) - 1] + 1).astype(part.rows.dtype))


def _skipped(one: SkippedRow | SkippedRows, kept: Codes) -> SkippedRow | SkippedRows:
    file, sheet, row, column, text, reason, day = one[:7]
    first = _row(row, kept)
    if len(one) < 8:
        return file, sheet, first, column, text, reason, day
    past = row + one[7] - 1  # the place of the row after the range
    end = int(kept[past]) + 1 if past < len(kept) else first + one[7]
    return file, sheet, first, column, text, reason, day, end - first


def _where(where: Where, kept: Codes) -> Where:
    return where if where.row is None else replace(where, row=_row(where.row, kept))


def _finding(finding: Finding, kept: Codes) -> Finding:
    return replace(finding, where=_where(finding.where, kept))
