"""What each file of a folder holds now, from a finished reading."""

from __future__ import annotations

import datetime as dt

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert import Workings
from divert.core.ledger import KINDS
from divert.core.marks import Marks, mixed, rounded
from divert.inventory.model import FileKept, Held, SheetKept

_AMOUNTS = ("count", "fill", "volume_m3", "mass_kg", "gross_kg", "amount")
_NAMES = ("source", "material", "before", "destination", "name", "removed_kg", "removed_share")
_DIGITS = 9  # significant, of an amount


def files_now(workings: Workings, as_of: dt.date) -> dict[str, FileKept]:
    """Return every file that could be opened, by name, with the entries counted from it.

    Entries that wait for an answer about their file or sheet are not among them.
    """
    entries = workings.reading.entries.loc[workings.ledger.index]
    held = _arrays(entries, workings.ledger)
    file = entries["file"].astype(object).to_numpy()
    sheet = entries["sheet"].astype(object).fillna("").to_numpy()
    codes, names = pd.factorize(file)
    order = np.argsort(codes, kind="stable")
    cuts = np.searchsorted(codes[order], np.arange(len(names) + 1))
    rows = {str(n): order[cuts[i] : cuts[i + 1]] for i, n in enumerate(names)}
    out = {}
    for one in workings.reading.inputs:
        mine = rows.get(one.file, np.empty(0, dtype=np.int64))
        sheets, numbers = _sheets(sheet[mine], held.day[mine])
        of_file = held.take(mine)
        of_file = Held(**{n: getattr(of_file, n) for n in Held.__slots__ if n != "sheet"},
                       sheet=numbers)  # fmt: skip
        out[one.file] = FileKept(one.file, one.sha256, one.size, as_of, sheets, of_file)
    return out


def waiting_of(workings: Workings) -> Held:
    """Return the entries that wait for an answer: they are asked about, and not missing."""
    waiting = workings.reading.held
    if waiting is None or waiting.empty:
        return _arrays(workings.reading.entries.iloc[:0], workings.ledger.iloc[:0])
    return _arrays(waiting, waiting)


def _arrays(entries: pd.DataFrame, ledger: pd.DataFrame) -> Held:
    """Return entries as arrays: what they say from ``entries``, what they come to from ``ledger``."""
    day = entries["date"].to_numpy().astype("datetime64[D]").astype(np.int64)
    kinds = {name: number for number, name in enumerate(KINDS)}
    of_category = [kinds.get(str(k), 255) for k in entries["kind"].cat.categories] + [255]
    kind = np.array(of_category, dtype=np.uint8)[entries["kind"].cat.codes.to_numpy()]
    mark = mixed(day.view(np.uint64), kind.astype(np.uint64))
    for name in _AMOUNTS:
        mark = mixed(mark, rounded(entries[name].to_numpy(), _DIGITS))
    mark = mixed(mark, _texts(entries["container"]))
    named = mark
    for name in _NAMES:
        column = entries[name]
        numeric = column.dtype == np.float64
        named = mixed(named, rounded(column.to_numpy(), _DIGITS) if numeric else _texts(column))
    return Held(
        mark, named, kind, day.astype(np.int32), ledger["mass_kg"].to_numpy().copy(),
        ledger["removed_kg"].to_numpy().copy(), np.zeros(len(entries), dtype=np.uint16),
    )  # fmt: skip


def _sheets(
    names: npt.NDArray[np.object_], day: npt.NDArray[np.int32]
) -> tuple[tuple[SheetKept, ...], npt.NDArray[np.uint16]]:
    codes, distinct = pd.factorize(names)
    out = []
    for number, name in enumerate(distinct):
        days = day[codes == number].astype("datetime64[D]")
        out.append(SheetKept(str(name), len(days), str(days.min()), str(days.max())))
    return tuple(out), codes.astype(np.uint16)


def _texts(column: pd.Series[str]) -> Marks:
    """Return a number for each text, the same in every run."""
    names = np.array([str(c) for c in column.cat.categories] or [""], dtype=object)
    table = np.append(pd.util.hash_array(names, categorize=False), np.uint64(0))
    return np.asarray(table[column.cat.codes.to_numpy()], dtype=np.uint64)
