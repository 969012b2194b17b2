"""What the crew of a seed keeps: one layout in one file, several tabs of one, or several files."""

from __future__ import annotations

from collections.abc import Callable

from .across import across, days_across
from .layouts import monthly, sections, tall
from .paper import Book, File, Paper
from .pen import Pen

_ENDINGS = ("xlsx",) * 8 + ("csv", "csv", "ods")
_Make = Callable[[Pen, list[str]], list[Paper]]


def _tall(pen: Pen, traits: list[str]) -> list[Paper]:
    return [tall(pen, pen.choice(pen.words.TABS), traits)]


def _tab_a(field: str) -> _Make:
    def tabs(pen: Pen, traits: list[str]) -> list[Paper]:
        names = pen.words.SOURCES if field == "source" else pen.words.MATERIALS
        return [tall(pen, names[n][0], traits, field, n) for n in pen.sample(list(names), 2)]

    return tabs


_LAYOUTS: tuple[tuple[str, int, _Make], ...] = (
    ("tall", 9, _tall),
    ("sections", 3, lambda pen, traits: [sections(pen, traits)]),
    ("across", 4, lambda pen, traits: [across(pen, traits)]),
    ("days across", 1, lambda pen, traits: [days_across(pen, traits)]),
    ("tab a source", 1, _tab_a("source")),
    ("tab a material", 1, _tab_a("material")),
    ("tab a month", 2, monthly),
)


def book(seed: int) -> Book:
    """Return what the crew of a seed keeps, the same whenever it is made."""
    pen = Pen(seed)
    names, weights, makes = zip(*_LAYOUTS, strict=True)
    chosen = pen.choices(range(len(names)), weights)[0]
    traits = [names[chosen], *(["French"] if pen.french else [])]
    papers = makes[chosen](pen, traits)
    ending = pen.choice(_ENDINGS)
    for paper in papers if ending == "csv" else []:
        paper.as_text()
    several = len(papers) > 1 and (ending == "csv" or pen.random() < 0.4)
    traits += [ending, *(["a file each"] if several else [])]
    if not several:
        return Book(
            seed, [File(f"{pen.choice(pen.words.FILES)}.{ending}", papers)], traits, pen.french
        )
    files = [File(f"{paper.name}.{ending}", [paper]) for paper in papers]
    return Book(seed, files, traits, pen.french)
