"""A sheet by its columns, cleaned: the shape in which everything after the file is read."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

import numpy as np
import numpy.typing as npt

from divert.ingest.cells.number import even
from divert.ingest.grid import Cell, Grid

Codes = npt.NDArray[np.int64]


def letter(column: int) -> str:
    """Return a column's letter: 0 is A, 26 is AA."""
    out = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        out = chr(65 + rest) + out
    return out


def column_of(letters: str) -> int:
    """Return a letter's column: A is 0."""
    number = 0
    for c in letters.upper():
        number = number * 26 + ord(c) - 64
    return number - 1


_LOOSE = re.compile(r"[\n\r\t\u00a0\u202f\u2009\u200b\ufeff]|  ")


def _clean(cell: Cell) -> Cell:
    if isinstance(cell, str):
        cell = " ".join(cell.replace("\u200b", "").replace("\ufeff", "").split())
        return cell or None
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    if isinstance(cell, float) and cell != cell:
        return None
    return cell


def _clean_column(cells: Sequence[Cell]) -> Sequence[Cell]:
    kinds = set(map(type, cells))
    if bool in kinds:
        return [_clean(c) for c in cells]
    texts = {c for c in cells if type(c) is str} if str in kinds else set()
    change = {
        t: _clean(t)
        for t in texts
        if not t or t[0] <= " " or t[-1] <= " " or _LOOSE.search(t) or not t.isprintable()
    }
    if change:
        return [change.get(c, c) if type(c) is str else c for c in cells]
    if float in kinds and any(c != c for c in cells if type(c) is float):
        return [_clean(c) for c in cells]
    return cells


@dataclass(frozen=True)
class Sheet:
    """One sheet: ``columns[c][r]`` is the cell in column c (0 is A) and row r (0 is the first)."""

    file: str
    name: str
    columns: tuple[Sequence[Cell], ...]
    height: int
    hidden: bool = False
    merged: tuple[tuple[int, int, int, int], ...] = ()

    __hash__ = object.__hash__

    def row(self, number: int) -> list[Cell]:
        """Return one row's cells (0 is the first row)."""
        return [c[number] for c in self.columns]


def by_columns(grid: Grid) -> Sheet:
    """Return a grid's cells by column: text without stray spaces, empty text as None."""
    raw = list(zip_longest(*grid.rows)) if grid.rows else []
    columns = [_clean_column(c) for c in raw]
    height = len(grid.rows)
    while height and all(c[height - 1] is None for c in columns):
        height -= 1
    while columns and all(cell is None for cell in columns[-1]):
        columns.pop()
    cut = tuple(c[:height] for c in columns)
    return Sheet(grid.file, grid.sheet, cut, height, grid.hidden, tuple(grid.merged))


@dataclass(frozen=True)
class Distinct:
    """A stretch of a column as codes into its distinct cells; -1 where empty."""

    codes: Codes
    cells: list[Cell]

    __hash__ = object.__hash__


def distinct(cells: Sequence[Cell]) -> Distinct:
    """Return a stretch of cells as codes into its distinct values, in order of first appearance."""
    import pandas as pd

    array = np.empty(len(cells), dtype=object)
    array[:] = cells
    codes, found = pd.factorize(array, use_na_sentinel=True)
    return Distinct(codes.astype(np.int64), list(found))


_NUMBERLIKE = re.compile(r"[-+~$€£]?\s*[\d.,  ']*\d[\d.,  ']*\s*%?|[½¼¾]")
_DATELIKE = re.compile(r"\d{1,4}\s*[-/.]\s*\d{1,2}(?:\s*[-/.]\s*\d{1,4})?(?:[T ].*)?")


def is_value(cell: Cell) -> bool:
    """Return whether a cell is data on its face: a number, a date, or a text that is only one."""
    if cell is None:
        return False
    if isinstance(cell, str):
        text = even(cell)
        return bool(_NUMBERLIKE.fullmatch(text) or _DATELIKE.fullmatch(text))
    return True


def is_number(text: str) -> bool:
    """Return whether a text is one number and nothing else, a percent sign aside."""
    return _NUMBERLIKE.fullmatch(even(text)) is not None and _DATELIKE.fullmatch(even(text)) is None


def is_date(cell: Cell) -> bool:
    """Return whether a cell holds a calendar date in the spreadsheet's own form."""
    return isinstance(cell, dt.date)


def as_text(cell: Cell) -> str:
    """Return a cell as a person would read it: 40 for 40.0, 2025-03-04 for a date."""
    if cell is None:
        return ""
    if isinstance(cell, float):
        return str(int(cell)) if cell == cell // 1 and abs(cell) < 1e15 else repr(cell)
    if isinstance(cell, dt.datetime):
        midnight = cell.time() == dt.time()
        return cell.date().isoformat() if midnight else cell.isoformat(sep=" ", timespec="minutes")
    return str(cell)
