"""Readings of one test process share their child: starting it took half of a small reading's time.

It is handed on only where it has answered all that it was asked. The rooms that test the child itself
(``tests/safety``, ``tests/opening``) start their own.
"""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator

from divert.ingest.clock import Clock
from divert.ingest.reader import Reader
from divert.sandbox.frames import Frame

OWN_CHILDREN = ("safety", "opening")
# Each with the clock that watches it, and the process that it belongs to.
_idle: list[tuple[int, subprocess.Popen[bytes], Clock]] = []


class KeptChild(Reader):
    """A reader that ends no child which is ready for the next file."""

    _open = 0

    def start(self) -> None:
        while self._child is None and _idle:
            owner, child, clock = _idle.pop()
            if owner == os.getpid() and child.poll() is None:
                self._child, self._clock = child, clock
        super().start()

    def ask(self, data: bytes, suffix: str) -> None:
        super().ask(data, suffix)
        self._open += 1

    def answer(self) -> Iterator[Frame]:
        for frame in super().answer():
            self._open -= frame[0] == b"E"
            yield frame

    def close(self) -> None:
        child, clock = self._child, self._clock
        if child is not None and clock is not None and not self._open and child.poll() is None:
            self._child = self._clock = None
            _idle.append((os.getpid(), child, clock))
        else:
            super().close()
        self._open = 0


def end_all() -> None:
    """End the children of this process that nobody uses."""
    while _idle:
        owner, child, clock = _idle.pop()
        if owner == os.getpid():
            ended = Reader()
            ended._child, ended._clock = child, clock
            ended.close()
