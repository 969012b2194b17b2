"""Writing a change: whole or not at all, and never over a file that changed meanwhile."""

from __future__ import annotations

import datetime as dt
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.safe_files import inside, write_whole
from divert.core.words import N_, Text
from divert.site.change.planned import Change
from divert.site.change.versions import keep, text_of
from divert.site.document import FILE_NAME

_LOCK = ".site.toml.lock"
_WAIT_SECONDS = 10.0


class ChangedMeanwhile(CannotRun):
    """site.toml is not the text that the change was worked out on; ``since`` is what was done."""

    def __init__(self, since: Change) -> None:
        super().__init__(
            Text(N_("site.toml was changed by someone else meanwhile, so nothing was written. "
                    "Look at what changed, then say it again."))
        )  # fmt: skip
        self.since = since


def write(folder: Path, change: Change, when: dt.datetime | None = None) -> None:
    """Write a change, the text it replaces kept among the versions.

    Raises ChangedMeanwhile where site.toml is no longer the text that the change was worked out on,
    CannotRun where it cannot be written; the file then stays as it is.
    """
    path = inside(folder, folder / FILE_NAME)
    with _alone(folder):
        stands = text_of(path)
        if stands != change.was:
            raise ChangedMeanwhile(Change(change.was, stands))
        if change.now == change.was:
            return
        keep(folder, stands, when or dt.datetime.now(dt.UTC))
        write_whole(path, change.now.encode("utf-8"))


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Hold the right to change site.toml; the system lets go of it, however the process ends."""
    try:
        handle = os.open(folder / _LOCK, os.O_RDWR | os.O_CREAT, 0o644)
    except OSError as problem:
        raise CannotRun(
            Text(N_("{path} cannot be written ({why})"),
                 {"path": str(folder / FILE_NAME), "why": problem.strerror or ""})
        ) from problem  # fmt: skip
    try:
        give_up = time.monotonic() + _WAIT_SECONDS
        while not _got(handle):
            if time.monotonic() > give_up:
                raise CannotRun(
                    Text(N_("Another program is changing site.toml. Try again in a minute."))
                )
            time.sleep(0.02)
        yield
    finally:
        os.close(handle)


def _got(handle: int) -> bool:
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
