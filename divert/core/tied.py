"""Forks that end with the process they came from, however it ends."""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType


class Tie:
    """A pipe of which only the process that made it keeps the writing end.

    The system closes that end even where the process is killed, and whoever waits at the other end is
    told. A fork calls the tie first and then never outlives the process; POSIX only, as forks are.
    """

    def __init__(self) -> None:
        self._reading, self._writing = os.pipe()
        self._whole = True

    def __call__(self) -> None:
        """Tie the fork that this is called in; Ctrl-C, which a terminal sends to all, is not its own."""
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        os.close(self._writing)  # a fork that held this end would wait for itself
        threading.Thread(target=_end_with, args=(self._reading,), daemon=True).start()

    def cut(self) -> None:
        """End all forks at once."""
        if self._whole:
            self._whole = False
            os.close(self._writing)

    def let_go(self) -> None:
        """End all forks and give the pipe back."""
        self.cut()
        os.close(self._reading)


@contextmanager
def tied() -> Iterator[Tie]:
    """Give what a fork made inside the block calls first; all of them have ended after it."""
    tie = Tie()
    try:
        yield tie
    finally:
        tie.let_go()


@contextmanager
def answered_after() -> Iterator[None]:
    """Answer a Ctrl-C that comes while forks are made only after the block.

    What Python runs at a fork would swallow it, and a fork that hears it before it is tied would tell
    of it. The system's own means of holding a signal back does not hold for the threads of libraries.
    """
    before = signal.getsignal(signal.SIGINT)
    if threading.current_thread() is not threading.main_thread() or not callable(before):
        yield
        return
    came: list[tuple[int, FrameType | None]] = []
    signal.signal(signal.SIGINT, lambda number, frame: came.append((number, frame)))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
        if came:
            before(*came[0])


def _end_with(reading: int) -> None:
    os.read(reading, 1)  # nothing is ever written: it returns when the last writing end is closed
    os._exit(1)
