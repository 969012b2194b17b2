"""Many reports at once: every core sets its share of them, from workings that were read once."""

from __future__ import annotations

import gc
import multiprocessing
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.core.room import room_for
from divert.core.tied import answered_after, tied
from divert.core.words import N_, Text
from divert.publish.beside import cores
from divert.publish.job import Job
from divert.publish.make import Made, make
from divert.report.paper.look import Look
from divert.report.paper.pdf import warm_up

_ENDED = Text(
    N_("The system ended a process that made reports, as it does where memory runs short. Those named "
       "above are made; the same command makes the rest.")
)  # fmt: skip
# Threads: two that hand out and collect; of each process itself, its tie, and what sets type in it.
_OF_THE_POOL, _OF_EACH = 2, 4
_FEWEST = 4  # fewer reports than this are done before another process has started

# What the processes share: set before they are forked, so that nothing large is ever copied.
_shared: tuple[Sequence[Job], Workings, Look, Sequence[str]] | None = None


def make_all(
    jobs: Sequence[Job], workings: Workings, look: Look, formats: Sequence[str]
) -> Iterator[tuple[Job, Made]]:
    """Yield every report in the order of its job. Raises CannotRun as :func:`make` does."""
    # Years of entries that stay as they are: to be looked through for nothing, and copied by a fork
    # for having been looked through, takes a third of a report's time.
    gc.freeze()
    try:
        if len(jobs) < _FEWEST or cores() < 2 or not _can_share(len(jobs)):
            for job in jobs:
                yield job, make(job, workings, look, formats, alone=True)
        else:
            yield from _on_all_cores(jobs, workings, look, formats)
    finally:
        gc.unfreeze()


def _can_share(jobs: int) -> bool:
    """Return whether the system has what a pool needs: a container may lack shared memory or threads."""
    try:
        multiprocessing.get_context("fork").Lock()
    except (ImportError, OSError):
        return False
    return room_for(_OF_THE_POOL + _OF_EACH * min(cores(), jobs))


def _on_all_cores(
    jobs: Sequence[Job], workings: Workings, look: Look, formats: Sequence[str]
) -> Iterator[tuple[Job, Made]]:
    if "pdf" in formats:
        warm_up(look, workings.site.language)
    global _shared
    _shared = (jobs, workings, look, formats)
    try:
        forked = multiprocessing.get_context("fork")
        count = min(cores(), len(jobs))
        with (
            tied() as tie,
            ProcessPoolExecutor(count, mp_context=forked, initializer=tie) as pool,
        ):
            try:
                with answered_after():
                    # This makes the forks. Not `map`: stopped, it cancels what the pool then ends in
                    # an error of its own, which Python 3.11 prints.
                    results = deque(pool.submit(_make_one, place) for place in range(len(jobs)))
                for job in jobs:
                    made = results.popleft().result()  # and nothing is kept that was handed on
                    if isinstance(made, _Stopped):
                        raise CannotRun(made.message, made.exit_status)
                    yield job, made
            except BrokenProcessPool as ended:
                raise CannotRun(_ENDED) from ended
            except BaseException:
                tie.cut()  # nobody wants any more what they are at, and Ctrl-C would wait for it
                raise
    finally:
        _shared = None


class _Stopped:
    """A CannotRun on its way from one process to another (an exception would lose its sentence)."""

    def __init__(self, message: Text, exit_status: int) -> None:
        self.message = message
        self.exit_status = exit_status


def _make_one(place: int) -> Made | _Stopped:
    assert _shared is not None
    jobs, workings, look, formats = _shared
    try:
        return make(jobs[place], workings, look, formats)
    except CannotRun as stop:
        return _Stopped(stop.message, stop.exit_status)
