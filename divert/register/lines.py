"""The register file: one JSON line per issued report or withdrawal, only ever added to.

Each line ends with the SHA-256 of itself and holds that of the line before, so that a line changed,
taken out or cut short shows, the last one too. A last line that a crash cut short was never issued:
it is passed over, and taken off before the next one.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
import stat
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text

FILE = "register.jsonl"
FIRST = "0" * 64
_OWN = b', "line_sha256": "'
# Neither a link nor a pipe in the file's place is followed or waited for.
_NO_LINK = 0
for _flag in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY"):
    _NO_LINK |= getattr(os, _flag, 0)
_TAIL = len(_OWN) + 64 + len(b'"}')
MEND = N_("`divert check {folder}` says what can be saved, and with --mend saves it.")


@dataclass(frozen=True, slots=True)
class Line:
    """One whole line: its bytes as written (without the line end), what it says, its SHA-256."""

    raw: bytes
    says: Mapping[str, Any]

    @property
    def sha256(self) -> str:
        """Return the fingerprint that the next line holds."""
        return hashlib.sha256(self.raw).hexdigest()

    @property
    def before(self) -> str:
        """Return the fingerprint of the line before, as this one has it."""
        return str(self.says.get("line_before", ""))


@dataclass(frozen=True, slots=True)
class Lines:
    """The whole lines of a register, and how many bytes of the file they fill.

    ``torn`` are bytes at the end that are no whole line; ``open_end``: the last line is whole but
    for its line end.
    """

    lines: tuple[Line, ...]
    last_hash: str
    whole_bytes: int
    torn: bytes = b""
    open_end: bool = False


def made_line(says: Mapping[str, Any], before: str) -> Line:
    """Return a line to be written after the one of fingerprint ``before``."""
    full = {**says, "line_before": before}
    body = json.dumps(full, ensure_ascii=False, sort_keys=True).encode()
    own = hashlib.sha256(body).hexdigest().encode()
    return Line(body[:-1] + _OWN + own + b'"}', full)


def parsed(raw: bytes) -> Line | None:
    """Return a line from its bytes; None where it is no line, or not as it was written.

    A line of an earlier version has no checksum of its own; only the line after it vouches for it.
    """
    if not has_checksum(raw):
        says = _object(raw, twice=False)
        return None if says is None or "line_sha256" in says else Line(raw, says)
    body = raw[:-_TAIL] + b"}"
    if raw[-_TAIL + len(_OWN) : -2] != hashlib.sha256(body).hexdigest().encode():
        return None
    says = _object(body, twice=True)
    return None if says is None else Line(raw, says)


def has_checksum(raw: bytes) -> bool:
    """Return whether the bytes of a line end with a checksum, right or wrong."""
    return raw[-_TAIL:].startswith(_OWN) and raw.endswith(b'"}')


def _object(raw: bytes, *, twice: bool) -> Mapping[str, Any] | None:
    """Return the object of a line; what nothing vouches for may not have a key ``twice``."""
    try:
        line = json.loads(raw) if twice else json.loads(raw, object_pairs_hook=_once)
    except (ValueError, RecursionError):  # UnicodeDecodeError is a ValueError
        return None
    return line if isinstance(line, dict) else None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    out = dict(pairs)
    if len(out) != len(pairs):
        raise ValueError("a key stands twice")
    return out


def data_of(path: Path) -> bytes:
    """Return the bytes of a register, b"" where there is none; raises CannotRun for a link or pipe."""
    try:
        handle = os.open(path, os.O_RDONLY | _NO_LINK)
    except FileNotFoundError:
        return b""
    except OSError as error:
        if error.errno == errno.ELOOP or path.is_symlink():
            raise CannotRun(_no_file(path)) from error
        raise CannotRun(
            Text(N_("I cannot read {file}: {reason}"),
                 {"file": str(path), "reason": error.strerror or ""})
        ) from error  # fmt: skip
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise CannotRun(_no_file(path))
    with os.fdopen(handle, "rb") as file:
        return file.read()


def _no_file(path: Path) -> Text:
    return Text(
        N_("{file} is a link, a folder or a device, not a file: nothing is read from it or written to it. "
           "Put the file itself there."), {"file": str(path)},
    )  # fmt: skip


@lru_cache(maxsize=1)
def _split_last(data: bytes) -> Split:
    """Split the same bytes once: a run asks for them several times, and a changed file is other bytes."""
    return split(data)


def read_lines(folder: Path) -> Lines:
    """Return the register's lines; raises CannotRun where one is damaged or was changed."""
    path = folder / FILE
    found = _split_last(data_of(path))
    if found.wrong is not None:
        raise CannotRun(what_is_wrong(path, *found.wrong))
    return found.lines


