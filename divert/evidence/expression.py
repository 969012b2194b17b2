"""One expression, two readings: the numbers it gives, and the spreadsheet formula that gives them.

A leaf is whatever the expression's users agree on (a column, a number by its key); its value and its
cell are found by a function that the reader brings along.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np


class Leaf:
    """What an expression rests on: found, not worked out."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Number(Leaf):
    """A plain number that the rule itself brings, such as the 16 of 16/12."""

    value: float


@dataclass(frozen=True, slots=True)
class Product:
    """The parts multiplied from left to right; divided by a part that is :class:`Over`."""

    parts: tuple[Expression, ...]


@dataclass(frozen=True, slots=True)
class Over:
    """A part of a product that the rest is divided by."""

    part: Expression


@dataclass(frozen=True, slots=True)
class Sum:
    """The parts added up from left to right."""

    parts: tuple[Expression, ...]


@dataclass(frozen=True, slots=True)
class Less:
    """The first of two less the second."""

    whole: Expression
    part: Expression


@dataclass(frozen=True, slots=True)
class Minus:
    """The opposite."""

    part: Expression


@dataclass(frozen=True, slots=True)
class Bracketed:
    """A sum or difference that stands inside a product."""

    part: Expression


@dataclass(frozen=True, slots=True)
class Least:
    """The smaller of two."""

    one: Expression
    other: Expression


@dataclass(frozen=True, slots=True)
class Most:
    """The larger of two."""

    one: Expression
    other: Expression


@dataclass(frozen=True, slots=True)
class Whole:
    """The part rounded up to a whole number: half a container is a container."""

    part: Expression


@dataclass(frozen=True, slots=True)
class Within:
    """The share of first-order decay within some years: 1 - exp(-rate x years)."""

    rate: Expression
    years: int


Expression = Leaf | Product | Over | Sum | Less | Minus | Bracketed | Least | Most | Whole | Within


def product(*parts: Expression) -> Product:
    """Return a product of parts."""
    return Product(parts)


def whole_number(count: Any) -> Any:
    """Return a count rounded up to whole containers; a millionth more is no further one."""
    return np.ceil(np.round(count, 6))


def value(node: Expression, of: Callable[[Leaf], Any]) -> Any:
    """Return what an expression comes to: a number or an array, as its leaves are.

    ``of`` gives the value of a leaf; a :class:`Number` is its own.
    """
    match node:
        case Number(number):
            return number
        case Leaf():
            return of(node)
        case Product((first, *rest)):
            out = value(first, of)
            for part in rest:
                out = (
                    out / value(part.part, of) if isinstance(part, Over) else out * value(part, of)
                )
            return out
        case Sum((first, *rest)):
            out = value(first, of)
            for part in rest:
                out = out + value(part, of)
            return out
        case Less(whole, part):
            return value(whole, of) - value(part, of)
        case Minus(part):
            return -value(part, of)
        case Bracketed(part):
            return value(part, of)
        case Least(one, other):
            return np.minimum(value(one, of), value(other, of))
        case Most(one, other):
            return np.maximum(value(one, of), value(other, of))
        case Whole(part):
            return whole_number(value(part, of))
        case Within(rate, years):
            return -np.expm1(-value(rate, of) * years)
    raise TypeError(f"no expression: {node!r}")


def formula(node: Expression, at: Callable[[Leaf], str]) -> str:
    """Return an expression as a spreadsheet formula, without the leading equals sign.

    ``at`` gives the cell of a leaf; a :class:`Number` is written as it is.
    """
    match node:
        case Number(number):
            return f"{number:g}"
        case Leaf():
            return at(node)
        case Product((first, *rest)):
            return formula(first, at) + "".join(
                f"/{formula(part.part, at)}" if isinstance(part, Over) else f"*{formula(part, at)}"
                for part in rest
            )
        case Sum(parts):
            return "+".join(formula(part, at) for part in parts)
        case Less(whole, part):
            return f"{formula(whole, at)}-{formula(part, at)}"
        case Minus(part):
            return f"-{formula(part, at)}"
        case Bracketed(part):
            return f"({formula(part, at)})"
        case Least(one, other):
            return f"MIN({formula(one, at)},{formula(other, at)})"
        case Most(one, other):
            return f"MAX({formula(one, at)},{formula(other, at)})"
        case Whole(part):
            return f"ROUNDUP(ROUND({formula(part, at)},6),0)"
        case Within(rate, years):
            return f"(1-EXP(-{formula(rate, at)}*{years}))"
    raise TypeError(f"no expression: {node!r}")
