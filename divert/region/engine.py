"""Many yards added up: in this process, or by Dask on this machine or any other.

A block of yards is one task; the blocks' sums are added in a tree. Whole numbers add to the same
bits in any order, so that the result does not tell how many machines there were.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from divert.core.findings import CannotRun
from divert.core.period import Period
from divert.core.words import N_, Text
from divert.ingest.reader import Reader
from divert.region.addend import Addend, added_all
from divert.region.listing import Yard
from divert.region.stamp import Stamp
from divert.region.yard import addend_of, failed

Client = Any  # distributed.Client and distributed.Future: an extra, which mypy must not need
Future = Any

BLOCK = (
    20  # yards of one task: long beside the cost of a task, short beside what a lost worker costs
)
FAN = 8  # sums added in one task
Progress = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class Work:
    """What every yard is worked out with; small, for it goes with every task."""

    period: Period
    stamp: Stamp


def block_sum(yards: Sequence[Yard], work: Work) -> Addend:
    """Return the sum of a block of yards, read one after another with one child process."""
    with Reader() as reader:
        return added_all(addend_of(yard, work.period, work.stamp, reader) for yard in yards)


def sum_of(addends: Sequence[Addend]) -> Addend:
    """Return the sum of addends (a task of the tree)."""
    return added_all(addends)


def blocks_of(yards: Sequence[Yard], size: int) -> list[Sequence[Yard]]:
    """Return the yards in blocks, in order."""
    return [yards[start : start + size] for start in range(0, len(yards), size)]


def here(yards: Sequence[Yard], work: Work, progress: Progress | None = None) -> Addend:
    """Return the sum of all yards, worked out in this process."""
    total: Addend | None = None
    done = 0
    with Reader() as reader:
        for yard in yards:
            one = addend_of(yard, work.period, work.stamp, reader)
            total = one if total is None else added_all((total, one))
            done += 1
            if progress is not None:
                progress(done)
    assert total is not None  # there is no region without a yard
    return total


def on_workers(
    yards: Sequence[Yard], work: Work, client: Client, progress: Progress | None = None
) -> Addend:
    """Return the sum of all yards, worked out by the workers of a Dask client.

    Only the last sum comes here. A lost worker's blocks are tried elsewhere by the scheduler; the
    yards of a block that ends its workers are run one by one, and one that does so alone is named.
    """
    from distributed import as_completed  # only where there are workers

    yards_of: dict[str, Sequence[Yard]] = {}
    waiting: list[Future] = []
    done = 0

    def send(block: Sequence[Yard]) -> Future:
        future = client.submit(block_sum, block, work, pure=False)
        yards_of[future.key] = block
        return future

    queue = as_completed([send(block) for block in blocks_of(yards, BLOCK)])
    for future in queue:
        block = yards_of.pop(future.key, ())
        if future.status == "finished":
            done += len(block)
            waiting.append(future)
        elif len(block) > 1:
            for yard in block:
                queue.add(send([yard]))
        elif block:
            done += 1
            queue.add(client.submit(failed, block[0], _lost(future), work.stamp, pure=False))
        else:
            future.result()  # a sum that failed: nothing can be said, so say why
        if len(waiting) == FAN:
            queue.add(client.submit(sum_of, waiting, pure=False))
            waiting = []
        if progress is not None:
            progress(done)
    total: Addend = client.submit(sum_of, waiting, pure=False).result()
    return total


def _lost(future: Future) -> Text:
    return Text(
        N_(
            "Reading this yard ended the process that did it ({problem}). Try it alone: divert read."
        ),
        {"problem": type(future.exception()).__name__},
    )


@contextmanager
def client_of(scheduler: str | None, workers: int | None = None) -> Iterator[Client | None]:
    """Give a client of a scheduler, of a cluster on this machine, or None where Dask is missing.

    Raises CannotRun where a scheduler was named and Dask is missing or the scheduler cannot be
    reached.
    """
    try:
        import distributed
    except ImportError:
        if scheduler is None:
            yield None
            return
        raise CannotRun(
            Text(
                N_(
                    "--scheduler needs Dask, which is not installed here: pip install 'divert[many]'"
                )
            )
        ) from None
    with _quiet(distributed):
        if scheduler is None:
            # One thread each: while a yard is read, the collector of garbage is switched off.
            cluster = distributed.LocalCluster(
                n_workers=workers, threads_per_worker=1, dashboard_address=None, host="127.0.0.1"
            )
            with cluster, distributed.Client(cluster) as client:
                yield client
            return
        try:
            client = distributed.Client(scheduler, timeout="10s")
        except (OSError, ValueError, TimeoutError) as problem:
            raise CannotRun(
                Text(
                    N_("There is no Dask scheduler at {address} ({problem})."),
                    {"address": scheduler, "problem": str(problem)[:200]},
                )
            ) from problem
        with client:
            yield client


@contextmanager
def _quiet(distributed: Any) -> Iterator[None]:
    """Keep Dask's own log off the screen: what matters to a user is in the result."""
    import logging

    log = logging.getLogger(distributed.__name__)
    level = log.level
    log.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        log.setLevel(level)
