"""How one figure is made from evidence lines: a small tree that can be written as a formula or run."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from divert.evidence.visits import Counted

Where = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Total:
    """The sum of a column over the lines of the span whose columns hold just these texts."""

    column: str
    where: Where = ()


@dataclass(frozen=True, slots=True)
class Constant:
    """A plain number that the rule itself brings, such as -1 or a count of days."""

    value: float


@dataclass(frozen=True, slots=True)
class Factor:
    """A number of the Factors sheet by its key."""

    key: str


@dataclass(frozen=True, slots=True)
class Other:
    """Another figure of the same set, by its path."""

    path: str


@dataclass(frozen=True, slots=True)
class Avoided:
    """Landfill methane avoided (kg CO2e) of the span, class by class: diverted x so much per kg."""

    per_kg: Literal["within_100", "within_20", "within_100_higher"]
    where: Where = ()


@dataclass(frozen=True, slots=True)
class Fee:
    """What disposal of the span's diverted mass would have cost, at the fee of each landfill."""


@dataclass(frozen=True, slots=True)
class MethaneIn:
    """Methane (kg) that the span's deposits would have released in a calendar year."""

    year: int


@dataclass(frozen=True, slots=True)
class Extreme:
    """The largest or smallest of a column over the lines of the span with just these texts."""

    which: Literal["max", "min"]
    column: str
    where: Where


@dataclass(frozen=True, slots=True)
class TakingPart:
    """A count of the sources that brought material in a month of a period (divert.evidence.visits)."""

    what: Counted
    month: dt.date
    start: dt.date
    until: dt.date


@dataclass(frozen=True, slots=True)
class LongestHot:
    """The longest run of hot days of a pile over the span, in days (divert.evidence.hot_days)."""

    pile: str


@dataclass(frozen=True, slots=True)
class Op:
    """Parts added, the first one less, times or over the rest, or the largest of them.

    Over nothing is nothing.
    """

    sign: Literal["+", "-", "*", "/", "max"]
    parts: tuple[Node, ...]


Node = (
    Total
    | Constant
    | Factor
    | Other
    | Avoided
    | Fee
    | MethaneIn
    | Extreme
    | TakingPart
    | LongestHot
    | Op
)


@dataclass(frozen=True, slots=True)
class Recipe:
    """A figure's making: the days it spans, both included, and the tree."""

    start: dt.date
    end: dt.date
    node: Node


def totals(node: Node) -> Iterator[tuple[Total, float]]:
    """Yield the sums of lines in a tree, each with the sign it enters by (0 below a fraction)."""
    if isinstance(node, Total):
        yield node, 1.0
    elif isinstance(node, Op):
        for place, part in enumerate(node.parts):
            sign = 1.0
            if place and node.sign == "-":
                sign = -1.0
            elif place and node.sign == "/":
                sign = 0.0
            for total, inner in totals(part):
                yield total, inner * sign
