"""The loads of a made-up yard, before anyone writes them down."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from .pen import Pen


@dataclass(frozen=True)
class Load:
    """One true load: what a person reads. ``kg``, or ``m3``, or ``count`` of ``container`` with ``fill``."""

    day: dt.date
    source: str
    material: str
    kg: float | None = None
    count: float | None = None
    container: str | None = None
    fill: float | None = None
    m3: float | None = None


@dataclass(frozen=True)
class Written:
    """A load as it is to be written: what it truly is, and the crew's words and numbers for it."""

    day: dt.date
    source: str
    source_said: str
    material: str
    material_said: str
    number: float  # of the crew's unit, or of containers


def loads(pen: Pen, least: int, most: int, whole: bool = True) -> list[Written]:
    """Return some loads in the order of their days."""
    out = []
    day = dt.date(2025, pen.randint(1, 9), pen.randint(1, 28))
    strange = pen.random() < 0.25
    for _ in range(pen.randint(least, most)):
        source = pen.choice(list(pen.words.SOURCES))
        said = pen.choice(pen.words.SOURCES[source])
        if strange and pen.random() < 0.25:
            source = said = pen.choice(pen.words.UNKNOWN_SOURCES)
        material = pen.choice(list(pen.words.MATERIALS))
        what = pen.choice(pen.words.MATERIALS[material])
        if strange and pen.random() < 0.1:
            material = what = pen.choice(pen.words.UNKNOWN_MATERIALS)
        number = pen.randint(8, 240) if whole else round(pen.uniform(8, 240), 1)
        out.append(Written(day, source, said, material, what, float(number)))
        day += dt.timedelta(days=pen.choice((0, 1, 1, 2, 3, 4, 7)))
    return out
