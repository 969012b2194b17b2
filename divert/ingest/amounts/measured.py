"""The quantities of a stretch of rows, as they come together."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from divert.ingest import carry
from divert.ingest.amounts.column import PROBLEMS
from divert.ingest.arrays import Bools, Floats, Ints, Objects, blank_numbers, blank_texts, no_rows
from divert.ingest.cells.quantity_value import Quantity
from divert.ingest.sheet import Distinct

UNREADABLE = PROBLEMS.index("quantity unreadable")
NO_UNIT = PROBLEMS.index("unit unknown")
NET_ZERO = PROBLEMS.index("net mass zero or less")
DISAGREE = PROBLEMS.index("weights disagree")
TWO_WEIGHTS = PROBLEMS.index("two weights")
NO_TARE = PROBLEMS.index("no tare")
NO_SCALE = PROBLEMS.index("no scale")


@dataclass
class Measured:
    """The quantities of a stretch of rows, SI; NaN and "" where not said.

    ``state`` as in Amounts; ``problem`` a place in PROBLEMS; ``where`` the column index of the cell
    that settled state or problem; ``asked`` row counts by ambiguous word with the first row.
    """

    count: Floats
    fill: Floats
    volume_m3: Floats
    mass_kg: Floats
    gross_kg: Floats
    removed_kg: Floats
    removed_share: Floats
    container: Objects
    note: Objects
    state: Ints
    problem: Ints
    where: npt.NDArray[np.int16]
    rank: Ints
    several: dict[int, tuple[Quantity, ...]] = field(default_factory=dict)
    asked: dict[str, Bools] = field(default_factory=dict)
    settled: set[int] = field(default_factory=set)

    def note_asked(self, words: Objects, rows: Bools) -> None:
        """Remember which rows use a word that only site.toml settles."""
        for word in dict.fromkeys(w for w in words[rows] if w):
            self.ask(str(word), rows & (words == word))

    def ask(self, word: str, rows: Bools) -> None:
        """Remember that some rows use a word that only site.toml settles."""
        self.asked[word] = self.asked.get(word, no_rows(len(rows))) | rows


def nothing_said(rows: int) -> Measured:
    """Return rows of which nothing has been said yet."""
    count, fill, volume, mass = (blank_numbers(rows) for _ in range(4))
    gross, removed, share = (blank_numbers(rows) for _ in range(3))
    state, problem, rank = (np.zeros(rows, dtype=np.int8) for _ in range(3))
    return Measured(
        count, fill, volume, mass, gross, removed, share,
        blank_texts(rows), blank_texts(rows), state, problem, np.zeros(rows, dtype=np.int16), rank,
    )  # fmt: skip


def without_dittos(cells: Distinct) -> Distinct:
    """Return the cells with every ditto mark replaced by what stands above it."""
    marks = carry.dittos(cells)
    if not marks.any():
        return cells
    codes = np.where(marks, -1, cells.codes)
    return Distinct(carry.carried(codes, marks, no_rows(len(codes))), cells.cells)


def fill_gaps(into: Floats, values: Floats) -> None:
    """Lay numbers into the rows that have none yet."""
    gap = np.isnan(into)
    into[gap] = values[gap]


def fill_text_gaps(into: Objects, values: Objects) -> None:
    """Lay texts into the rows that have none yet."""
    gap = (into == "") & (values != "")
    into[gap] = values[gap]


def add_texts(into: Objects, more: Objects) -> None:
    """Lay texts into the rows, behind those that stand there already."""
    both = (into != "") & (more != "")
    fill_text_gaps(into, more)
    into[both] += "; " + more[both]
