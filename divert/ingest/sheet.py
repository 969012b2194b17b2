"""A sheet by its columns, cleaned: the shape in which everything after the file is read."""

from __future__ import annotations

import datetime as dt
import re
from collections import defaultdict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain, compress, count, repeat, zip_longest
from typing import Literal, TypeVar

import numpy as np

from divert.core.unseen import without_unseen
from divert.core.words import Text
from divert.ingest.arrays import Bools, Codes
from divert.ingest.cells.number import even
from divert.ingest.grid import Cell, Grid


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


_Found = TypeVar("_Found")


@dataclass(frozen=True)
class Distinct:
    """A stretch of a column as codes into its distinct cells; -1 where empty."""

    codes: Codes
    cells: list[Cell]

    __hash__ = object.__hash__

    def at(self, row: int) -> Cell:
        """Return the cell of one row."""
        code = self.codes[row]
        return self.cells[code] if code >= 0 else None

    @cached_property
    def types(self) -> frozenset[type]:
        """Return the types of the cells."""
        return frozenset(map(type, self.cells))

    @cached_property
    def texts(self) -> list[int]:
        """Return the codes of the cells that are texts, in order."""
        if str not in self.types:
            return []
        return [code for code, cell in enumerate(self.cells) if type(cell) is str]

    def rows_of(self, codes: Sequence[int]) -> Bools:
        """Return the rows whose cell has one of some codes."""
        if not codes:
            return np.zeros(len(self.codes), dtype=bool)
        told = np.zeros(len(self.cells) + 1, dtype=bool)  # the last is an empty cell's
        told[codes] = True
        return np.asarray(told[self.codes])

    def rows_where(self, holds: Callable[[Cell], object]) -> Bools:
        """Return the rows whose cell is one of which something holds; no empty one is."""
        return self.rows_of([code for code, cell in enumerate(self.cells) if holds(cell)])

    def rows_of_texts(self, holds: Callable[[str], object]) -> Bools:
        """Return the rows whose cell is a text of which something holds."""
        return self.rows_of([code for code in self.texts if holds(str(self.cells[code]))])

    @cached_property
    def counts(self) -> Codes:
        """Return in how many rows each cell stands."""
        return np.bincount(self.codes[self.filled], minlength=len(self.cells))

    @cached_property
    def filled(self) -> Codes:
        """Return the rows that hold a cell, in order."""
        return np.asarray((self.codes >= 0).nonzero()[0])

    def filled_in(self, first: int, end: int) -> Codes:
        """Return the rows of a stretch that hold a cell, in order."""
        if first <= 0 and end >= len(self.codes):
            return self.filled
        return self.filled[slice(*self.filled.searchsorted([first, end]).tolist())]

    @cached_property
    def _found(self) -> dict[Hashable, object]:
        return {}

    def once(self, question: Hashable, find: Callable[[], _Found]) -> _Found:
        """Return the answer to a question about these cells, found the first time that it is asked."""
        if question not in self._found:
            self._found[question] = find()
        return self._found[question]  # type: ignore[return-value]

    def part(self, first: int, end: int) -> Distinct:
        """Return a stretch of it, with only the cells that occur there, in order of appearance."""
        inside = self.filled_in(first, end)
        found, kept = _numbered_anew(self.codes[inside])
        codes = _placed(found, inside - first, max(min(end, len(self.codes)) - first, 0))
        if isinstance(kept, range):
            return Distinct(codes, self.cells[kept.start : kept.stop])
        return Distinct(codes, [self.cells[k] for k in kept])


def _numbered_anew(codes: Codes) -> tuple[Codes, Sequence[int]]:
    """Return codes numbered in order of first appearance, and the code that each stands for."""
    if not len(codes):
        return codes, ()
    first, highest = int(codes[0]), np.maximum.accumulate(codes)
    if codes.min() == first and np.diff(highest).max(initial=0) <= 1:
        return codes - first, range(first, int(highest[-1]) + 1)  # they are, but for those before
    import pandas as pd

    found, kept = pd.factorize(codes)
    return found, kept.tolist()


def distinct(cells: Sequence[Cell]) -> Distinct:
    """Return cells as codes into their distinct values, cleaned, in order of first appearance.

    Text loses stray spaces, and where nothing is left is empty; TRUE and FALSE become text.
    """
    numbered = _Numbered()
    numbered.add(cells)
    return numbered.distinct()


class _Numbered:
    """Cells of a column, each numbered by the first that is equal to it as it stands."""

    def __init__(self) -> None:
        self._met: defaultdict[Cell, int] = defaultdict(count().__next__)
        self._codes: list[Codes] = []

    def add(self, cells: Sequence[Cell]) -> None:
        """Number further cells."""
        if bool in set(map(type, cells)):
            cells = [_BOOLS[c] if isinstance(c, bool) else c for c in cells]  # True equals 1
        numbers = map(self._met.__getitem__, cells)
        self._codes.append(np.fromiter(numbers, dtype=np.int32, count=len(cells)))

    def distinct(self) -> Distinct:
        """Return what :func:`distinct` does of all that were added."""
        place: dict[Cell, int] = {}
        cells = [_stripped(c) if isinstance(c, str) else c for c in self._met]
        clean = [-1 if c is None or c != c else place.setdefault(c, len(place)) for c in cells]
        return Distinct(np.array(clean, dtype=np.int32)[np.concatenate(self._codes)], list(place))


