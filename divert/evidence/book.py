"""Evidence to compute from: what a recipe comes to, and what figures of one evidence share."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.evidence.factor_rows import fee_key
from divert.evidence.hot_days import hot_days, longest
from divert.evidence.per_kg import LandfillClass, PerKg, Process, per_kg
from divert.evidence.recipe import (
    Avoided,
    Constant,
    Extreme,
    Factor,
    Fee,
    LongestHot,
    MethaneIn,
    Node,
    Other,
    Recipe,
    TakingPart,
    Total,
    Where,
)  # fmt: skip
from divert.evidence.visits import counted, visits_of
from divert.figures.stretches import TRACE

T = TypeVar("T")


@dataclass(frozen=True)
class Book:
    """Evidence ready to compute from: derived lines, numbers by key, and what they combine to.

    Neither lines nor numbers change under it, so that what figures share is worked out once.
    """

    lines: pd.DataFrame
    values: Mapping[str, float]
    classes: Sequence[LandfillClass]
    processes: Sequence[Process]
    others: Callable[[str], Recipe | None] = lambda _path: None
    _days: npt.NDArray[np.datetime64] = field(init=False, repr=False)
    _known: dict[object, Any] = field(init=False, repr=False, default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_days", self.lines["date"].to_numpy().astype("datetime64[D]"))

    def _once(self, key: object, make: Callable[[], T]) -> T:
        if key not in self._known:
            self._known[key] = make()
        known: T = self._known[key]
        return known

    def inside(self, recipe: Recipe) -> npt.NDArray[np.bool_]:
        """Return a mask of the lines in a recipe's span."""
        low, high = np.datetime64(recipe.start, "D"), np.datetime64(recipe.end, "D")
        return np.asarray((self._days >= low) & (self._days <= high))

    def matching(self, where: Where, mask: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
        """Return the mask cut to lines whose columns hold just these texts."""
        for column, text in where:
            codes, numbered = self._once(column, partial(_coded, self.lines[column]))
            mask = mask & (codes == numbered.get(text, _NOWHERE))
        return mask

    def of_class(self, one: LandfillClass) -> npt.NDArray[np.bool_]:
        """Return a mask of lines of a class bound for a version of the landfill."""
        lines = self.lines
        return self._once(
            one,
            lambda: np.asarray(
                (lines["before"] == "landfill")
                & (lines["decay_class"] == one.decay_class)
                & (lines["landfill"] == one.landfill)
            ),
        )

    def per_kg(self, one: LandfillClass) -> PerKg:
        """Return what one wet kg of a class does at its landfill."""
        return self._once(("per kg", one), lambda: per_kg(one, self.values))

    def deposits(self, recipe: Recipe) -> tuple[tuple[int, LandfillClass, float], ...]:
        """Return calendar year, class and diverted kg of what was bound for the landfill."""
        span = recipe.start, recipe.end
        return self._once(span, lambda: tuple(self._deposits(recipe)))

    def _deposits(self, recipe: Recipe) -> Iterator[tuple[int, LandfillClass, float]]:
        mask = self.inside(recipe)
        years = self.lines["date"].dt.year.to_numpy()
        diverted = self.lines["diverted"].to_numpy()
        for one in self.classes:
            here = mask & self.of_class(one)
            for year in np.unique(years[here]):
                yield int(year), one, float(diverted[here & (years == year)].sum())


_NOWHERE = -2  # no code: -1 is that of a gap


def _coded(column: pd.Series[Any]) -> tuple[npt.NDArray[np.intp], dict[Any, int]]:
    """Return a number for each line, and the number that each text of a column has."""
    codes, texts = pd.factorize(column)
    return codes, {text: number for number, text in enumerate(texts)}


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
            kg * book.per_kg(one).released_ch4 * in_year(book.values[one.k], node.year - year)
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
    return float(getattr(book.per_kg(one), which))


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
