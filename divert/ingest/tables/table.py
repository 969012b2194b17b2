"""What a found table is: its heads, its rows and the titles over it."""

from __future__ import annotations

from dataclasses import dataclass

from divert.ingest.grid import Cell
from divert.ingest.sheet import Sheet
from divert.ingest.tables.heading import Heading

OVER = " / "  # between the group labels over one column


@dataclass(frozen=True)
class Head:
    """One column's head: its own text, the group label over it, and what both were read as.

    ``number`` is the day of the month where the heading numbers the days of one.
    """

    column: int
    text: str
    over: str
    heading: Heading
    cell: Cell = None
    number: int | None = None


@dataclass(frozen=True)
class Table:
    """A table: heads by column, first and past-last data row (0-based), titles nearest first.

    ``heading_rows`` lists every heading row of it; ``repeats`` rows further down that repeat it.
    """

    heads: tuple[Head, ...]
    first: int
    end: int
    titles: tuple[str, ...] = ()
    pairs: tuple[tuple[str, str], ...] = ()
    heading_rows: tuple[int, ...] = ()
    repeats: frozenset[int] = frozenset()
    left: int = 0
    right: int = 0


def printed_again(sheet: Sheet, table: Table) -> frozenset[int]:
    """Return the rows of a table that print its last heading row once more, cell for cell."""
    if not table.heading_rows:
        return frozenset()
    printed = sheet.row(table.heading_rows[-1])
    first = next((c for c, cell in enumerate(printed) if cell is not None), None)
    if first is None:
        return frozenset()
    column = sheet.columns[first]
    likely = (column.codes == column.codes[table.heading_rows[-1]]).nonzero()[0]
    return frozenset(
        int(r) for r in likely if table.first <= r < table.end and sheet.row(int(r)) == printed
    )
