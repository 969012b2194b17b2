"""What a folder says less than it did: files gone, cut, emptied, renamed, or with rows taken out.

An entry is known again by what it says (kind, day and amounts), so that rows may be moved to another
row, sheet or file. A file whose bytes are the same says the same, whatever became of the settings.
"""

from __future__ import annotations

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np

from divert.core.ledger import KINDS
from divert.inventory.model import FileKept, Held, Inventory

GONE, RENAMED, LESS, UNREADABLE = (
    "file gone", "file renamed", "says less than before", "file unreadable",
)  # fmt: skip
_LEAST_KG = 0.0005
_REMOVED = KINDS.index("removed")
_INTAKE = KINDS.index("intake")


@dataclass(frozen=True, slots=True)
class Loss:
    """What one file does not say any more: by kind, mass in kg and number of entries.

    ``now`` is the file that holds its bytes under another name, "" where there is none. ``kg`` and
    ``rows`` are empty where nothing is missing: a file renamed, and read as before.
    """

    code: str
    file: str
    read_on: dt.date
    now: str
    kg: Mapping[str, float]
    rows: Mapping[str, int]
    first: dt.date | None
    last: dt.date | None


def losses(
    then: Inventory,
    now: Mapping[str, FileKept],
    waiting: Held,
    unreadable: Collection[str],
    as_of: dt.date,
) -> list[Loss]:
    """Return what is missing of what the folder held, file by file.

    ``now``: the files that were opened; ``waiting``: entries that are asked about already;
    ``unreadable``: files that are there and cannot be read. Entries after ``as_of`` are not looked
    for.
    """
    last = np.datetime64(as_of, "D").astype(np.int64)
    old = {name: kept.held.take(kept.held.day <= last) for name, kept in then.files.items()}
    readable = {name: kept for name, kept in now.items() if name not in unreadable}
    renamed = _renamed(then, readable)
    missing: dict[str, Held] = {}
    added: dict[str, Held] = {}
    spare: Counter[int] = Counter(waiting.mark.tolist())
    for name, kept in readable.items():
        if name in renamed.values():
            continue
        before = then.files.get(name)
        if before is not None and before.sha256 == kept.sha256:
            continue
        same = name not in renamed and name in old
        added[name] = _without(kept.held, old[name].mark if same else _nothing())
        spare.update(added[name].mark.tolist())
    found = []
    for name, kept in then.files.items():
        if name in renamed:
            found.append(_read_otherwise(kept, old[name], now[renamed[name]]))
            continue
        here = readable.get(name)
        if here is not None and here.sha256 == kept.sha256:
            continue
        left = old[name] if here is None else _without(old[name], here.held.mark)
        missing[name] = _not_elsewhere(left, spare)
        code = LESS if here is not None else UNREADABLE if name in unreadable else GONE
        offset = added.get(name) if here is not None else None
        loss = _loss(code, kept, missing[name], offset)
        if loss.rows or code == UNREADABLE:
            found.append(loss)
    return found


def _nothing() -> np.ndarray:
    """Return no marks at all."""
    return np.empty(0, dtype=np.uint64)


def _renamed(then: Inventory, now: Mapping[str, FileKept]) -> dict[str, str]:
    """Return the files whose bytes now stand under another name, with that name."""
    free: dict[str, list[str]] = {}
    for name, kept in now.items():
        before = then.files.get(name)
        if before is None or before.sha256 != kept.sha256:
            free.setdefault(kept.sha256, []).append(name)
    found = {}
    for name, kept in then.files.items():
        here = now.get(name)
        if (here is None or here.sha256 != kept.sha256) and free.get(kept.sha256):
            found[name] = free[kept.sha256].pop(0)
    return found


def _read_otherwise(kept: FileKept, old: Held, now: FileKept) -> Loss:
    """Return what a renamed file says otherwise: its name may have told a source, a year, a kind."""
    left = _without(Held(**_arrays(old) | {"mark": old.named}), now.held.named)
    return _loss(RENAMED, kept, left, None, now.file)


def _arrays(held: Held) -> dict[str, np.ndarray]:
    return {name: getattr(held, name) for name in Held.__slots__}


def _without(held: Held, marks: np.ndarray) -> Held:
    """Return the entries that the marks do not hold, each of several alike counted."""
    have = Counter(marks.tolist())
    keep = np.ones(len(held), dtype=bool)
    for place, mark in enumerate(held.mark.tolist()):
        if have[mark] > 0:
            have[mark] -= 1
            keep[place] = False
    return held.take(keep)


def _not_elsewhere(held: Held, spare: Counter[int]) -> Held:
    """Return the entries that stand in no other file; what is found there is used up."""
    keep = np.ones(len(held), dtype=bool)
    for place, mark in enumerate(held.mark.tolist()):
        if spare[mark] > 0:
            spare[mark] -= 1
            keep[place] = False
    return held.take(keep)


def _loss(
    code: str, kept: FileKept, missing: Held, added: Held | None, now: str = ""
) -> Loss:  # fmt: skip
    """Return what is missing by kind and month, less what the same file says anew of that month."""
    kg: defaultdict[str, float] = defaultdict(float)
    rows: defaultdict[str, int] = defaultdict(int)
    months: list[int] = []
    for kind, month in sorted(set(zip(missing.kind.tolist(), missing.month.tolist(), strict=True))):
        here = (missing.kind == kind) & (missing.month == month)
        anew = np.zeros(0, dtype=bool)
        if added is not None:
            anew = (added.kind == kind) & (added.month == month)
        lost_kg = float(np.nansum(missing.mass_kg[here]))
        lost_rows = int(here.sum())
        removed = float(np.nansum(missing.removed_kg[here]))
        if added is not None:
            lost_kg -= float(np.nansum(added.mass_kg[anew]))
            lost_rows -= int(anew.sum())
            removed -= float(np.nansum(added.removed_kg[anew]))
        massless = bool(np.isnan(missing.mass_kg[here]).any())
        if lost_kg > _LEAST_KG or (massless and lost_rows > 0):
            name = KINDS[kind] if kind < len(KINDS) else ""
            kg[name] += max(lost_kg, 0.0)
            rows[name] += max(lost_rows, 1)
            months.append(month)
        if kind == _INTAKE and removed > _LEAST_KG and lost_kg <= _LEAST_KG:
            kg[KINDS[_REMOVED]] += removed
            rows[KINDS[_REMOVED]] += max(lost_rows, 1)
            months.append(month)
    first, last = _days(missing, months)
    return Loss(code, kept.file, kept.read_on, now, dict(kg), dict(rows), first, last)


def _days(missing: Held, months: list[int]) -> tuple[dt.date | None, dt.date | None]:
    days = missing.day[np.isin(missing.month, months)]
    if not len(days):
        return None, None
    first, last = (np.datetime64(int(d), "D").item() for d in (days.min(), days.max()))
    return first, last
