"""A file's bytes as they stood at one moment, or why they cannot be had."""

from __future__ import annotations

import os
import stat
import time
from dataclasses import dataclass
from pathlib import Path

from divert.sandbox import limits

AGAIN = 3  # times a file is read that is written to meanwhile
_AGAIN_SECONDS = 0.05
# A writer may pause between two pieces: what was written just now is not yet read.
REST_SECONDS = 0.2


@dataclass(frozen=True, slots=True)
class State:
    """How a file stands on the disk: any write to it, or another file in its place, changes one."""

    size: int
    changed_ns: int
    number: int

    @classmethod
    def of(cls, about: os.stat_result) -> State:
        """Return the state that the system tells of a file."""
        return cls(about.st_size, about.st_mtime_ns, about.st_ino)


class NotRead(Exception):  # noqa: N818 - a verdict on a file, not a fault of the program
    """Why a file's bytes cannot be had: a reason of the refusals, and its size where known."""

    def __init__(self, reason: str, size: int = 0) -> None:
        super().__init__(reason)
        self.reason = reason
        self.size = size


def bytes_of(path: Path) -> tuple[bytes, State]:
    """Return a file's bytes, never waiting on a pipe nor following a link put in its place.

    The second is how the file stood while they were read; a file that was written to meanwhile is
    read again, and refused as "changing" where it does not come to rest.
    """
    for _ in range(AGAIN):
        data, before, after = _bytes_once(path)
        if before == after and len(data) == before.size and _rests(path, before):
            return data, before
        time.sleep(_AGAIN_SECONDS)
    raise NotRead("changing", len(data))


def _rests(path: Path, state: State) -> bool:
    """Return whether a file has stood so for a while, waiting out what is left of it."""
    age = (time.time_ns() - state.changed_ns) / 1e9
    if not 0 <= age < REST_SECONDS:  # a file from the future is one of another clock
        return True
    time.sleep(REST_SECONDS - age)
    return state_of(path) == state


def state_of(path: Path) -> State | None:
    """Return how a file stands now, None where it is gone."""
    try:
        return State.of(path.lstat())
    except OSError:
        return None


def _bytes_once(path: Path) -> tuple[bytes, State, State]:
    flags = os.O_RDONLY
    for name in ("O_BINARY", "O_NOFOLLOW", "O_NONBLOCK", "O_CLOEXEC"):
        flags |= getattr(os, name, 0)
    try:
        handle = os.open(path, flags)
    except PermissionError as problem:
        raise NotRead("no permission") from problem
    except OSError as problem:
        raise NotRead("gone") from problem
    about = os.fstat(handle)
    if not stat.S_ISREG(about.st_mode):
        os.close(handle)
        raise NotRead("no file")
    with os.fdopen(handle, "rb") as file:
        if about.st_size > limits.FILE_BYTES:
            raise NotRead("too large", about.st_size)
        try:
            data = file.read(limits.FILE_BYTES + 1)
            after = os.fstat(file.fileno())
        except OSError as problem:
            raise NotRead("gone", about.st_size) from problem
    if len(data) > limits.FILE_BYTES:
        raise NotRead("too large", len(data))
    return data, State.of(about), State.of(after)
