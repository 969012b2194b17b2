"""A bound on the processor time of some work, which a busy machine does not move as it moves a clock."""

from __future__ import annotations

import resource
from collections.abc import Iterator
from contextlib import contextmanager


def used_s() -> float:
    """Return the processor seconds of this process and of its children that have ended."""
    both = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in both)


@contextmanager
def at_most(seconds: float, what: object = "") -> Iterator[None]:
    """Fail where what stands inside takes more processor seconds than that."""
    began = used_s()
    yield
    assert used_s() - began < seconds, what
