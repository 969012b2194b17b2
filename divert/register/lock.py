"""One process at a time: a lock that the system lets go of, however the process ends.

It is a record lock and not ``flock``: a fork does not inherit it, so that a child left over from a
killed run holds nothing. Such a lock is the process's own, so threads are kept apart beside it.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import json
import os
import platform
import sys
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text

_FAR = 1 << 20  # the byte that is locked: beyond what is written, which all may read
_here: set[str] = set()  # the locks that threads of this process hold
_guard = threading.Lock()


@contextmanager
def locked(path: Path, wait_s: float = 20.0) -> Iterator[None]:
    """Hold the lock on ``path`` (made if missing); raises CannotRun after waiting ``wait_s``.

    While it is held the file says by whom: process, machine and time. What a killed run left there
    is no lock, and is written over.
    """
    give_up = time.monotonic() + wait_s
    name = str(path.resolve())
    while not _enter(name):
        if time.monotonic() > give_up:
            raise CannotRun(_busy(path, {}))  # to open and close the file here would let go of it
        time.sleep(0.05)
    try:
        handle = _open(path)
        try:
            while not _try(handle):
                if time.monotonic() > give_up:
                    raise CannotRun(_busy(path, _holder(handle)))
                time.sleep(0.05)
            _sign(handle)
            yield
            with contextlib.suppress(OSError):
                os.ftruncate(handle, 0)
        finally:
            os.close(handle)  # the lock goes with the handle
    finally:
        with _guard:
            _here.discard(name)


def _enter(name: str) -> bool:
    with _guard:
        if name in _here:
            return False
        _here.add(name)
        return True


def _open(path: Path) -> int:
    flags = os.O_RDWR | os.O_CREAT
    for more in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY"):  # no link and no pipe in its place
        flags |= getattr(os, more, 0)
    try:
        return os.open(path, flags, 0o644)
    except OSError as error:
        raise CannotRun(
            Text(N_("I cannot write in {folder}: {reason}"),
                 {"folder": str(path.parent), "reason": error.strerror or ""})
        ) from error  # fmt: skip


def _try(handle: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            os.lseek(handle, _FAR, os.SEEK_SET)
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.lockf(handle, fcntl.LOCK_EX | fcntl.LOCK_NB, 1, _FAR)
    except OSError:
        return False
    return True


def _sign(handle: int) -> None:
    """Write down who holds the lock: only for the sentence that others are shown."""
    now = dt.datetime.now(dt.UTC).isoformat(timespec="seconds")
    who = {"process": os.getpid(), "machine": platform.node(), "since": now}
    with contextlib.suppress(OSError):  # a full disk does not matter here
        os.ftruncate(handle, 0)
        os.lseek(handle, 0, os.SEEK_SET)
        os.write(handle, json.dumps(who).encode())


def _holder(handle: int) -> Mapping[str, Any]:
    try:
        os.lseek(handle, 0, os.SEEK_SET)
        who = json.loads(os.read(handle, 1000))
    except (OSError, ValueError):
        return {}
    return who if isinstance(who, dict) else {}


def _busy(path: Path, who: Mapping[str, Any]) -> Text:
    values: dict[str, object] = {"folder": str(path.parent), "file": str(path)}
    if not {"process", "machine"} <= set(who):
        return Text(
            N_("Another run is issuing reports for {folder}. Try again when it ends."), values
        )
    values |= {name: str(who.get(name, ""))[:80] for name in ("process", "machine", "since")}
    if _gone(who):
        return Text(
            N_("The lock {file} is held in the name of process {process} on {machine} (since "
               "{since}), which has ended: the system that keeps the folder has not noticed. "
               "Delete that file and try again."), values,
        )  # fmt: skip
    return Text(
        N_("Another run is issuing reports for {folder}: process {process} on {machine}, since "
           "{since}. Try again when it ends."), values,
    )  # fmt: skip


def _gone(who: Mapping[str, Any]) -> bool:
    """Return whether the holder was a process of this machine and is no more."""
    pid = who["process"]
    if who["machine"] != platform.node() or not isinstance(pid, int) or pid <= 0:
        return False
    if sys.platform == "win32":
        return False
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return True
    except OSError:
        return False
    return False
