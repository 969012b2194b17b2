"""A sheet whose heading was forgotten, beside sheets of its workbook that lie just as it does."""

from __future__ import annotations

from collections.abc import Sequence

from divert.ingest.known import Known
from divert.ingest.sheet import Sheet
from divert.ingest.tables.columns import Column
from divert.ingest.tables.find import find_tables
from divert.ingest.tables.table import Head, Table

_TELLING = ("date", "source", "material", "container")


def with_borrowed_heads(
    table: Table, guessed: Sequence[Column], beside: Sequence[Sheet], known: Known
) -> Table | None:
    """Return a table without headings with those of its neighbours, where all of them have the same.

    ``guessed``: its columns by what stands in them; where that tells a column, the heading must agree.
    """
    heads = _shared_heads(beside, known)
    by_column = {head.column: head for head in heads}
    if not heads or any(c.index not in by_column for c in guessed):
        return None
    for column in guessed:
        said = by_column[column.index].heading.field
        if said != column.field and (column.field in _TELLING or said in _TELLING):
            return None
    return Table(heads, table.first, table.end, left=heads[0].column, right=heads[-1].column)


def heads_itself(sheet: Sheet, first: int) -> bool:
    """Return whether words stand over each column of a table's first row: a heading nobody knows."""
    over = sheet.row(first - 1) if first else []
    filled = [place for place, cell in enumerate(sheet.row(first)) if cell is not None]
    return bool(over) and all(
        place < len(over) and isinstance(over[place], str) for place in filled
    )


def _shared_heads(beside: Sequence[Sheet], known: Known) -> tuple[Head, ...]:
    """Return the headings of other sheets, where each of those with a table has one, and the same."""
    found: dict[tuple[tuple[int, str], ...], tuple[Head, ...]] = {}
    for sheet in beside:
        tables = find_tables(sheet, known) if sheet.height else []
        if len(tables) > 1:
            return ()
        for table in tables:
            found[tuple((h.column, h.text) for h in table.heads)] = table.heads
    return next(iter(found.values())) if len(found) == 1 else ()
