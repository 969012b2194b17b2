"""What differs from the last reading, row by row: `divert read --changes`.

Where the cells of a file as it was are still in the cache they are read again, under the settings
of today, and each row that only one of the two says is shown. Where they are not, the inventory
itself tells the day, the kind and the mass of each entry that is gone.
"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

import numpy as np
import pandas as pd

from divert.convert import Workings
from divert.convert.bands import System, quantity
from divert.core.ledger import KINDS
from divert.core.reading import InputFile
from divert.core.words import N_, Text
from divert.ingest import cache
from divert.ingest.answer import heard
from divert.ingest.checks.contents import contents_of
from divert.ingest.grid import Opened
from divert.ingest.read import read_opened
from divert.inventory.model import FileKept, Inventory
from divert.inventory.record import files_now
from divert.site.model import Site

_MOST = 200  # rows of a file that are listed


@dataclass(frozen=True, slots=True)
class Changed:
    """One file that differs: ``gone`` and ``new`` are what its rows say; ``now`` its name today.

    ``now`` is "" where the file is gone. ``whole`` is False where the old cells are not kept, so
    that only days, kinds and masses of what is gone can be told.
    """

    file: str
    now: str
    read_on: dt.date
    gone: tuple[str | Text, ...]
    new: tuple[str | Text, ...]
    whole: bool


def changes(workings: Workings, then: Inventory | None, as_of: dt.date) -> tuple[Changed, ...]:
    """Return every file that differs from what ``then`` remembers of it."""
    if then is None:
        return ()
    site = workings.site
    now = files_now(workings, as_of)
    by_bytes = {kept.sha256: name for name, kept in now.items()}
    found = []
    for name, kept in then.files.items():
        here = now.get(name)
        if here is not None and here.sha256 == kept.sha256:
            continue
        today = by_bytes.get(kept.sha256, name if here is not None else "")
        rows = _rows_of(workings.reading.entries, today)
        before = _as_it_was(kept, site, as_of)
        if before is not None:
            gone, new = _only(before, rows), _only(rows, before)
            found.append(Changed(name, today, kept.read_on, gone, new, True))
        else:
            gone_marks = _gone(kept, now.get(today), site.units)
            found.append(Changed(name, today, kept.read_on, gone_marks, (), False))
    for name in now:
        if name not in then.files and by_bytes[now[name].sha256] == name:
            rows = _rows_of(workings.reading.entries, name)
            if len(rows) and not any(c.now == name for c in found):
                found.append(Changed("", name, as_of, (), _only(rows, rows.iloc[:0]), True))
    return tuple(found)


def _rows_of(entries: pd.DataFrame, file: str) -> pd.DataFrame:
    return entries[(entries["file"] == file).to_numpy()] if file else entries.iloc[:0]


def _as_it_was(kept: FileKept, site: Site, as_of: dt.date) -> pd.DataFrame | None:
    """Return a file's entries as its old bytes say them; None where its cells are not kept."""
    frames = cache.load(kept.sha256, PurePosixPath(kept.file).suffix.lower())
    if frames is None:
        return None
    got = heard(kept.file, iter(frames), lambda rows: None)
    if got.refused:
        return None
    opened = Opened(InputFile(kept.file, kept.sha256, kept.size), tuple(got.grids))
    return read_opened([opened], site, as_of).entries


def _only(here: pd.DataFrame, there: pd.DataFrame) -> tuple[str, ...]:
    """Return what the rows of one say that those of the other do not, each of several alike."""
    left = Counter(contents_of(there))
    out = []
    for said in contents_of(here):
        if left[said] > 0:
            left[said] -= 1
        else:
            out.append(said)
    return tuple(out)


def _gone(kept: FileKept, now: FileKept | None, system: System) -> tuple[Text, ...]:
    have = Counter([] if now is None else now.held.mark.tolist())
    lines = []
    for place, mark in enumerate(kept.held.mark.tolist()):
        if have[mark] > 0:
            have[mark] -= 1
            continue
        kind = int(kept.held.kind[place])
        day = np.datetime64(int(kept.held.day[place]), "D").item()
        kg = float(kept.held.mass_kg[place])
        values: dict[str, object] = {
            "day": day, "kind": Text(KINDS[kind]) if kind < len(KINDS) else "",
            "mass": Text("—") if np.isnan(kg) else quantity(kg, "kg", system),
        }  # fmt: skip
        lines.append(Text("{day}, {kind}, {mass}", values))
    return tuple(lines)


def change_lines(found: tuple[Changed, ...]) -> Iterator[Text]:
    """Yield what differs from the last reading, as sentences."""
    yield Text("")
    if not found:
        yield Text(N_("Nothing differs from the last reading."))
        return
    for one in found:
        values: dict[str, object] = {"file": one.file, "now": one.now, "day": one.read_on}
        if not one.file:
            yield Text(N_("{now}: new; its rows:"), values)
        elif not one.now:
            yield Text(N_("{file}: read on {day}, and not here now; it said:"), values)
        elif one.now != one.file:
            yield Text(N_("{file}: called {now} now; what it says otherwise:"), values)
        else:
            yield Text(N_("{file}: differs from {day}:"), values)
        for mark, rows in (("−", one.gone), ("+", one.new)):
            for row in rows[:_MOST]:
                yield Text("  {mark} {row}", {"mark": mark, "row": row})
            if len(rows) > _MOST:
                yield Text(N_("  {mark} more rows: {count}"),
                           {"mark": mark, "count": len(rows) - _MOST})  # fmt: skip
        if not one.whole:
            yield Text(N_("  (its old cells are not kept on this computer, so only days and masses "
                          "can be told)"))  # fmt: skip
