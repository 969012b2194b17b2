"""What the expressions of ledger columns rest on, and when each applies to a line."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from divert.convert.emission_factors import fuel_key
from divert.evidence.expression import Expression, Leaf

Mask = npt.NDArray[np.bool_]
PROCESS = "process"  # kg CO2e of composting a kilogram, of no class


@dataclass(frozen=True, slots=True)
class Of(Leaf):
    """A column of the same line."""

    column: str


@dataclass(frozen=True, slots=True)
class OfOrigin(Leaf):
    """A column of the line that a charge comes from."""

    column: str


@dataclass(frozen=True, slots=True)
class FactorOf(Leaf):
    """The number whose key stands in a column, or is named by what stands there."""

    column: str
    named: Callable[[str], str | None] | None = None

    def key(self, text: str) -> str:
        """Return the key of the number that a cell's text leads to."""
        return text if self.named is None else self.named(text) or ""


@dataclass(frozen=True, slots=True)
class OfLandfill(Leaf):
    """What a kilogram does at the line's landfill: a result of its class, or :data:`PROCESS`."""

    what: str


class Lines(Protocol):
    """The lines as conditions look at them."""

    def texts(self, column: str) -> npt.NDArray[np.object_]:
        """Return a column of texts."""

    def numbers(self, column: str) -> npt.NDArray[np.float64]:
        """Return a column of numbers, NaN where there is none."""

    def given(self, column: str) -> Mask:
        """Return where a column that is made has a case that applies."""

    def in_a_class(self) -> Mask:
        """Return where a line has a decay class at its landfill."""


@dataclass(frozen=True, slots=True)
class Condition:
    """Where something holds; conditions are joined by &."""

    holds: Callable[[Lines], Mask]

    def __and__(self, other: Condition) -> Condition:
        return Condition(lambda lines: self.holds(lines) & other.holds(lines))


@dataclass(frozen=True, slots=True)
class Case:
    """What a column holds where a condition is met."""

    when: Condition
    gives: Expression


def known(*columns: str) -> Condition:
    """Return where all of some numbers are known."""
    return Condition(
        lambda lines: np.logical_and.reduce([~np.isnan(lines.numbers(c)) for c in columns])
    )


def named(column: str) -> Condition:
    """Return where a text is given."""
    return Condition(lambda lines: lines.texts(column) != "")


def kind(*kinds: str) -> Condition:
    """Return the lines of some kinds."""
    return Condition(lambda lines: np.isin(lines.texts("kind"), kinds))


def before(*fates: str) -> Condition:
    """Return the lines whose material went to one of some places before."""
    return Condition(lambda lines: np.isin(lines.texts("before"), fates))


def not_before(*fates: str) -> Condition:
    """Return the lines whose material went to none of some places before."""
    return Condition(lambda lines: ~np.isin(lines.texts("before"), fates))


def made(column: str) -> Condition:
    """Return where a column above is made of something."""
    return Condition(lambda lines: lines.given(column))


def decays() -> Condition:
    """Return where a line's material has a decay class at its landfill."""
    return Condition(lambda lines: lines.in_a_class())


def is_fuel(column: str) -> Condition:
    """Return where a text names a fuel with a published number."""

    def holds(lines: Lines) -> Mask:
        texts = lines.texts(column)
        fuels: Mapping[str, bool] = {text: bool(fuel_key(text)) for text in set(texts)}
        return np.array([fuels[text] for text in texts], dtype=bool)

    return Condition(holds)
