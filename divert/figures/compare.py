"""More, less or about the same: the one rule by which two figures differ in words.

They do where the difference's own 90 % range leaves out zero, and where as much shows in print. The
range of the difference is drawn, so that errors which both figures share cancel.
"""

from __future__ import annotations

from typing import Literal

from divert.core.range import Range
from divert.figures.numbers.printed import Printed
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import FACTOR

Verdict = Literal["more", "less", "about the same"]


def verdict(change: Range, now: Printed, then: Printed) -> Verdict:
    """Return how ``now`` compares with ``then``; ``change`` is the drawn range of now less then."""
    if not differ_in_print(now, then):
        return "about the same"
    if change.low > 0:
        return "more"
    return "less" if change.high < 0 else "about the same"


def differ_in_print(one: Printed, other: Printed) -> bool:
    """Return whether two figures stand apart by one printed unit at least (the coarser of both)."""
    quantum = max(one.quantum * FACTOR[one.unit], other.quantum * FACTOR[other.unit])
    return steps(one.value, quantum) != steps(other.value, quantum)


def reaches(now: Printed, goal: Printed) -> bool:
    """Return whether a figure comes to a goal, judged as the figure is printed."""
    quantum = now.quantum * FACTOR[now.unit]
    return steps(now.value, quantum) >= steps(goal.value, quantum)


def is_printed_zero(figure: Printed) -> bool:
    """Return whether a figure is less than one printed unit: it decides nothing in words."""
    return steps(figure.value / FACTOR[figure.unit], figure.quantum) == 0
