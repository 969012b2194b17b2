"""The columns in which crews write how much a load was, and what else they weigh beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from .loads import Load, Written
from .paper import number, said
from .pen import Pen
from .words import english, french

_KG: dict[str, float] = english.UNITS | french.UNITS
Cells = tuple[list[Any], Load]


@dataclass(frozen=True)
class Amounts:
    """``heads`` of the amount columns; ``write`` gives a load's cells and what they truly say.

    ``material`` marks headings that name the material themselves; ``summed`` a table that may have a
    row of totals under it; ``hidden`` the amount columns that nobody sees.
    """

    heads: list[str]
    write: Callable[[Written, Pen], Cells]
    material: bool = False
    summed: bool = False
    hidden: tuple[int, ...] = ()
    over: str = ""  # what somebody wrote over the table about these amounts

    def sums(self, told: list[Written]) -> list[Any]:
        """Return a total of all loads under the first amount column."""
        return [sum(w.number for w in told)]

    def carried(self, pen: Pen) -> list[Any]:
        """Return an amount that was carried over."""
        return [pen.randint(300, 2400), *[None] * (len(self.heads) - 1)]


def amounts_of(pen: Pen, traits: list[str], material: str, plain: bool = False) -> Amounts:
    """Return one way to write amounts. ``plain``: only one amount a load."""
    ways = [
        *["weight"] * 9,
        "unit column",
        "in the cell",
        "count",
        "count",
        "filled",
        "named",
        "question",
    ]
    ways += ["volume", "volume", "volume in the cell", "boxes", "boxes in the cell"]
    if not plain:
        ways += ["pair", "pair", "net pair", "streams", "courses", "guess", "old column"]
        ways += ["on a skid", "meter", "two scales"]
    way = pen.choice(ways)
    traits.append(f"amounts: {way}")
    unit = pen.choice(list(pen.words.UNITS))
    made = _WAYS[way](pen, traits, unit, material)
    traits.append(" | ".join(made.heads)[:160])
    return made


def _load(w: Written, unit: str, value: float) -> Load:
    return Load(w.day, w.source, w.material, kg=value * _KG[unit])


def _weight(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    head = pen.choice(pen.words.WEIGHT).format(u=unit)
    return Amounts(
        [head], lambda w, r: ([number(w.number, r)], _load(w, unit, w.number)), summed=True
    )


def _named(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    head = pen.choice(pen.words.NAMED).format(m=material, u=unit)
    return Amounts(
        [head], lambda w, r: ([number(w.number, r)], _load(w, unit, w.number)), True, True
    )


def _question(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    head = pen.words.QUESTION.format(m=material, u=unit)
    return Amounts([head], lambda w, r: ([number(w.number, r)], _load(w, unit, w.number)), True)


def _in_the_cell(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    head = pen.choice(pen.words.IN_THE_CELL)
    gap = pen.choice(("", " "))
    return Amounts(
        [head], lambda w, r: ([f"{said(w.number, r)}{gap}{unit}"], _load(w, unit, w.number))
    )


def _unit_column(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    heads = pen.choice(pen.words.UNIT_COLUMN)

    def write(w: Written, r: Pen) -> Cells:
        own = r.choice(r.words.OWN_UNITS)
        return [number(w.number, r), own], _load(w, own, w.number)

    return Amounts(list(heads), write)


def _count(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    box = pen.choice(list(pen.words.CONTAINERS))
    head = pen.choice(pen.words.COUNT).format(c=pen.words.CONTAINERS[box][1])

    def write(w: Written, r: Pen) -> Cells:
        n = 1 + int(w.number) % 6
        return [n], Load(w.day, w.source, w.material, count=n, container=box)

    return Amounts([head[0].upper() + head[1:]], write)


def _filled(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    box = pen.choice(list(pen.words.CONTAINERS))

    def write(w: Written, r: Pen) -> Cells:
        n = 1 + int(w.number) % 5
        told, fill = r.choice(r.words.FILLS)
        return [n, told], Load(w.day, w.source, w.material, count=n, container=box, fill=fill)

    head = pen.choice(pen.words.COUNT).format(c=pen.words.CONTAINERS[box][1])
    return Amounts([head[0].upper() + head[1:], pen.choice(pen.words.FILL)], write)


def _pair(pen: Pen, traits: list[str], unit: str, material: str, net: bool = False) -> Amounts:
    heads = [h.format(u=unit) for h in pen.choice(pen.words.PAIRS)]
    if net:
        heads.append(pen.choice(pen.words.NET).format(u=unit))
    heavy = pen.random() < 0.4  # a truck, else a tote

    def write(w: Written, r: Pen) -> Cells:
        empty = float(9000 + r.randint(-150, 150)) if heavy else float(r.choice((9, 9, 10)))
        value = w.number * 10 if heavy else w.number
        cells = [number(value + empty, r), number(empty, r), *([number(value, r)] if net else [])]
        return cells, _load(w, unit, value)

    return Amounts(heads, write)


def _net_pair(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    return _pair(pen, traits, unit, material, True)


def _streams(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    heads = [h.format(u=unit) for h in pen.choice(pen.words.STREAMS)]
    total = pen.random() < 0.6

    def write(w: Written, r: Pen) -> Cells:
        others = [float(r.randint(5, 60)) for _ in heads[1:]]
        cells = [w.number, *others, *([w.number + sum(others)] if total else [])]
        load = Load(w.day, w.source, pen.words.FOOD, kg=w.number * _KG[unit])
        return [number(c, r) for c in cells], load

    return Amounts(
        [*heads, *([pen.words.STREAM_TOTAL.format(u=unit)] if total else [])], write, True
    )


def _courses(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    heads = [h.format(u=unit) for h in pen.choice(pen.words.COURSES)]
    loose = pen.random() < 0.4  # each is weighed by itself, or somebody forgot to

    def write(w: Written, r: Pen) -> Cells:
        used = float(r.randint(200, 400))
        off = r.choice((0, 0, 1, -2)) if loose else 0
        cells: list[Any] = [number(c, r) for c in (w.number + used + off, used, w.number)]
        if loose and r.random() < 0.1:
            cells[0] = None
        return cells, _load(w, unit, w.number)

    return Amounts(heads, write)


def _guess(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    heads = [h.format(u=unit) for h in pen.choice(pen.words.GUESS)]

    def write(w: Written, r: Pen) -> Cells:
        about = float(round(w.number * r.uniform(0.8, 1.25) / 5) * 5)
        return [number(about, r), number(w.number, r)], _load(w, unit, w.number)

    return Amounts(heads, write)


def _volume(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    unit = pen.choice(list(pen.words.VOLUMES))
    head, factor = pen.choice(pen.words.VOLUME).format(u=unit), pen.words.VOLUMES[unit]
    large = factor > 0.5

    def write(w: Written, r: Pen) -> Cells:
        value = 1 + int(w.number) % 9 * (0.5 if large else 20)
        return [number(value, r)], Load(w.day, w.source, w.material, m3=value * factor)

    return Amounts([head[0].upper() + head[1:]], write)


def _volume_in_the_cell(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    unit = pen.choice(list(pen.words.VOLUMES))
    factor = pen.words.VOLUMES[unit]

    def write(w: Written, r: Pen) -> Cells:
        value = 1 + int(w.number) % 9 * (0.5 if factor > 0.5 else 20)
        return [f"{said(value, r)} {unit}"], Load(w.day, w.source, w.material, m3=value * factor)

    return Amounts([pen.choice(pen.words.IN_THE_CELL)], write)


def _boxes(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    heads = list(pen.choice(pen.words.BOXES))
    filled = pen.random() < 0.5
    few = pen.sample(list(pen.words.CONTAINERS), 2)

    def write(w: Written, r: Pen) -> Cells:
        box, n = r.choice(few), 1 + int(w.number) % 6
        told, fill = r.choice(r.words.FILLS) if filled else ("", None)
        load = Load(w.day, w.source, w.material, count=n, container=box, fill=fill)
        return [r.choice(r.words.CONTAINERS[box]), n, *([told] if filled else [])], load

    return Amounts([*heads, *([pen.choice(pen.words.FILL)] if filled else [])], write)


def _boxes_in_the_cell(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    def write(w: Written, r: Pen) -> Cells:
        box = r.choice(list(r.words.CONTAINERS))
        n = 1 + int(w.number) % 6
        name = r.words.CONTAINERS[box][n > 1]
        return [f"{n} {name}"], Load(w.day, w.source, w.material, count=n, container=box)

    return Amounts([pen.choice(pen.words.IN_THE_CELL)], write)


def _old_column(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    """The weights as they were typed first, in a column that somebody has hidden since."""
    head = pen.choice(pen.words.WEIGHT).format(u=unit)

    def write(w: Written, r: Pen) -> Cells:
        off = float(r.choice((0, 0, 0, 5, -2)))
        return [number(w.number + off, r), number(w.number, r)], _load(w, unit, w.number)

    return Amounts([f"{head} old", head], write, hidden=(0,))


def _on_a_skid(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    """What the loads stand on is weighed with them, and told once, over the table."""
    head, empty = pen.choice(pen.words.WEIGHT).format(u=unit), float(pen.randint(12, 48))
    over = pen.choice(pen.words.SKIDS).format(n=said(empty, pen), u=unit)
    traits.append(f"over: {over}")
    return Amounts(
        [head], lambda w, r: ([number(w.number + empty, r)], _load(w, unit, w.number)), over=over
    )


def _meter(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    """Only how much has come so far is written down."""
    so_far = 0.0

    def write(w: Written, r: Pen) -> Cells:
        nonlocal so_far
        so_far += w.number
        return [number(so_far, r)], _load(w, unit, w.number)

    return Amounts([pen.choice(pen.words.METERS).format(u=unit, m=material)], write)


def _two_scales(pen: Pen, traits: list[str], unit: str, material: str) -> Amounts:
    """Two people weighed each load; the second of them is paid by it."""
    heads = [h.format(u=unit) for h in pen.choice(pen.words.TWO_SCALES)]

    def write(w: Written, r: Pen) -> Cells:
        first = w.number + float(r.choice((0, 1, -2, 4, -5)))
        return [number(max(first, 1.0), r), number(w.number, r)], _load(w, unit, w.number)

    return Amounts(heads, write)


_WAYS = {
    "on a skid": _on_a_skid, "meter": _meter, "two scales": _two_scales,
    "weight": _weight, "named": _named, "question": _question, "in the cell": _in_the_cell, "unit column": _unit_column,
    "count": _count, "filled": _filled, "pair": _pair, "net pair": _net_pair, "streams": _streams, "courses": _courses,
    "guess": _guess, "volume": _volume, "volume in the cell": _volume_in_the_cell, "boxes": _boxes,
    "boxes in the cell": _boxes_in_the_cell, "old column": _old_column,
}  # fmt: skip
