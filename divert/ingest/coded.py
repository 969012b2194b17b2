"""Texts of many rows as codes into a short list of names, and parts of a ledger joined by them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.core.ledger import CARRIED, COLUMNS, text_columns, tidy
from divert.ingest.arrays import Bools, Codes
from divert.ingest.grid import Cell
from divert.ingest.sheet import Distinct


@dataclass(frozen=True)
class Coded:
    """A text for each row: ``names[code]``, or none where the code is -1."""

    codes: Codes
    names: list[str]

    __hash__ = object.__hash__

    def take(self, rows: npt.NDArray[np.int64]) -> Coded:
        """Return the texts of some rows."""
        return Coded(self.codes[rows], self.names)

    def texts(self) -> npt.NDArray[np.object_]:
        """Return the texts themselves, "" where none."""
        return np.array([*self.names, ""], dtype=object)[self.codes]

    def where(self, rows: Bools, other: Coded) -> Coded:
        """Return these texts with the other's in some rows."""
        if not rows.any():
            return self
        names = [*self.names, *other.names]
        moved = np.where(other.codes >= 0, other.codes + len(self.names), -1)
        return Coded(np.where(rows, moved, self.codes), names)

    def filled(self, other: Coded) -> Coded:
        """Return these texts with gaps filled from another."""
        return self.where(self.codes < 0, other)


def constant(text: str, rows: int) -> Coded:
    """Return one text for every row, or none for an empty one."""
    return Coded(
        np.zeros(rows, dtype=np.int64) if text else np.full(rows, -1), [text] if text else []
    )


def of_cells(cells: Distinct, read: Callable[[Cell], str]) -> Coded:
    """Return a text for every row from one reading of each distinct cell; "" means none."""
    found = [read(c) for c in cells.cells]
    names = list(dict.fromkeys(t for t in found if t))
    place = {t: i for i, t in enumerate(names)}
    table = np.array([*(place.get(t, -1) for t in found), -1], dtype=np.int64)
    return Coded(table[cells.codes], names)


def of_texts(texts: npt.NDArray[np.object_]) -> Coded:
    """Return texts as codes; "" means none."""
    codes, names = pd.factorize(texts)
    blank = [i for i, n in enumerate(names) if n == ""]
    if blank:
        codes = np.where(codes == blank[0], -1, codes)
    return Coded(codes.astype(np.int64), [str(n) for n in names])


@dataclass
class Part:
    """Entries of one group of a table: texts, numbers, days and places, all of one length."""

    size: int
    days: npt.NDArray[np.datetime64]
    rows: Codes
    texts: dict[str, Coded] = field(default_factory=dict)
    numbers: dict[str, npt.NDArray[np.float64]] = field(default_factory=dict)
    free: dict[str, npt.NDArray[np.object_]] = field(default_factory=dict)


def join(parts: Sequence[Part]) -> pd.DataFrame:
    """Return the parts as one ledger frame, each with every column."""
    parts = [p for p in parts if p.size]
    if not parts:
        return tidy(pd.DataFrame())
    out: dict[str, object] = {}
    for name in (*COLUMNS, *CARRIED):
        if name == "date":
            out[name] = np.concatenate([p.days for p in parts]).astype("datetime64[s]")
        elif name == "row":
            out[name] = np.concatenate([p.rows for p in parts])
        elif name in ("note", "found"):
            blank = [np.broadcast_to(np.array("", dtype=object), (p.size,)) for p in parts]
            out[name] = np.concatenate(
                [p.free.get(name, b) for p, b in zip(parts, blank, strict=True)]
            )
        elif name in text_columns():
            out[name] = _categories([(p.texts.get(name), p.size) for p in parts])
        else:
            gaps = [np.full(p.size, np.nan) for p in parts]
            out[name] = np.concatenate(
                [p.numbers.get(name, g) for p, g in zip(parts, gaps, strict=True)]
            )
    return tidy(pd.DataFrame(out))


def _categories(columns: Sequence[tuple[Coded | None, int]]) -> pd.Categorical:
    place: dict[str, int] = {}
    codes = []
    for column, size in columns:
        if column is None:
            codes.append(np.full(size, -1))
            continue
        table = np.array(
            [*(place.setdefault(n, len(place)) for n in column.names), -1], dtype=np.int64
        )
        codes.append(table[column.codes])
    joined = np.concatenate(codes)
    used = np.zeros(len(place), dtype=bool)
    used[joined[joined >= 0]] = True
    moved = np.append(np.cumsum(used) - 1, -1)
    names = [n for n, u in zip(place, used, strict=True) if u]
    return pd.Categorical.from_codes(moved[joined], categories=pd.Index(names, dtype=object))
