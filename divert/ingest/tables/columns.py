"""The columns of a table: what each head says and the cells under it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from divert.ingest.cells.mark import is_total_label
from divert.ingest.known import Known
from divert.ingest.sheet import Distinct, Sheet, letter
from divert.ingest.tables.content import Content, content_of
from divert.ingest.tables.heading import Heading
from divert.ingest.tables.table import Head, Table

IGNORE = "ignore"  # the field of a column of which a person said that it is nothing
NAMED = (
    "source",
    "material",
    "container",
    "product",
    "destination",
    "name",
    "fuel",
    "condition",
    "before",
)


@dataclass(frozen=True)
class Column:
    """One column of a table: what its head says, what it was taken to be, and its cells."""

    index: int
    head: Head
    field: str
    cells: Distinct
    known: Known

    __hash__ = object.__hash__

    def taken_as(self, field: str) -> Column:
        """Return the column taken for a field; itself where it is taken for that already."""
        return self if field == self.field else replace(self, field=field)

    @property
    def says_total(self) -> bool:
        """Return whether a total says so itself, and is not one by arithmetic alone."""
        words = (self.head.text, self.head.over)
        return self.heading.field == "total" or any(map(is_total_label, words))

    @property
    def heading(self) -> Heading:
        """Return what the head was read as."""
        return self.head.heading

    @property
    def letter(self) -> str:
        """Return the column's letter."""
        return letter(self.index)

    @cached_property
    def content(self) -> Content:
        """Return what stands in the column."""
        known = self.known
        return self.cells.once((content_of, known.said), lambda: content_of(self.cells, known))


def columns_of(sheet: Sheet, table: Table, known: Known) -> list[Column]:
    """Return a table's columns with their fields settled, columns with no heading among them."""
    heads = {h.column: h for h in table.heads}
    columns = []
    for index in range(table.left, _right(sheet, table) + 1):
        cells = sheet.columns[index].part(table.first, table.end)
        head = heads.get(index) or Head(index, "", "", Heading())
        if index not in heads and not cells.cells:
            continue
        columns.append(Column(index, head, head.heading.field, cells, known))
    return columns


def _right(sheet: Sheet, table: Table) -> int:
    """Return the last column: the last heading's, or data beside it that has none."""
    right = table.right
    while right + 1 < len(sheet.columns):
        if (
            sheet.columns[right + 1].codes[
                table.heading_rows[0] if table.heading_rows else 0 : table.end
            ]
            < 0
        ).all():
            break
        if table.heading_rows and sheet.columns[right + 1].at(table.heading_rows[-1]) is not None:
            break
        right += 1
    return right
