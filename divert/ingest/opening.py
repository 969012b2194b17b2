"""Every spreadsheet of a site folder, opened: its cells, or the one finding that says why not."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Iterator
from contextlib import nullcontext
from dataclasses import dataclass
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun, Finding, Where
from divert.core.words import N_, Text
from divert.ingest import cache
from divert.ingest.answer import heard, unreadable
from divert.ingest.cells_held import CellsHeld
from divert.ingest.file_bytes import AGAIN, NotRead, State, bytes_of, state_of
from divert.ingest.found import Found, find
from divert.ingest.grid import Opened
from divert.ingest.reader import Reader
from divert.sandbox import limits
from divert.sandbox.frames import Frame
from divert.site.model import Site

if TYPE_CHECKING:
    from divert.core.reading import InputFile

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
                N_(
                    "{folder} cannot be listed ({why}). Check that it exists and that you may read it."
                ),
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

    read: list[_Asked] = []
    with nullcontext(started) if started else Reader() as reader:
        ahead: _Asked | None = None
        for index, found in enumerate(waiting):
            if cells is not None:
                cells.opening = found.file
            asked = ahead or _ask(reader, found, cells)
            opened, asked = _understood_at_last(asked, reader, count)
            read.append(asked)
            if cells is not None:
                cells.keep(opened)
            ahead = _ask(reader, waiting[index + 1], cells) if index + 1 < len(waiting) else None
            yield opened
    # What was written to since: its rows are counted as they were, and that is said.
    for asked in read:
        if asked.state is not None and state_of(asked.found.path) != asked.state:
            yield Opened(
                _source(asked), findings=(unreadable(Where(asked.found.file), "changing"),)
            )


@dataclass(frozen=True, slots=True)
class _Asked:
    """A file on its way: its fingerprint, why it is refused, or what the cache had of it."""

    found: Found
    sha256: str = ""
    size: int = 0
    refused: str = ""
    kept: list[Frame] | None = None
    held: Opened | None = None
    state: State | None = None


def _ask(reader: Reader, found: Found, cells: CellsHeld | None = None) -> _Asked:
    if found.but:
        return _Asked(found, refused=found.but if found.but in _REFUSED else "")
    try:
        data, state = bytes_of(found.path)
    except NotRead as problem:
        return _Asked(found, size=problem.size, refused=problem.reason)
    sha256 = hashlib.sha256(data).hexdigest()
    held = cells.get(found.file, sha256) if cells is not None else None
    if held is not None:
        return _Asked(found, sha256, len(data), held=held, state=state)
    suffix = found.path.suffix.lower()
    kept = cache.load(sha256, suffix)
    if kept is None:
        reader.ask(data, suffix)
    return _Asked(found, sha256, len(data), kept=kept, state=state)


_REFUSED = ("no permission", "leads nowhere")


def _understood_at_last(asked: _Asked, reader: Reader, count: Progress) -> tuple[Opened, _Asked]:
    """Return what became of one file, and how it was asked for in the end.

    It is read once more where it was written to while the child read it, or where the child was
    ended: by the machine's want of memory, perhaps, and not by the file.
    """
    opened = _understood(asked, reader, count)
    for _ in range(AGAIN):
        changed = asked.state is not None and state_of(asked.found.path) != asked.state
        if not changed:
            break
        asked = _ask(reader, asked.found)
        opened = _understood(asked, reader, count)
    if opened.ended and not asked.refused:
        asked = _ask(reader, asked.found)
        opened = _understood(asked, reader, count)
    return opened, asked


def _source(asked: _Asked) -> InputFile:
    from divert.core.reading import InputFile  # brings pandas, which can load while the child reads

    return InputFile(asked.found.file, asked.sha256, asked.size)


def _understood(asked: _Asked, reader: Reader, count: Progress) -> Opened:
    """Return what became of one file, and keep its cells where they are new."""
    if asked.held is not None:
        return asked.held
    file, source = asked.found.file, _source(asked)
    if asked.refused:
        return Opened(source, findings=(unreadable(Where(file), asked.refused),))
    if asked.found.but:
        return Opened(source, findings=(_left_out(file, asked.found.but),))
    new: list[Frame] = []
    answer = asked.kept if asked.kept is not None else _noted(reader.answer(), new)
    got = heard(file, answer, count)
    if new and new[-1][0] == b"E" and got.refused in ("", "ours"):
        cache.keep(asked.sha256, asked.found.path.suffix.lower(), new)
    found = got.findings or ([] if any(g.rows for g in got.grids) else [_no_cells(file)])
    if got.refused == "unfit":
        raise CannotRun(
            Text(N_("The library that reads spreadsheets does not read a specimen as it should, so "
                    "nothing was read: install the versions that divert asks for "
                    "(python-calamine 0.7.0 or newer)."))
        )  # fmt: skip
    ended = got.refused in ("time", "memory", "crash")
    return Opened(source, tuple(got.grids), tuple(found), got.ours, ended)


def _no_cells(file: str) -> Finding:
    return Finding(
        "note", "sheet not read", Text(N_("there is nothing in any cell of this file")), Where(file)
    )


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
