"""The columns in which crews write how much a load was, and what else they weigh beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from typing import Any

from . import wording
from .loads import CONTAINERS, Load, Written
from .paper import number

Cells = tuple[list[Any], Load]


@dataclass(frozen=True)
class Amounts:
    """``heads`` of the amount columns; ``write`` gives a load's cells and what they truly say.

    ``material`` marks headings that name the material themselves; ``summed`` a table that may have a
    row of totals under it.
    """

    heads: list[str]
    write: Callable[[Written, Random], Cells]
    material: bool = False
    summed: bool = False

    def sums(self, told: list[Written]) -> list[Any]:
        """Return a total of all loads under the first amount column."""
        return [sum(w.number for w in told)]

    def carried(self, random: Random) -> list[Any]:
        """Return an amount that was carried over."""
        return [random.randint(300, 2400), *[None] * (len(self.heads) - 1)]


def amounts_of(random: Random, traits: list[str], material: str, plain: bool = False) -> Amounts:
    """Return one way to write amounts. ``plain``: only one amount a load."""
    ways = ["weight"] * 9 + [
        "unit column",
        "in the cell",
        "count",
        "count",
        "filled",
        "named",
        "question",
    ]
    if not plain:
        ways += ["pair", "pair", "net pair", "streams", "courses", "guess"]
    way = random.choice(ways)
    traits.append(f"amounts: {way}")
    unit = random.choice(list(wording.UNITS))
    made = _WAYS[way](random, traits, unit, material)
    traits.append(" | ".join(made.heads)[:160])
    return made


def _load(w: Written, unit: str, value: float) -> Load:
    return Load(w.day, w.source, w.material, kg=value * wording.UNITS[unit])


def _weight(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    head = random.choice(wording.WEIGHT).format(u=unit)
    return Amounts(
        [head], lambda w, r: ([number(w.number, r)], _load(w, unit, w.number)), summed=True
    )


def _named(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    head = random.choice(("{m} ({u})", "{u} of {m}", "{m} - {u}")).format(m=material, u=unit)
    return Amounts(
        [head], lambda w, r: ([number(w.number, r)], _load(w, unit, w.number)), True, True
    )


def _question(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    head = wording.QUESTION.format(m=material, u=unit)
    return Amounts([head], lambda w, r: ([number(w.number, r)], _load(w, unit, w.number)), True)


def _in_the_cell(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    head = random.choice(("Amount", "Weight", "How much", "Quantity"))
    gap = random.choice(("", " "))
    return Amounts(
        [head], lambda w, r: ([f"{number(w.number, r)}{gap}{unit}"], _load(w, unit, w.number))
    )


def _unit_column(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    heads = random.choice((["Amount", "Unit"], ["Qty", "Units"], ["How much", "lb or kg?"]))

    def write(w: Written, r: Random) -> Cells:
        own = r.choice(("lb", "lb", "kg"))
        return [number(w.number, r), own], _load(w, own, w.number)

    return Amounts(list(heads), write)


def _count(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    box = random.choice(CONTAINERS)
    head = random.choice(wording.COUNT).format(c=box)

    def write(w: Written, r: Random) -> Cells:
        n = 1 + int(w.number) % 6
        return [n], Load(w.day, w.source, w.material, count=n, container=box)

    return Amounts([head[0].upper() + head[1:]], write)


def _filled(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    box = random.choice(CONTAINERS)
    fills = (("3/4", 0.75), ("full", 1.0), ("half", 0.5), ("80%", 0.8), (1, 1.0))

    def write(w: Written, r: Random) -> Cells:
        n = 1 + int(w.number) % 5
        said, fill = r.choice(fills[:4])
        return [n, said], Load(w.day, w.source, w.material, count=n, container=box, fill=fill)

    head = random.choice(wording.COUNT).format(c=box)
    return Amounts([head[0].upper() + head[1:], random.choice(wording.FILL)], write)


def _pair(
    random: Random, traits: list[str], unit: str, material: str, net: bool = False
) -> Amounts:
    heads = [h.format(u=unit) for h in random.choice(wording.PAIRS)]
    if net:
        heads.append(random.choice(wording.NET).format(u=unit))
    heavy = random.random() < 0.4  # a truck, else a tote

    def write(w: Written, r: Random) -> Cells:
        empty = float(9000 + r.randint(-150, 150)) if heavy else float(r.choice((9, 9, 10)))
        value = w.number * 10 if heavy else w.number
        cells = [number(value + empty, r), number(empty, r), *([number(value, r)] if net else [])]
        return cells, _load(w, unit, value)

    return Amounts(heads, write)


def _net_pair(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    return _pair(random, traits, unit, material, True)


def _streams(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    heads = [h.format(u=unit) for h in random.choice(wording.STREAMS)]
    total = random.random() < 0.6

    def write(w: Written, r: Random) -> Cells:
        others = [float(r.randint(5, 60)) for _ in heads[1:]]
        cells = [w.number, *others, *([w.number + sum(others)] if total else [])]
        load = Load(w.day, w.source, "kitchen scraps", kg=w.number * wording.UNITS[unit])
        return [number(c, r) for c in cells], load

    return Amounts([*heads, *([f"Total ({unit})"] if total else [])], write, True)


def _courses(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    heads = [h.format(u=unit) for h in random.choice(wording.COURSES)]

    def write(w: Written, r: Random) -> Cells:
        used = float(r.randint(200, 400))
        return [number(c, r) for c in (w.number + used, used, w.number)], _load(w, unit, w.number)

    return Amounts(heads, write)


def _guess(random: Random, traits: list[str], unit: str, material: str) -> Amounts:
    heads = [h.format(u=unit) for h in random.choice((
        ("Guess ({u})", "Scale ({u})"), ("Est. {u}", "Actual {u}"), ("Crew estimate ({u})", "Weighed ({u})")))]  # fmt: skip

    def write(w: Written, r: Random) -> Cells:
        about = float(round(w.number * r.uniform(0.8, 1.25) / 5) * 5)
        return [number(about, r), number(w.number, r)], _load(w, unit, w.number)

    return Amounts(heads, write)


_WAYS = {
    "weight": _weight, "named": _named, "question": _question, "in the cell": _in_the_cell, "unit column": _unit_column,
    "count": _count, "filled": _filled, "pair": _pair, "net pair": _net_pair, "streams": _streams, "courses": _courses,
    "guess": _guess,
}  # fmt: skip
