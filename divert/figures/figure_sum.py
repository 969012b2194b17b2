"""A printed figure as a plain sum of figures: ``period:a.central+period:b.central``.

Most printed figures are one figure. Some are a few added up (a rest, a year of months), a
difference between two sets (``earlier:p+-previous:p``), a share of one (``0.4*total:p``) or one
over another (``period:a/period:b``). The key of a printed figure writes it down, so that whoever
checks a report can work it out again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from divert.figures.figure_path import get


@dataclass(frozen=True, slots=True)
class Term:
    """``times`` one figure of one set, by its path; over another where ``over`` names one."""

    of_set: str
    path: str
    times: float = 1.0
    over: tuple[str, str] | None = None


def terms(key: str) -> tuple[Term, ...]:
    """Return what a printed figure's key adds up; raises ValueError where it names no set."""
    return tuple(_term(part) for part in key.split("+"))


def _term(text: str) -> Term:
    sign = -1.0 if text.startswith("-") else 1.0
    factor, star, rest = text.removeprefix("-").partition("*")
    top, slash, bottom = (rest if star else factor).partition("/")
    return Term(
        *_named(top),
        times=sign * (float(factor) if star else 1.0),
        over=_named(bottom) if slash else None,
    )


def _named(text: str) -> tuple[str, str]:
    of_set, colon, path = text.partition(":")
    if not colon:
        raise ValueError(f'"{text}" names no set of figures')
    return of_set, path


def figures_in(key: str) -> tuple[tuple[str, str], ...]:
    """Return every (set, path) that a printed figure's key speaks of."""
    out = []
    for term in terms(key):
        out.append((term.of_set, term.path))
        if term.over is not None:
            out.append(term.over)
    return tuple(out)


def value_of(key: str, sets: Mapping[str, Mapping[str, Any]]) -> float | None:
    """Return a printed figure from the JSON of its sets, or None where one of them lacks a part."""
    whole = 0.0
    for term in terms(key):
        top = _number(sets, term.of_set, term.path)
        bottom = 1.0 if term.over is None else _number(sets, *term.over)
        if top is None or not bottom:
            return None
        whole += term.times * top / bottom
    return whole


def _number(sets: Mapping[str, Mapping[str, Any]], of_set: str, path: str) -> float | None:
    found = get(sets.get(of_set, {}), path)
    return float(found) if isinstance(found, int | float) and not isinstance(found, bool) else None