@dataclass(frozen=True, slots=True)
class Split:
    """A register's bytes as lines, up to the first that is wrong.

    ``wrong``: the place (from 1) of a line that cannot be read (False) or was changed (True).
    ``later``: whole lines after that, each by itself.
    """

    lines: Lines
    wrong: tuple[int, bool] | None = None
    later: tuple[Line, ...] = ()


def split(data: bytes) -> Split:
    """Return the lines that the bytes of a register hold; never raises."""
    lines: list[Line] = []
    before, start = FIRST, 0
    written = len(data.rstrip())  # what follows is empty
    while start < written:
        end = data.find(b"\n", start)
        last = end < 0
        raw = (data[start:] if last else data[start:end]).removesuffix(b"\r")
        line = parsed(raw)
        if line is None and last:
            return Split(Lines(tuple(lines), before, start, raw))
        wrong = None
        if line is None:
            wrong = (len(lines) + 1, False)
        elif line.before != before:
            wrong = (max(len(lines), 1), True)
        elif lines and has_checksum(lines[-1].raw) and not has_checksum(raw):
            wrong = (len(lines) + 1, False)
        if wrong is not None:
            later = [parsed(one.removesuffix(b"\r")) for one in data[start:].split(b"\n")]
            whole = tuple(one for one in later if one is not None)
            return Split(Lines(tuple(lines), before, start), wrong, whole)
        assert line is not None
        before = line.sha256
        lines.append(line)
        if last:
            return Split(Lines(tuple(lines), before, len(data), open_end=True))
        start = end + 1
    return Split(Lines(tuple(lines), before, start))


def what_is_wrong(path: Path, number: int, changed: bool) -> Text:
    """Return the sentence for a line (from 1) that cannot be read, or was changed."""
    values: dict[str, object] = {
        "file": str(path), "line": number, "mend": Text(MEND, {"folder": str(path.parent)}),
    }  # fmt: skip
    if changed:
        return Text(
            N_("{file}, line {line}, is not as it was when the line after it was written: somebody "
               "changed it or took lines out. {mend}"), values,
        )  # fmt: skip
    return Text(N_("{file}, line {line}, is not as it was written. {mend}"), values)


def append_line(folder: Path, have: Lines, line: Line) -> Lines:
    """Add one line made for the register's end, on disk when this returns; call it with the lock.

    ``have`` is what the file holds; a torn last line is taken off first, whole lines are never
    touched. Raises CannotRun where the line cannot be written (a full disk leaves the register as
    it was), or where somebody else wrote to the file meanwhile.
    """
    assert line.before == have.last_hash
    path = folder / FILE
    data = (b"\n" if have.open_end else b"") + line.raw + b"\n"
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | _NO_LINK, 0o644)
        try:
            if not _ends_as_read(handle, have):
                raise CannotRun(
                    Text(N_("{file} was changed by something else while reports were issued. "
                            "Nothing more was issued; run the same command again."),
                         {"file": str(path)})
                )  # fmt: skip
            os.ftruncate(handle, have.whole_bytes)
            _write_all(handle, data, have.whole_bytes)
        finally:
            os.close(handle)
        sync_folder(folder)
    except OSError as error:
        raise CannotRun(
            Text(N_("I could not add to {file}: {reason}. Nothing was issued."),
                 {"file": str(path), "reason": error.strerror or ""})
        ) from error  # fmt: skip
    return Lines((*have.lines, line), line.sha256, have.whole_bytes + len(data))


def _ends_as_read(handle: int, have: Lines) -> bool:
    if os.fstat(handle).st_size != have.whole_bytes + len(have.torn):
        return False
    if not have.lines:
        return True
    last = have.lines[-1].raw
    start = max(0, have.whole_bytes - len(last) - len(b"\r\n"))
    os.lseek(handle, start, os.SEEK_SET)
    got = b""
    while (left := have.whole_bytes - start - len(got)) and (more := os.read(handle, left)):
        got += more
    return got.rstrip().endswith(last)


def _write_all(handle: int, data: bytes, at: int) -> None:
    os.lseek(handle, at, os.SEEK_SET)
    try:
        view = memoryview(data)
        while view:
            view = view[os.write(handle, view) :]
        os.fsync(handle)
    except OSError:
        os.ftruncate(handle, at)
        raise


def sync_folder(folder: Path) -> None:
    """Put a folder's list of names on disk, where the system can."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
