"""Every spreadsheet of a site folder, opened: its cells, or the one finding that says why not."""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Callable, Collection, Iterator
from contextlib import nullcontext
from dataclasses import dataclass
from pathlib import Path

from divert.core.findings import CannotRun, Finding, Where
from divert.core.words import N_, Text
from divert.ingest import cache
from divert.ingest.answer import heard, unreadable
from divert.ingest.cells_held import CellsHeld
from divert.ingest.found import Found, find
from divert.ingest.grid import Opened
from divert.ingest.reader import Reader
from divert.sandbox import limits
from divert.sandbox.frames import Frame
from divert.site.model import Site

Progress = Callable[[int], None]


def open_folder(
    site: Site,
    progress: Progress | None = None,
    reader: Reader | None = None,
    read_before: Collection[str] = (),
    cells: CellsHeld | None = None,
) -> Iterator[Opened]:
    """Yield each spreadsheet under the site's folder, in a stable order.

    ``progress`` is called with the number of rows read so far. A file that cannot be read gives one
    finding ("file unreadable") and never stops the others; a file that this tool wrote gives a note
    and no cells. While the caller deals with one file the child reads the next; a ``reader`` that
    was started already is used, and ended by whoever started it; files ``read_before`` come before
    new ones; of ``cells`` that are held, files with the same bytes are not opened again. Raises
    CannotRun where the folder itself cannot be listed.
    """
    try:
        waiting = find(site.folder, [rule.file for rule in site.sheets], read_before)
    except OSError as problem:
        raise CannotRun(
            Text(
                N_("{folder} cannot be listed ({why}); check that it exists and may be read"),
                {"folder": str(site.folder), "why": problem.strerror or ""},
            )
        ) from problem
    if cells is not None:
        cells.begin([found.file for found in waiting])
    return _opened(waiting, progress, reader, cells)


def _opened(
    waiting: list[Found],
    progress: Progress | None,
    started: Reader | None,
    cells: CellsHeld | None,
) -> Iterator[Opened]:
    rows = 0

    def count(more: int) -> None:
        nonlocal rows
        rows += more
        if progress is not None:
            progress(rows)

    with nullcontext(started) if started else Reader() as reader:
        ahead: _Asked | None = None
        for index, found in enumerate(waiting):
            if cells is not None:
                cells.opening = found.file
            asked = ahead or _ask(reader, found, cells)
            opened = _understood(asked, reader, count)
            if cells is not None:
                cells.keep(opened)
            ahead = _ask(reader, waiting[index + 1], cells) if index + 1 < len(waiting) else None
            yield opened


@dataclass(frozen=True, slots=True)
class _Asked:
    """A file on its way: its fingerprint, why it is refused, or what the cache had of it."""

    found: Found
    sha256: str = ""
    size: int = 0
    refused: str = ""
    kept: list[Frame] | None = None
    held: Opened | None = None


def _ask(reader: Reader, found: Found, cells: CellsHeld | None = None) -> _Asked:
    if found.but:
        return _Asked(found, refused=found.but if found.but == "no permission" else "")
    try:
        data = _bytes(found.path)
    except _NotRead as problem:
        return _Asked(found, size=problem.size, refused=problem.reason)
    sha256 = hashlib.sha256(data).hexdigest()
    held = cells.get(found.file, sha256) if cells is not None else None
    if held is not None:
        return _Asked(found, sha256, len(data), held=held)
    suffix = found.path.suffix.lower()
    kept = cache.load(sha256, suffix)
    if kept is None:
        reader.ask(data, suffix)
    return _Asked(found, sha256, len(data), kept=kept)


class _NotRead(Exception):  # noqa: N818 - a verdict on a file, not a fault of the program
    def __init__(self, reason: str, size: int = 0) -> None:
        super().__init__(reason)
        self.reason = reason
        self.size = size


def _bytes(path: Path) -> bytes:
    """Return a file's bytes, never waiting on a pipe nor following a link put in its place."""
    flags = os.O_RDONLY
    for name in ("O_BINARY", "O_NOFOLLOW", "O_NONBLOCK", "O_CLOEXEC"):
        flags |= getattr(os, name, 0)
    try:
        handle = os.open(path, flags)
    except PermissionError as problem:
        raise _NotRead("no permission") from problem
    except OSError as problem:
        raise _NotRead("gone") from problem
    with os.fdopen(handle, "rb") as file:
        about = os.fstat(file.fileno())
        if not stat.S_ISREG(about.st_mode):
            raise _NotRead("no file")
        if about.st_size > limits.FILE_BYTES:
            raise _NotRead("too large", about.st_size)
        try:
            data = file.read(limits.FILE_BYTES + 1)
        except OSError as problem:
            raise _NotRead("gone", about.st_size) from problem
    if len(data) > limits.FILE_BYTES:
        raise _NotRead("too large", len(data))
    return data


def _understood(asked: _Asked, reader: Reader, count: Progress) -> Opened:
    """Return what became of one file, and keep its cells where they are new."""
    from divert.core.reading import InputFile  # brings pandas, which can load while the child reads

    if asked.held is not None:
        return asked.held
    file = asked.found.file
    source = InputFile(file, asked.sha256, asked.size)
    if asked.refused:
        return Opened(source, findings=(unreadable(Where(file), asked.refused),))
    if asked.found.but:
        return Opened(source, findings=(_left_out(file, asked.found.but),))
    new: list[Frame] = []
    answer = asked.kept if asked.kept is not None else _noted(reader.answer(), new)
    got = heard(file, answer, count)
    if new and new[-1][0] == b"E" and got.refused in ("", "ours"):
        cache.keep(asked.sha256, asked.found.path.suffix.lower(), new)
    return Opened(source, tuple(got.grids), tuple(got.findings), got.ours)


def _noted(answer: Iterator[Frame], kept: list[Frame]) -> Iterator[Frame]:
    """Pass an answer on and put it into ``kept``, unless it grows too long to be kept."""
    size = 0
    for frame in answer:
        size += len(frame[1])
        if size <= limits.KEPT_BYTES:
            kept.append(frame)
        else:
            kept.clear()
        yield frame


def _left_out(file: str, why: str) -> Finding:
    if why == "leads out":
        message = Text(
            N_("this is a link to a place outside the site's folder; it is not followed")
        )
        hint = Text(N_("put the file itself, or a copy of it, into the folder"))
    else:
        message = Text(N_("this kind of spreadsheet is not read"))
        hint = Text(N_("save it as .xlsx beside it"))
    return Finding("note", "sheet not read", message, Where(file), hint)
