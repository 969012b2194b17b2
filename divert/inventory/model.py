"""The inventory as values: each file that was read, and the entries it held."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

Bools = npt.NDArray[np.bool_]
Rows = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Held:
    """The entries of one file, as arrays of one length.

    ``mark`` is equal for entries with the same kind, day and amounts, ``named`` where source,
    material and fate are the same too; ``kind`` numbers :data:`divert.core.ledger.KINDS`; ``month``
    counts from January 1970; ``day`` from its first; masses in kg, NaN where there is none;
    ``removed_kg`` is contamination taken off the entry itself; ``sheet`` numbers the file's sheets.
    """

    mark: npt.NDArray[np.uint64]
    named: npt.NDArray[np.uint64]
    kind: npt.NDArray[np.uint8]
    day: npt.NDArray[np.int32]
    mass_kg: npt.NDArray[np.float64]
    removed_kg: npt.NDArray[np.float64]
    sheet: npt.NDArray[np.uint16]

    def __len__(self) -> int:
        return len(self.mark)

    def take(self, rows: Rows | Bools) -> Held:
        """Return some of the entries."""
        return Held(*(getattr(self, name)[rows] for name in self.__slots__))

    @property
    def month(self) -> npt.NDArray[np.int64]:
        """Return each entry's month, from January 1970."""
        return self.day.astype("datetime64[D]").astype("datetime64[M]").astype(np.int64)


@dataclass(frozen=True, slots=True)
class SheetKept:
    """A sheet as it was read: its name, its entries, their first and last day."""

    sheet: str
    rows: int
    first: str
    last: str


@dataclass(frozen=True, slots=True, eq=False)
class FileKept:
    """A file as it was read on a day: its fingerprint, its sheets, and the entries it held."""

    file: str
    sha256: str
    size: int
    read_on: dt.date
    sheets: tuple[SheetKept, ...]
    held: Held


@dataclass(frozen=True, slots=True)
class Settled:
    """A loss that an answer has settled: what it was about, what was said, and what it was of."""

    about: str
    code: str
    file: str
    read_on: dt.date
    mass_kg: float
    rows: int
    first: str
    last: str


@dataclass(frozen=True, slots=True, eq=False)
class Inventory:
    """What a folder held when it was last read: files by name, and losses already settled."""

    as_of: dt.date
    files: Mapping[str, FileKept] = field(default_factory=dict)
    settled: tuple[Settled, ...] = ()

    def says_more_than(self, kept: Inventory) -> bool:
        """Return whether anything is not what is kept: another day, loss or file, or one read anew."""
        same = self.as_of == kept.as_of and self.settled == kept.settled
        same = same and self.files.keys() == kept.files.keys()
        return not (same and all(kept.files[name] is one for name, one in self.files.items()))
