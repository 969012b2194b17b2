"""Everything one table is read with, and where its rows stand in the file."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from functools import cached_property

from divert.core.findings import Where
from divert.core.reading import Claim
from divert.ingest.cells.date import Order
from divert.ingest.days.column import Parsed
from divert.ingest.entries.gathered import Gathered
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.table import Table


@dataclass(frozen=True)
class TableJob:
    """Everything one table is read with.

    ``order`` is the one that text dates elsewhere in the file follow, ``dates`` the one a plan gives.
    ``claims``: why the table and its columns were taken so.
    ``doubted`` is set where the sheet's name says that it holds no loads: what planning it has found.
    ``untold`` is a title that names nothing known, where those of tables like this one do.
    """

    sheet: Sheet
    table: Table
    columns: tuple[Column, ...]
    layout: Layout
    kind: str
    context: Context
    known: Known
    as_of: dt.date
    parsed: Parsed | None
    order: Order | None
    doubted: Gathered | None = None
    dates: Order | None = None
    claims: tuple[Claim, ...] = ()
    untold: str = ""

    __hash__ = object.__hash__

    @cached_property
    def by_place(self) -> dict[int, Column]:
        """Return the columns by their places in the sheet, the first where two have one."""
        return {column.index: column for column in reversed(self.columns)}


def place_in(job: TableJob, row: int, column: Column) -> Where:
    """Return the place of a cell in the user's file."""
    return Where(job.sheet.file, job.sheet.name, row + job.table.first + 1, column.letter)


def text_at(column: Column, row: int) -> str:
    """Return a cell as a person would read it, "" where empty."""
    return as_text(column.cells.at(row))


def row_text(job: TableJob, row: int) -> str:
    """Return a row's filled cells side by side."""
    texts = (text_at(c, row) for c in job.columns)
    return " | ".join(t for t in texts if t)[:200]
