"""One process at a time: a lock that the system lets go of, however the process ends."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text


@contextmanager
def locked(path: Path, wait_s: float = 20.0) -> Iterator[None]:
    """Hold the lock on ``path`` (made if missing); raises CannotRun after waiting ``wait_s``."""
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
    except OSError as error:
        raise CannotRun(
            Text(N_("I cannot write in {folder}: {reason}"),
                 {"folder": str(path.parent), "reason": error.strerror or ""})
        ) from error  # fmt: skip
    try:
        give_up = time.monotonic() + wait_s
        while not _try(handle):
            if time.monotonic() > give_up:
                raise CannotRun(
                    Text(N_("Another run is issuing reports for {folder}. Try again when it ends."),
                         {"folder": str(path.parent)})
                )  # fmt: skip
            time.sleep(0.05)
        yield
    finally:
        os.close(handle)  # the lock goes with the handle


def _try(handle: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
