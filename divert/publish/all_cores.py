"""Pieces of work of one kind shared among forks of this process, one to a core."""

from __future__ import annotations

import gc
import multiprocessing
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from typing import Any

from divert.core.findings import CannotRun
from divert.core.room import room_for
from divert.core.tied import answered_after, tied
from divert.core.words import N_, Text
from divert.publish.beside import cores

_ENDED = Text(
    N_("The system ended a process that made reports, as it does where memory runs short. Those named "
       "above are made; the same command makes the rest.")
)  # fmt: skip
# Threads: two that hand out and collect; of each process itself, its tie, and what sets type in it.
_OF_THE_POOL, _OF_EACH = 2, 4

_SELDOM = (20_000, 20, 20)  # new objects, and rounds, until cycles are looked for

# What the processes share: set before they are forked, so that nothing large is ever copied.
_work: Callable[[int], Any] | None = None


def can_share(pieces: int) -> bool:
    """Return whether there are cores to share among, and the system has what a pool needs.

    A container may lack shared memory or threads.
    """
    if cores() < 2:
        return False
    try:
        multiprocessing.get_context("fork").Lock()
    except (ImportError, OSError):
        return False
    return room_for(_OF_THE_POOL + _OF_EACH * min(cores(), pieces))


@contextmanager
def left_as_it_is() -> Iterator[None]:
    """Let Python look for cycles in nothing that is there already while the block runs, and seldom else.

    Years of entries that stay as they are: to be looked through for nothing, and copied by a fork for
    having been looked through, takes a third of a report's time. The boxes of a page in the making are
    all in use till it is made: to look them through again and again takes another tenth.
    """
    usual = gc.get_threshold()
    gc.freeze()
    gc.set_threshold(*_SELDOM)
    try:
        yield
    finally:
        gc.set_threshold(*usual)
        gc.unfreeze()


def on_all_cores(work: Callable[[int], Any], places: Sequence[int]) -> Iterator[Any]:
    """Yield what ``work`` gives for 0, 1, 2 ... in this order; forks of this process do it.

    ``places`` holds the same numbers in the order in which they are begun. Raises CannotRun as the
    work does, and where the system ends a fork.
    """
    global _work
    before, _work = _work, work
    try:
        forked = multiprocessing.get_context("fork")
        with (
            tied() as tie,
            ProcessPoolExecutor(
                min(cores(), len(places)), mp_context=forked, initializer=tie
            ) as pool,
        ):  # fmt: skip
            try:
                with answered_after():
                    # This makes the forks. Not `map`: stopped, it cancels what the pool then ends in
                    # an error of its own, which Python 3.11 prints.
                    begun = {place: pool.submit(_done, place) for place in places}
                for place in range(len(places)):
                    done = begun.pop(place).result()  # and nothing is kept that was handed on
                    if isinstance(done, _Stopped):
                        raise CannotRun(done.message, done.exit_status)
                    yield done
            except BrokenProcessPool as ended:
                raise CannotRun(_ENDED) from ended
            except BaseException:
                tie.cut()  # nobody wants any more what they are at, and Ctrl-C would wait for it
                raise
    finally:
        _work = before


class _Stopped:
    """A CannotRun on its way from one process to another (an exception would lose its sentence)."""

    def __init__(self, message: Text, exit_status: int) -> None:
        self.message = message
        self.exit_status = exit_status


def _done(place: int) -> Any:
    assert _work is not None
    try:
        return _work(place)
    except CannotRun as stop:
        return _Stopped(stop.message, stop.exit_status)
