"""How one figure is made from evidence lines: a small tree that can be written as a formula or run."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.evidence.factor_rows import fee_key
from divert.evidence.hot_days import hot_days, longest
from divert.evidence.per_kg import LandfillClass, Process, per_kg
from divert.evidence.visits import Counted, counted, visits_of
from divert.figures.stretches import TRACE

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


@dataclass(frozen=True)
class Book:
    """Evidence ready to compute from: derived lines, numbers by key, and what they combine to."""

    lines: pd.DataFrame
    values: Mapping[str, float]
    classes: Sequence[LandfillClass]
    processes: Sequence[Process]
    others: Callable[[str], Recipe | None] = lambda _path: None
    _days: npt.NDArray[np.datetime64] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_days", self.lines["date"].to_numpy().astype("datetime64[D]"))

    def inside(self, recipe: Recipe) -> npt.NDArray[np.bool_]:
        """Return a mask of the lines in a recipe's span."""
        low, high = np.datetime64(recipe.start, "D"), np.datetime64(recipe.end, "D")
        return np.asarray((self._days >= low) & (self._days <= high))

    def matching(self, where: Where, mask: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
        """Return the mask cut to lines whose columns hold just these texts."""
        for column, text in where:
            mask = mask & (self.lines[column] == text).to_numpy()
        return mask

    def of_class(self, one: LandfillClass) -> npt.NDArray[np.bool_]:
        """Return a mask of lines of a class bound for a version of the landfill."""
        lines = self.lines
        return np.asarray(
            (lines["before"] == "landfill")
            & (lines["decay_class"] == one.decay_class)
            & (lines["landfill"] == one.landfill)
        )

    def deposits(self, recipe: Recipe) -> Iterator[tuple[int, LandfillClass, float]]:
        """Yield calendar year, class and diverted kg of what was bound for the landfill."""
        mask = self.inside(recipe)
        years = self.lines["date"].dt.year.to_numpy()
        diverted = self.lines["diverted"].to_numpy()
        for one in self.classes:
            here = mask & self.of_class(one)
            for year in np.unique(years[here]):
                yield int(year), one, float(diverted[here & (years == year)].sum())


def value_of(recipe: Recipe, book: Book) -> float:
    """Return the figure that a recipe makes of a book (in the figures' own unit)."""
    return _value(recipe.node, recipe, book)


def _value(node: Node, recipe: Recipe, book: Book) -> float:
    if isinstance(node, Total):
        mask = book.matching(node.where, book.inside(recipe))
        return float(np.nansum(book.lines[node.column].to_numpy(dtype=float)[mask]))
    if isinstance(node, Constant):
        return node.value
    if isinstance(node, Factor):
        return book.values[node.key]
    if isinstance(node, Other):
        other = book.others(node.path)
        if other is None:
            raise KeyError(node.path)
        return value_of(other, book)
    if isinstance(node, Avoided):
        mask = book.matching(node.where, book.inside(recipe))
        diverted = book.lines["diverted"].to_numpy()
        return sum(
            float(diverted[mask & book.of_class(one)].sum()) * _of(one, node.per_kg, book)
            for one in book.classes
        )
    if isinstance(node, Fee):
        inside, diverted = book.inside(recipe), book.lines["diverted"].to_numpy()
        landfill = book.lines["landfill"].to_numpy()
        return sum(
            float(diverted[inside & (landfill == part.landfill)].sum())
            * book.values.get(fee_key(part.landfill), 0.0)
            for part in book.processes
        )
    if isinstance(node, MethaneIn):
        return sum(
            kg
            * per_kg(one, book.values).released_ch4
            * in_year(book.values[one.k], node.year - year)
            for year, one, kg in book.deposits(recipe)
        )
    if isinstance(node, Extreme):
        values = book.lines[node.column].to_numpy(dtype=float)
        values = values[book.matching(node.where, book.inside(recipe)) & ~np.isnan(values)]
        largest = values.max if node.which == "max" else values.min
        return float(largest()) if len(values) else 0.0
    if isinstance(node, TakingPart):
        return counted(node.what, list(visits_of(book.lines, node.month, node.start, node.until)))
    if isinstance(node, LongestHot):
        return longest(hot_days(book.lines, recipe.start, recipe.end), node.pile)
    return _operate(node.sign, [_value(part, recipe, book) for part in node.parts])


def _of(one: LandfillClass, which: str, book: Book) -> float:
    return float(getattr(per_kg(one, book.values), which))


def _operate(sign: str, values: list[float]) -> float:
    if sign == "+":
        return math.fsum(values)
    if sign == "*":
        return math.prod(values)
    if sign == "max":
        return max(values)
    first, rest = values[0], values[1:]
    if sign == "-":
        return first - math.fsum(rest)
    bottom = math.prod(rest)
    return first / bottom if abs(bottom) >= TRACE else 0.0


HORIZON_YEARS = 100


def in_year(k: float, n: int) -> float:
    """Return the share of a deposit's methane released in its n-th year after, n = 1 to 100."""
    if not 1 <= n <= HORIZON_YEARS:
        return 0.0
    return math.exp(-k * (n - 1)) - math.exp(-k * n)


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
