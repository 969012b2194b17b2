"""A made-up file for a seed: one layout, or several tabs of one."""

from __future__ import annotations

from random import Random

from . import wording
from .layouts import across, days_across, sections, tall
from .loads import MATERIALS, SOURCES
from .paper import Book, Paper

_LAYOUTS = (
    *["tall"] * 9,
    *["sections"] * 3,
    *["across"] * 4,
    "days across",
    "tab a source",
    "tab a material",
)


def book(seed: int) -> Book:
    """Return the file of a seed, the same whenever it is made."""
    random = Random(seed)
    layout = random.choice(_LAYOUTS)
    traits = [layout]
    papers: list[Paper]
    if layout == "tall":
        papers = [tall(random, random.choice(("Log", "Sheet1", "2025", "Pickups", "data")), traits)]
    elif layout == "sections":
        papers = [sections(random, traits)]
    elif layout == "across":
        papers = [across(random, traits)]
    elif layout == "days across":
        papers = [days_across(random, traits)]
    else:
        field = layout.removeprefix("tab a ")
        names = SOURCES if field == "source" else MATERIALS
        some = random.sample(list(names), 2)
        papers = [tall(random, names[n][0], traits, field, n) for n in some]
    return Book(seed, f"{random.choice(wording.FILES)}.xlsx", papers, traits)
