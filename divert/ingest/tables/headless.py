"""Tables with no heading at all: the columns are told by what stands in them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text
from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading import Heading
from divert.ingest.tables.heading_rows import is_date_head
from divert.ingest.tables.table import Head, Table
from divert.ingest.tables.titles import titles_of
from divert.ingest.tables.years_across import year_of


def guess_table(sheet: Sheet, known: Known) -> tuple[Table, list[Column]] | None:
    """Return a table and its columns where dates and amounts stand in columns of their own, else None."""
    first = next((r for r in range(min(sheet.height, 30)) if _is_record(sheet, r)), None)
    if first is None:
        return None
    records = sum(_is_record(sheet, r) for r in range(first, min(sheet.height, first + 200)))
    if records < 2 or records < 0.5 * min(sheet.height - first, 200):
        return None
    first = _with_section(sheet, first, known)
    titles, pairs = titles_of(sheet, _lone(sheet, range(first)), known)
    table = Table((), first, sheet.height, titles, pairs, left=0, right=len(sheet.columns) - 1)
    columns = []
    have: set[str] = set()
    for index in range(len(sheet.columns)):
        cells = sheet.columns[index].part(first, sheet.height)
        if not cells.cells:
            continue
        column = Column(index, Head(index, "", "", Heading()), "", cells, known)
        field = _field(column, have)
        have.add(field)
        columns.append(
            replace(
                column,
                field=field,
                head=replace(column.head, heading=Heading(field=field, said=True)),
            )
        )
    if "date" not in have or not have & {"quantity", "count"}:
        return None
    return table, columns


def _is_record(sheet: Sheet, row: int) -> bool:
    cells = [c for c in sheet.row(row) if c is not None]
    return len(cells) >= 2 and any(is_date_head(c) for c in cells)


def _lone(sheet: Sheet, rows: Iterable[int]) -> list[int]:
    """Return the rows on which one cell alone is filled."""
    return [r for r in rows if sum(c is not None for c in sheet.row(r)) == 1]


def _with_section(sheet: Sheet, first: int, known: Known) -> int:
    """Return the row of a year or a name over the first record, where its like stands over others."""
    over = _names_rows(sheet, first - 1, known) if first else ""
    below = _lone(sheet, range(first, sheet.height)) if over else []
    return first - any(_names_rows(sheet, r, known) == over for r in below)


def _names_rows(sheet: Sheet, row: int, known: Known) -> str:
    """Return what a row's only cell names for the rows under it, or ""."""
    text = next((as_text(c) for c in sheet.row(row) if c is not None), "").rstrip(": ")
    if not _lone(sheet, [row]):
        return ""
    if year_of(text) is not None:
        return "year"
    return "source" if known.sources.find(text) else "material" if known.names(text) else ""


def _field(column: Column, have: set[str]) -> str:
    content = column.content
    for field in ("date", "source", "material", "unit", "container", "quantity"):
        if (
            content.of(field) > 0.6
            and field not in have
            and not (field == "date" and content.numbers > 0.6)
        ):
            return field
    return "note" if content.numbers < 0.5 else "other"
