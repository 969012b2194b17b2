"""The register file: one JSON line per issued report or withdrawal, only ever added to.

Each line holds the SHA-256 of the line before it, so that a line changed afterwards shows. A last
line that a crash cut short was never issued: it is passed over, and taken off before the next one.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text

FILE = "register.jsonl"
FIRST = "0" * 64


@dataclass(frozen=True, slots=True)
class Lines:
    """The whole lines of a register, and how many bytes of the file they fill."""

    lines: tuple[Mapping[str, Any], ...]
    last_hash: str
    whole_bytes: int
    torn: bool


def read_lines(folder: Path) -> Lines:
    """Return the register's lines; raises CannotRun where one is damaged or was changed."""
    path = folder / FILE
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        return Lines((), FIRST, 0, False)
    except OSError as error:
        raise CannotRun(
            Text(N_("I cannot read {file}: {reason}"),
                 {"file": str(path), "reason": error.strerror or ""})
        ) from error  # fmt: skip
    lines: list[Mapping[str, Any]] = []
    before, start = FIRST, 0
    while start < len(data):
        end = data.find(b"\n", start)
        line = None if end < 0 else _parse(data[start:end])
        if line is None:
            if end < 0 or end == len(data) - 1:
                return Lines(tuple(lines), before, start, True)
            raise CannotRun(_damaged(path, len(lines) + 1))
        if line.get("line_before") != before:
            raise CannotRun(_changed(path, len(lines)))
        before = hashlib.sha256(data[start:end]).hexdigest()
        lines.append(line)
        start = end + 1
    return Lines(tuple(lines), before, start, False)


def _parse(raw: bytes) -> Mapping[str, Any] | None:
    try:
        line = json.loads(raw)
    except ValueError:  # UnicodeDecodeError is one
        return None
    return line if isinstance(line, dict) else None


def _damaged(path: Path, number: int) -> Text:
    return Text(
        N_("{file}, line {line}, cannot be read. Restore the file from a backup: it is only ever "
           "added to, so any later copy holds all that this one held."),
        {"file": str(path), "line": number},
    )  # fmt: skip


def _changed(path: Path, number: int) -> Text:
    return Text(
        N_("{file}, line {line}, is not as it was when the line after it was written: somebody "
           "changed it or took lines out. Restore the file from a backup."),
        {"file": str(path), "line": max(number, 1)},
    )  # fmt: skip


def append_line(folder: Path, line: Mapping[str, Any]) -> Lines:
    """Add one line, on disk when this returns; call it with the register locked.

    A torn last line is taken off first; whole lines are never touched. Raises CannotRun where the
    line cannot be written (a full disk leaves the register as it was).
    """
    have = read_lines(folder)
    full = {**line, "line_before": have.last_hash}
    data = json.dumps(full, ensure_ascii=False, sort_keys=True).encode() + b"\n"
    path = folder / FILE
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
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
    return Lines(
        (*have.lines, full), hashlib.sha256(data[:-1]).hexdigest(),
        have.whole_bytes + len(data), False,
    )  # fmt: skip


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
