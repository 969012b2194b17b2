"""A clock for the child that reads: its processor time counts, and not how busy the machine is.

The child is ended where it has used up its processor time, or where nothing comes of it while it is
doing nothing. What the parent does between two pieces of an answer is not counted, and on a busy
machine a child that still works, or waits for its turn, is given more time.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

_LOOKS = 4  # in the time allowed
_OFTEN_S = 0.5
_SPARE_S = 0.5  # beyond the child's own limit, which ends it first where there is one


@dataclass(frozen=True, slots=True)
class _Work:
    seconds: float
    runs: bool


class Clock:
    """Watches one child for one file; a context manager. ``late`` is set where it was ended.

    ``allowed_s`` is the processor time it may take, and, on the wall, how long it may do nothing.
    """

    def __init__(self, child: subprocess.Popen[bytes] | None, allowed_s: float) -> None:
        self.late = threading.Event()
        self._child = child
        self._allowed_s = allowed_s
        self._deadline: float | None = None
        self._over = threading.Event()
        self._begun = self._last = work_of(child)
        self._thread = threading.Thread(target=self._watch, daemon=True)

    def __enter__(self) -> Clock:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._over.set()
        self._thread.join()

    @contextlib.contextmanager
    def watching(self) -> Iterator[None]:
        """Watch the child until this is left, in all of which the parent waits for it."""
        with self, self.waiting():
            yield

    @contextlib.contextmanager
    def waiting(self) -> Iterator[None]:
        """Count the time until this is left: the parent waits for the child and does nothing else."""
        self._deadline = time.monotonic() + self._allowed_s
        try:
            yield
        finally:
            self._deadline = None

    def _watch(self) -> None:
        while not self._over.wait(min(_OFTEN_S, self._allowed_s / _LOOKS)):
            deadline = self._deadline
            too_long = deadline is not None and time.monotonic() > deadline and not self._works()
            if too_long or self._used_up():
                self.late.set()
                if self._child is not None:
                    self._child.kill()
                return

    def _used_up(self) -> bool:
        now = work_of(self._child)
        if now is None or self._begun is None:
            return False
        return now.seconds - self._begun.seconds > self._allowed_s + _SPARE_S

    def _works(self) -> bool:
        """Return whether the child has worked since it was last asked, or waits for a processor."""
        now, last = work_of(self._child), self._last
        self._last = now
        if now is None or last is None or self._deadline is None:
            return False
        if now.seconds > last.seconds or now.runs:
            self._deadline = time.monotonic() + self._allowed_s
            return True
        return False


def work_of(child: subprocess.Popen[bytes] | None) -> _Work | None:
    """Return the processor time a child has used and whether it wants more; None where unknown."""
    if child is None:
        return None
    try:
        text = Path(f"/proc/{child.pid}/stat").read_text(encoding="ascii", errors="replace")
        fields = text.rpartition(")")[2].split()
        ticks = int(fields[11]) + int(fields[12])
        return _Work(ticks / os.sysconf("SC_CLK_TCK"), fields[0] == "R")
    except (OSError, ValueError, IndexError, AttributeError):
        return None
