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

_LOOKS = 4  # in the time allowed
_OFTEN_S = 0.5
_SPARE_S = 0.5  # beyond the child's own limit, which ends it first where there is one


@dataclass(frozen=True, slots=True)
class _Work:
    seconds: float
    runs: bool


class Timed:
    """The time of one file. ``late`` is set where the child was ended for it."""

    def __init__(self, child: subprocess.Popen[bytes], allowed_s: float) -> None:
        self.late = threading.Event()
        self._child = child
        self._allowed_s = allowed_s
        self._deadline: float | None = None
        self._begun = self._last = work_of(child)

    @contextlib.contextmanager
    def waiting(self) -> Iterator[None]:
        """Count the time until this is left: the parent waits for the child and does nothing else."""
        self._deadline = time.monotonic() + self._allowed_s
        try:
            yield
        finally:
            self._deadline = None

    def is_over(self) -> bool:
        """Return whether the child has had its time, or does nothing though it is waited for."""
        deadline = self._deadline
        too_long = deadline is not None and time.monotonic() > deadline and not self._works()
        return too_long or self._used_up()

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


class Clock:
    """Watches one child, file after file, and ends it where one takes too long.

    ``least_s``: the least time that any file is allowed, which says how often it looks.
    """

    def __init__(self, child: subprocess.Popen[bytes], least_s: float) -> None:
        self._child = child
        self._often_s = min(_OFTEN_S, least_s / _LOOKS)
        self._timed: Timed | None = None
        self._looking = threading.Lock()  # a file that is done ends no child any more
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._watch, daemon=True)
        self._thread.start()

    @contextlib.contextmanager
    def timed(self, allowed_s: float) -> Iterator[Timed]:
        """Time one file until this is left.

        ``allowed_s`` is the processor time it may take, and, on the wall, how long the child may do
        nothing while it is waited for.
        """
        timed = self._timed = Timed(self._child, allowed_s)
        try:
            yield timed
        finally:
            with self._looking:
                self._timed = None

    @contextlib.contextmanager
    def waiting(self, allowed_s: float) -> Iterator[None]:
        """Time one thing until this is left, in all of which the parent waits for the child."""
        with self.timed(allowed_s) as timed, timed.waiting():
            yield

    def stop(self) -> None:
        """Watch no more."""
        self._over.set()
        self._thread.join()

    def _watch(self) -> None:
        while not self._over.wait(self._often_s):
            with self._looking:
                timed = self._timed
                if timed is not None and timed.is_over():
                    timed.late.set()
                    self._child.kill()
                    return


def work_of(child: subprocess.Popen[bytes]) -> _Work | None:
    """Return the processor time a child has used and whether it wants more; None where unknown."""
    try:
        with open(f"/proc/{child.pid}/stat", "rb", buffering=0) as file:  # noqa: PTH123 - twice a file
            fields = file.read(4096).rpartition(b")")[2].split()
        ticks = int(fields[11]) + int(fields[12])
        return _Work(ticks / os.sysconf("SC_CLK_TCK"), fields[0] == b"R")
    except (OSError, ValueError, IndexError, AttributeError):
        return None
