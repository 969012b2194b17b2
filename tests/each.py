"""One test over many small cases, which names every case that fails: a test of its own for each costs more."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any


def failing(check: Callable[..., object], cases: Iterable[tuple[Any, ...]]) -> dict[str, str]:
    """Return what went wrong by the case it went wrong for; ``check`` takes a case and asserts.

    Fails where there is no case at all.
    """
    wrong = {}
    case = None
    for case in cases:
        try:
            check(*case)
        except Exception as problem:
            wrong[", ".join(map(str, case))] = f"{type(problem).__name__}: {problem}"
    assert case is not None, "nothing to look at"
    return wrong
