"""The columns that name things, row by row: sources, materials, conditions, fates."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from divert.ingest import carry
from divert.ingest.arrays import Bools
from divert.ingest.cells import mark
from divert.ingest.coded import Coded, of_cells
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import Distinct, as_text
from divert.ingest.tables.columns import Column

LONGEST_NAME = 200  # characters


def carried_cells(
    column: Column,
    open_rows: Bools,
    stops: Bools,
    merged: Bools,
    outer: npt.NDArray[np.bool_] | None = None,
) -> Distinct:
    """Return a column's cells with what a merge, a ditto mark or a group says once carried down.

    ``open_rows`` may hold an entry; nothing is carried past ``stops``. ``outer`` marks rows on which
    a grouping column to the left begins anew: a gap there is a gap.
    """
    cells = column.cells
    quiet = cells.rows_of_texts(lambda text: mark.read_cell(text) is not None)
    dittos = carry.dittos(cells)
    codes = np.where(quiet, -1, cells.codes)
    grouped = carry.is_grouped(np.where(quiet, len(cells.cells), cells.codes), open_rows)
    allowed = dittos | merged
    if grouped:
        free = open_rows & (cells.codes < 0)
        if outer is not None:
            free &= ~outer
        allowed = allowed | free
    if not allowed.any():
        return Distinct(codes, cells.cells)
    hard = carry.carried(codes, dittos | merged, np.zeros(len(codes), dtype=bool))
    return Distinct(carry.carried(hard, allowed, stops), cells.cells)


def named(cells: Distinct, find: Callable[[str], str | None]) -> Coded:
    """Return the canonical name of every row, or the text as found where it is none known."""

    def read(cell: Cell) -> str:
        text = as_text(cell)
        if isinstance(cell, str) and mark.read_cell(text) is not None:
            return ""
        return find(text) or _at_most(text)

    return of_cells(cells, read)


def _at_most(name: str) -> str:
    """Return a name as long as one can be printed: setting a word of thousands would take minutes."""
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1].rstrip()}…"


def condition(known: Known) -> Callable[[str], str | None]:
    """Return how a condition cell is read: the built-in list's word, else the text in small letters."""
    return lambda text: known.conditions.find(text) or text.casefold()
