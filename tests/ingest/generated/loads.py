"""The loads of a made-up yard, before anyone writes them down."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from random import Random

from . import wording

SOURCES = {  # as site.toml knows them (corpus/book.py): the name, and what crews write
    "Quillmarsh School kitchen": ("Quillmarsh", "school", "Quillmarsh School kitchen"),
    "Harborside Hotel": ("Harborside Hotel", "hotel", "HARBORSIDE HOTEL"),
    "The Copper Ladle": ("Copper Ladle", "The Copper Ladle", "ladle"),
    "Petal and Stem Florist": ("florist", "Petal and Stem Florist", "Petal & Stem Florist"),
}
MATERIALS = {
    "kitchen scraps": ("food scraps", "Food waste", "kitchen scraps"),
    "coffee grounds": ("coffee", "Coffee grounds"),
    "leaves": ("leaves", "Leaves"),
    "cut flowers": ("cut flowers", "florist waste"),
}
CONTAINERS = ("tote", "pail", "cart")


@dataclass(frozen=True)
class Load:
    """One true load: what a person reads. ``kg``, or ``count`` of ``container`` with ``fill``."""

    day: dt.date
    source: str
    material: str
    kg: float | None = None
    count: float | None = None
    container: str | None = None
    fill: float | None = None


@dataclass(frozen=True)
class Written:
    """A load as it is to be written: what it truly is, and the crew's words and numbers for it."""

    day: dt.date
    source: str
    source_said: str
    material: str
    material_said: str
    number: float  # of the crew's unit, or of containers


def loads(random: Random, least: int, most: int, whole: bool = True) -> list[Written]:
    """Return some loads in the order of their days."""
    out = []
    day = dt.date(2025, random.randint(1, 9), random.randint(1, 28))
    strange = random.random() < 0.25
    for _ in range(random.randint(least, most)):
        source = random.choice(list(SOURCES))
        said = random.choice(SOURCES[source])
        if strange and random.random() < 0.25:
            source = said = random.choice(wording.UNKNOWN_SOURCES)
        material = random.choice(list(MATERIALS))
        what = random.choice(MATERIALS[material])
        if strange and random.random() < 0.1:
            material = what = random.choice(wording.UNKNOWN_MATERIALS)
        number = random.randint(8, 240) if whole else round(random.uniform(8, 240), 1)
        out.append(Written(day, source, said, material, what, float(number)))
        day += dt.timedelta(days=random.choice((0, 1, 1, 2, 3, 4, 7)))
    return out
