"""A turned sheet, written line by line from cells that know where they stand in the user's own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from divert.core.words import Text
from divert.ingest.grid import Cell
from divert.ingest.sheet import Heads, Origin, Sheet, distinct

UNSAID = "?"  # stands where a form leaves a blank: nothing is ever carried there from another entry

Span = tuple[int, int, int, int]
Left = tuple[int, int | None, str, str]  # row and column from 0 (none: all of it), text, reason


@dataclass(frozen=True)
class At:
    """A cell and its place (from 0) in the user's sheet."""

    cell: Cell
    row: int
    column: int


@dataclass(frozen=True)
class Turned:
    """A sheet turned into a table.

    ``spoken``: rows of the user's sheet that are part of it, every other one being blank or a note.
    ``entries``: lines of the turned sheet that each hold an entry. ``doubtful``: cells of the user's
    sheet (row, column, text) that hold one nobody could tell for sure. ``left``: what is skipped.
    """

    sheet: Sheet
    spoken: frozenset[int]
    entries: tuple[int, ...]
    doubtful: tuple[tuple[int, int, str], ...] = ()
    left: tuple[Left, ...] = ()


def at(sheet: Sheet, row: int, column: int) -> At:
    """Return a cell of the user's sheet with its place."""
    return At(sheet.columns[column].at(row), row, column)


def filled(sheet: Sheet, row: int) -> list[At]:
    """Return the filled cells of a row of the user's sheet with their places."""
    cells = enumerate(sheet.row(row))
    return [At(cell, row, column) for column, cell in cells if cell is not None]


def build(
    sheet: Sheet,
    lines: Sequence[Sequence[At]],
    how: Text,
    merged: Sequence[Span] = (),
    heads: Heads = "apart",
) -> Sheet:
    """Return the turned sheet of some lines; lines may differ in length.

    A cell that no line holds has the place of the line's first.
    """
    width = max(len(line) for line in lines)
    rows = np.zeros((len(lines), width), dtype=np.int64)
    columns = np.zeros((len(lines), width), dtype=np.int64)
    cells: list[list[Cell]] = [[None] * len(lines) for _ in range(width)]
    for i, line in enumerate(lines):
        if line:
            rows[i], columns[i] = line[0].row, line[0].column
        for c, one in enumerate(line):
            rows[i, c], columns[i, c] = one.row, one.column
            cells[c][i] = one.cell
    return Sheet(
        sheet.file, sheet.name, tuple(map(distinct, cells)), len(lines), sheet.hidden, tuple(merged),
        Origin(sheet, rows, columns, how, heads),
    )  # fmt: skip
