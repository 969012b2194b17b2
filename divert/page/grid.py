"""A sheet as a grid of its own cells: the word over each column, and what each row counts as."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from divert.convert.columns import of_names
from divert.core.column_words import column_said
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.grid import Grid
from divert.ingest.sheet import as_text, letter
from divert.page.left_out import left_out

if TYPE_CHECKING:
    from divert.convert import Workings

WINDOW = 150  # rows that are shown at once; the others come as they are looked for
MOST_COLUMNS = 60
_LONGEST = 200  # letters of a cell that are shown


@dataclass(frozen=True, slots=True)
class ColumnShown:
    """One column: its letter, and what its tables read it as."""

    letter: str
    words: tuple[Text, ...]
    heading: str


@dataclass(frozen=True, slots=True)
class RowShown:
    """One row: its cells as text, whether each is a number, and what the row counts as.

    ``kind``: "used", "aside" or "skip"; ``kg`` its mass, None where it has none; ``weighed`` whether
    all of that was weighed; ``said`` why it does not count, or what it counts as where that is no mass.
    """

    number: int
    cells: tuple[str, ...]
    numeric: tuple[bool, ...]
    kind: str
    kg: float | None = None
    said: Text | None = None
    weighed: bool = False


@dataclass(frozen=True, slots=True)
class SheetShown:
    """One sheet of one file, with the window of rows that is shown of it."""

    file: str
    sheet: str
    taken: tuple[SheetTaken, ...]
    columns: tuple[ColumnShown, ...]
    rows: tuple[RowShown, ...]
    first: int
    height: int
    more_columns: int

    @property
    def last(self) -> int:
        """Return the number of the last row shown."""
        return self.rows[-1].number if self.rows else 0


def sheet_shown(workings: Workings, grid: Grid, first: int, most: int = WINDOW) -> SheetShown:
    """Return a sheet from its row ``first`` on (from 1), ``most`` rows of it."""
    taken = tuple(
        s for s in workings.reading.sheets if (s.file, s.sheet) == (grid.file, grid.sheet)
    )
    height = len(grid.rows)
    first = max(1, min(first, height))
    rows = grid.rows[first - 1 : first - 1 + most]
    width = max((len(r) for r in grid.rows[: first + most]), default=0)
    shown = min(width, MOST_COLUMNS)
    meaning = _meanings(workings, grid.file, grid.sheet, first, first + len(rows) - 1)
    out = []
    for number, cells in enumerate(rows, start=first):
        padded = [cells[i] if i < len(cells) else None for i in range(shown)]
        texts = tuple(_short(as_text(c)) for c in padded)
        numeric = tuple(isinstance(c, int | float) and not isinstance(c, bool) for c in padded)
        kind, kg, said, weighed = meaning.get(number, ("skip", None, None, False))
        out.append(RowShown(number, texts, numeric, kind, kg, said, weighed))
    return SheetShown(
        grid.file, grid.sheet, taken, _columns(taken, shown), tuple(out), first, height,
        width - shown,
    )  # fmt: skip


def first_aside(workings: Workings, file: str, sheet: str) -> int | None:
    """Return the first row of a sheet that was set aside and is still asked about."""
    gone = left_out(workings)
    rows = [int(row) for row in rows_of(workings.set_aside, file, sheet)["row"]]
    return min((row for row in rows if (file, sheet, row) not in gone), default=None)


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"


def _columns(taken: Sequence[SheetTaken], width: int) -> tuple[ColumnShown, ...]:
    words: dict[str, list[str]] = {}
    headings: dict[str, str] = {}
    for table in taken:
        for where, heading, word in table.columns:
            at = "".join(c for c in where if c.isalpha())
            if word not in words.setdefault(at, []):
                words[at].append(word)
            headings.setdefault(at, heading)
    letters = [letter(i) for i in range(width)]
    return tuple(
        ColumnShown(a, tuple(map(column_said, words.get(a, ()))), headings.get(a, ""))
        for a in letters
    )


_OF_AN_ENTRY = ("file", "sheet", "row", "kind", "mass_kg", "basis")
Meaning = tuple[str, float | None, Text | None, bool]


def _meanings(
    workings: Workings, file: str, sheet: str, first: int, last: int
) -> Mapping[int, Meaning]:
    """Return what the rows of a window count as, by row number."""
    out: dict[int, Meaning] = {}
    skipped = rows_of(workings.reading.skipped, file, sheet, first, last)
    for row, reason in zip(skipped["row"], skipped["reason"], strict=True):
        out[int(row)] = ("skip", None, Text(str(reason)), False)
    for table in workings.reading.sheets:
        if (table.file, table.sheet) == (file, sheet) and table.heading_row is not None:
            out.setdefault(table.heading_row, ("skip", None, Text(N_("heading")), False))
    for row, counts in _counted(workings.ledger, file, sheet, first, last).items():
        kinds, kg, exact = zip(*counts, strict=True)
        masses = [mass for mass in kg if not math.isnan(mass)]
        said = None if kinds[0] == "intake" and masses else Text(str(kinds[0]))
        out[row] = ("used", math.fsum(masses) if masses else None, said, all(exact))
    aside = rows_of(workings.set_aside, file, sheet, first, last)
    gone = left_out(workings) if len(aside) else frozenset()
    for row, code in zip(aside["row"], aside["code"], strict=True):
        answered = (file, sheet, int(row)) in gone
        said = Text(N_("left out")) if answered else Text(str(code))
        out[int(row)] = ("skip" if answered else "aside", None, said, False)
    return out


def _counted(
    ledger: pd.DataFrame, file: str, sheet: str, first: int, last: int
) -> Mapping[int, list[tuple[str, float, bool]]]:
    """Return the kind, the mass and whether it was weighed of each entry of a window, by its row."""
    used = rows_of(ledger[[*_OF_AN_ENTRY]], file, sheet, first, last)
    of_row: dict[int, list[tuple[str, float, bool]]] = {}
    for row, kind, kg, basis in zip(
        *(used[name].tolist() for name in ("row", "kind", "mass_kg", "basis")), strict=True
    ):
        of_row.setdefault(int(row), []).append((str(kind), float(kg), basis == "weighed"))
    return of_row


def rows_of(
    frame: pd.DataFrame, file: str, sheet: str, first: int = 0, last: int | None = None
) -> pd.DataFrame:
    """Return a frame's rows of one sheet, of a window where one is given."""
    rows = frame["row"].to_numpy()
    mask = rows >= first
    if last is not None:
        mask &= rows <= last
    mask &= _is(frame["file"], file)
    if sheet:  # a text file has none
        mask &= _is(frame["sheet"], sheet)
    return frame.iloc[np.flatnonzero(mask)]


def _is(column: pd.Series[str], name: str) -> np.ndarray:
    if isinstance(column.dtype, pd.CategoricalDtype):
        return np.asarray(of_names(column, (name,)))
    return np.asarray(column == name, dtype=bool)
