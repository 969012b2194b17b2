"""How much is looked at for one sheet, so that no sheet keeps a run busy without end.

Work is counted by what a sheet holds, about one for each microsecond that a look at it takes, and never
by a clock: a sheet that is read on one machine is read on every other.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

MOST = 60_000_000  # ten times what a year of days across for a thousand sources takes


class TooMuch(Exception):  # noqa: N818 - no error of the program
    """A sheet would take more work than any is worth."""


class _Left:
    """What is left of the work that a sheet may take."""

    def __init__(self, work: int) -> None:
        self.work = work


_LEFT: ContextVar[_Left | None] = ContextVar("left", default=None)


@contextmanager
def bounded() -> Iterator[None]:
    """Let what runs inside take no more than its share of work; it raises TooMuch."""
    before = _LEFT.set(_Left(MOST))
    try:
        yield
    finally:
        _LEFT.reset(before)


def spend(work: int) -> None:
    """Take so much off what is left; TooMuch where that is more than there is. Outside, nothing counts."""
    left = _LEFT.get()
    if left is not None:
        left.work -= work
        if left.work < 0:
            raise TooMuch
