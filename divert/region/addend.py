"""What a yard, or a sum of yards, brings to a region's figures, and how two of them are added."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields
from typing import Any, TypeVar

from divert.core.words import Text
from divert.region.stamp import Stamp
from divert.region.whole import Whole, nothing

K = TypeVar("K")


@dataclass(frozen=True, slots=True)
class YardSum:
    """One yard that was read: its place in the list, its names, what it received and diverted.

    ``diverted`` holds the central value and the ends of its own interval, mg; ``unread`` counts the
    files in its folder that could not be read.
    """

    place: int
    folder: str
    name: str
    group: str
    received: int
    diverted: tuple[int, int, int]
    used: int
    set_aside: int
    skipped: int
    queries: int
    unread: int


@dataclass(frozen=True, slots=True)
class YardFailed:
    """One yard that could not be read, with the sentence that says why."""

    place: int
    folder: str
    group: str
    sentence: Text


@dataclass(frozen=True, slots=True, eq=False)
class Addend:
    """A yard's figures, or those of many: add any two that carry the same stamp.

    ``figures``: by name (divert.region.yard.FIGURES). ``months`` by (month, what), ``materials`` by
    (key of the built-in list, what) and ``groups`` by group: each a figure with its draws.
    ``bases`` is received mass by basis, mg; ``aside`` counts entries set aside by their reason;
    ``units``, ``languages`` and ``countries`` count the yards that print in them.
    """

    stamp: Stamp
    yards: tuple[YardSum, ...] = ()
    failed: tuple[YardFailed, ...] = ()
    figures: Mapping[str, Whole] = field(default_factory=dict)
    months: Mapping[tuple[str, str], Whole] = field(default_factory=dict)
    materials: Mapping[tuple[str, str], Whole] = field(default_factory=dict)
    groups: Mapping[tuple[str, str], Whole] = field(default_factory=dict)
    bases: Mapping[str, int] = field(default_factory=dict)
    aside: Mapping[str, int] = field(default_factory=dict)
    units: Mapping[str, int] = field(default_factory=dict)
    languages: Mapping[str, int] = field(default_factory=dict)
    countries: Mapping[str, int] = field(default_factory=dict)

    def figure(self, name: str) -> Whole:
        """Return one figure; nothing where no yard has it."""
        return self.figures.get(name) or nothing()


DRAWN = ("figures", "months", "materials", "groups")
COUNTED = ("bases", "aside", "units", "languages", "countries")


class OtherStamp(ValueError):  # noqa: N818 - reads as what it is
    """Two addends of different versions, factors, draws or days: their sum would mean nothing."""


def added(one: Addend, other: Addend) -> Addend:
    """Return the sum of two addends. Raises OtherStamp where they were not worked out alike."""
    if one.stamp != other.stamp:
        raise OtherStamp(one.stamp.differs(other.stamp))
    sums: dict[str, Any] = {n: _summed(getattr(one, n), getattr(other, n)) for n in DRAWN}
    sums |= {n: _counted(getattr(one, n), getattr(other, n)) for n in COUNTED}
    return Addend(
        one.stamp,
        tuple(sorted((*one.yards, *other.yards), key=lambda y: y.place)),
        tuple(sorted((*one.failed, *other.failed), key=lambda y: y.place)),
        **sums,
    )


def added_all(addends: Iterable[Addend]) -> Addend:
    """Return the sum of addends, of which there is at least one."""
    first, *others = addends
    for one in others:
        first = added(first, one)
    return first


def same(one: Addend, other: Addend) -> bool:
    """Say whether two addends are equal to the last bit."""
    plain = [f.name for f in fields(Addend) if f.name not in DRAWN]
    return all(getattr(one, name) == getattr(other, name) for name in plain) and all(
        getattr(one, name).keys() == getattr(other, name).keys()
        and all(value.same(getattr(other, name)[key]) for key, value in getattr(one, name).items())
        for name in DRAWN
    )


def _summed(one: Mapping[K, Whole], other: Mapping[K, Whole]) -> dict[K, Whole]:
    out = dict(one)
    for key, value in other.items():
        out[key] = out[key].plus(value) if key in out else value
    return out


def _counted(one: Mapping[str, int], other: Mapping[str, int]) -> dict[str, int]:
    out = dict(one)
    for key, count in other.items():
        out[key] = out.get(key, 0) + count
    return out