_BOOLS = {True: "TRUE", False: "FALSE"}


def _stripped(text: str) -> str | None:
    if text.isascii() and text.isprintable() and "  " not in text and text == text.strip():
        return text or None  # of such a text a space is all that can be stray
    lines = " ".join(text.split())  # before a line end goes, for it parts words
    return " ".join(without_unseen(lines).split()) or None


_TOP = 62  # rows that are gone through cell by cell

Heads = Literal["apart", "among", "none"]


@dataclass(frozen=True)
class Origin:
    """Where the cells of a sheet that was turned into a table stand in the user's own.

    ``rows[r, c]`` and ``columns[r, c]``: the place (from 0) in ``sheet`` of the turned cell (r, c).
    ``how`` says how the sheet was turned, for a person to see. ``heads``: the headings of the turned
    sheet stand "apart" in the user's, "among" what its entries say, or nowhere ("none").
    """

    sheet: Sheet
    rows: Codes
    columns: Codes
    how: Text
    heads: Heads = "apart"

    __hash__ = object.__hash__


@dataclass(frozen=True)
class Sheet:
    """One sheet: ``columns[c].at(r)`` is the cell in column c (0 is A) and row r (0 is the first).

    ``struck`` holds the rows (from 0) that are struck through, ``hidden_rows`` and ``hidden_columns``
    what nobody sees.
    ``origin`` is set where the sheet is not the user's own but that one turned into a table.
    """

    file: str
    name: str
    columns: tuple[Distinct, ...]
    height: int
    hidden: bool = False
    merged: tuple[tuple[int, int, int, int], ...] = ()
    origin: Origin | None = None
    struck: frozenset[int] = frozenset()
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()

    __hash__ = object.__hash__

    def row(self, number: int) -> list[Cell]:
        """Return one row's cells (0 is the first row)."""
        if 0 <= number < _TOP:
            return self._top[number].copy()
        return [c.at(number) for c in self.columns]

    @cached_property
    def _top(self) -> list[list[Cell]]:
        """The first rows, where headings are looked for in many ways."""
        height = min(self.height, _TOP)
        columns = [
            [c.cells[code] if code >= 0 else None for code in c.codes[:height].tolist()]
            for c in self.columns
        ]
        return [list(row) for row in zip(*columns, strict=True)] if columns else [[]] * height


def by_columns(grid: Grid) -> Sheet:
    """Return a grid's cells by column: text without stray spaces, empty text as None."""
    rows, places = grid.rows, np.arange(len(grid.rows), dtype=np.int64)
    if not all(rows):  # of a million most may be empty
        places = np.array([*compress(range(len(rows)), rows)], dtype=np.int64)
        rows = [*compress(rows, rows)]
    columns = _columns(rows)
    while columns and not columns[-1].cells:
        columns.pop()
    filled = np.zeros(len(rows), dtype=bool)
    for column in columns:
        filled |= column.codes >= 0
    places = places[filled]
    height = int(places[-1]) + 1 if len(places) else 0
    if not filled.all():
        columns = [Distinct(c.codes[filled], c.cells) for c in columns]
    cut = tuple(Distinct(_placed(c.codes, places, height), c.cells) for c in columns)
    name = without_unseen(grid.sheet)
    marked = (grid.struck, grid.hidden_rows, grid.hidden_columns)
    struck, hidden, unseen = (frozenset(n - 1 for n in lines) for lines in marked)
    return Sheet(
        grid.file, name, cut, height, grid.hidden, tuple(grid.merged),
        struck=struck, hidden_rows=hidden, hidden_columns=unseen,
    )  # fmt: skip


def _columns(rows: list[list[Cell]]) -> list[Distinct]:
    """Return rows by column, gone through some at a time, while their cells are at hand."""
    columns = [_Numbered() for _ in range(max(map(len, rows), default=0))]
    for at in range(0, len(rows), _AT_ONCE):
        some = rows[at : at + _AT_ONCE]
        nothing = (None,) * len(some)
        for column, cells in zip(columns, chain(zip_longest(*some), repeat(nothing)), strict=False):
            column.add(cells)
    return [column.distinct() for column in columns]


_AT_ONCE = 256


def _placed(codes: Codes, places: Codes, height: int) -> Codes:
    """Return codes of some rows as those of all rows, -1 where nothing stands."""
    if len(places) == height:
        return codes.astype(np.int32, copy=False)
    out = np.full(height, -1, dtype=np.int32)
    out[places] = codes
    return out


_NUMBERLIKE = re.compile(r"[-+~$€£]?\s*+(?=[.,  ']*\d)[\d.,  ']++\s*%?|[½¼¾]")
_DECIMAL = re.compile(r"\d+\.\d+")
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
    flat = even(text)
    dated = _DATELIKE.fullmatch(flat) is not None and _DECIMAL.fullmatch(flat) is None
    return _NUMBERLIKE.fullmatch(flat) is not None and not dated


def as_text(cell: Cell) -> str:
    """Return a cell as a person would read it: 40 for 40.0, 2025-03-04 for a date."""
    if cell is None:
        return ""
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    if isinstance(cell, dt.datetime):
        midnight = cell.time() == dt.time()
        return cell.date().isoformat() if midnight else cell.isoformat(sep=" ", timespec="minutes")
    return str(cell)
