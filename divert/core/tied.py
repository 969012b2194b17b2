"""Forks that end with the process they came from, however it ends."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def tied() -> Iterator[Callable[[], None]]:
    """Give what a fork made inside the block calls first; it then never outlives this process.

    A pipe of which only this process keeps the writing end: the system closes it even where the
    process is killed, and whoever waits at the other end is told. POSIX only, as forks are.
    """
    reading, writing = os.pipe()

    def tie() -> None:
        os.close(writing)  # a fork that held this end would wait for itself
        threading.Thread(target=_end_with, args=(reading,), daemon=True).start()

    try:
        yield tie
    finally:
        os.close(writing)
        os.close(reading)


def _end_with(reading: int) -> None:
    os.read(reading, 1)  # nothing is ever written: it returns when the last writing end is closed
    os._exit(1)
