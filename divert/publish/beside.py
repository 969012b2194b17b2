"""One piece of work on a second core while this process goes on with another."""

from __future__ import annotations

import gc
import multiprocessing
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from multiprocessing.connection import Connection

from divert.core.room import room_for
from divert.core.tied import answered_after, tied

_THREADS = 4  # the fork itself, its tie, and what sets type in it


def cores() -> int:
    """Return how many cores this process may use, 1 where it cannot be forked to use more."""
    if not sys.platform.startswith("linux"):  # elsewhere a fork of threads and libraries may hang
        return 1
    return len(os.sched_getaffinity(0))


@contextmanager
def beside(work: Callable[[], bytes], *, when: bool) -> Iterator[Callable[[], bytes]]:
    """Start a piece of work beside the block; calling what is given waits for its result.

    The work is done by a fork of this process, so it sees all there is now and changes nothing. It
    is done here instead, when its result is asked for, unless ``when`` is true, and also where the
    fork came to no result: whatever stopped it is then raised here.
    """
    if not when or cores() < 2 or not room_for(_THREADS):
        yield work
        return
    forked = multiprocessing.get_context("fork")
    with tied() as tie:
        receiver, sender = forked.Pipe(duplex=False)
        process = forked.Process(target=_send, args=(work, receiver, sender, tie), daemon=True)
        with answered_after():
            process.start()
        sender.close()

        def result() -> bytes:
            try:
                return receiver.recv_bytes()
            except EOFError:
                return work()

        try:
            yield result
        finally:
            receiver.close()
            process.kill()
            process.join()


def _send(
    work: Callable[[], bytes], receiver: Connection, sender: Connection, tie: Callable[[], None]
) -> None:
    receiver.close()  # else it would wait for itself to take what it sends
    gc.freeze()  # what was there before is not looked through, and so not copied either
    try:
        tie()
        sender.send_bytes(work())
    except BaseException:
        # Done again, and told, where the result is asked for. Nothing of the fork's is tidied up.
        os._exit(1)
    os._exit(0)
