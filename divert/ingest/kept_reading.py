"""A folder's reading, kept by all that it follows from: its files, its settings, the day, the code.

It lies beside the kept cells (divert.ingest.cache), in the user's own cache folder, which nobody else
may write, in a form that can run nothing (divert.ingest.written_reading). A reading follows from the
bytes of every spreadsheet and their order, site.toml, factors.csv and reading.toml, the day, and the
program itself: its name holds a fingerprint of all of them, so that what changed in any way is read anew.
The files read the last time settle that order, and which of two that say the same counts; where any
might say another again, a reading is used for the same files alone. One with a file that could not be
read is not kept, for the next attempt may go better.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from divert.core.installed import installed
from divert.core.own_folder import own_bytes
from divert.core.safe_files import write_quickly
from divert.ingest.cache import folder_to_use, tidy
from divert.ingest.found import find
from divert.sandbox import limits
from divert.site.model import Site

if TYPE_CHECKING:
    import datetime as dt

    from divert.core.reading import Reading

_HEAD = b"divert reading\n"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a reading is kept, and the files that were read before it."""

    path: Path
    read_before: tuple[str, ...]

    def load(self) -> Reading | None:
        """Return what is kept there, or None where there is nothing that can be used."""
        try:
            data = own_bytes(self.path, limits.KEPT_BYTES + 100)
            body = data[len(_HEAD) + 32 :]
            if data != _HEAD + hashlib.sha256(body).digest() + body:
                return None
            with contextlib.suppress(OSError):
                os.utime(self.path)  # so that what is used is kept longest
            from divert.ingest.written_reading import read_back  # brings pandas

            reading = read_back(body)
            return reading if reading.read_before in (None, self.read_before) else None
        except Exception:  # broken in whatever way: it is read anew
            return None

    def keep(self, reading: Reading) -> None:
        """Keep a reading whose every file was read; says nothing where it cannot be kept."""
        if any(f.code == "file unreadable" for f in reading.findings):
            return
        from divert.ingest.written_reading import written

        with contextlib.suppress(OSError, TypeError):
            body = written(reading)
            if len(body) <= limits.KEPT_BYTES:
                tidy(self.path.parent)
                write_quickly(self.path, _HEAD + hashlib.sha256(body).digest() + body)


def place_of(site: Site, as_of: dt.date, read_before: Collection[str], plans: str) -> Place | None:
    """Return where the reading of a folder as it is now is kept; None to do without.

    ``DIVERT_DEBUG`` does without, so that what fails in a sheet is seen each time.
    """
    folder = None if os.environ.get("DIVERT_DEBUG") else folder_to_use()
    if folder is None:
        return None
    try:
        found = find(site.folder, [rule.file for rule in site.sheets], read_before)
        prints = [(one.file, one.but, "" if one.but else _print(one.path)) for one in found]
        factors = site.folder / "factors.csv"
        own = _print(factors) if factors.is_file() else ""
    except OSError:
        return None
    told = repr((_program(), site, as_of, plans, own, prints))
    name = f"{hashlib.sha256(told.encode()).hexdigest()}.reading"
    return Place(folder / name, tuple(sorted(read_before)))


def _print(path: Path) -> str:
    if not path.is_file():  # nothing here may wait on a pipe
        raise OSError
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


@cache
def _program() -> str:
    """Return a fingerprint of what turns files into a reading: this program and its libraries."""
    code = hashlib.sha256()
    for name in ("pandas", "numpy", "python-calamine"):
        code.update(f"{name} {installed(name)}\n".encode())
    top = str(Path(__file__).parents[1])
    for name in sorted(_files(top)):
        code.update(name[len(top) :].encode())
        with open(name, "rb", buffering=0) as file:  # noqa: PTH123 - a Path each takes longer than reading
            code.update(file.read())
    return code.hexdigest()


def _files(folder: str) -> Iterator[str]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                yield from _files(entry.path)
            elif entry.name.endswith((".py", ".toml", ".csv")):
                yield entry.path
