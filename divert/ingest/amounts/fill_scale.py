"""How full, counted in parts: 3 under "Quarters full" is three quarters, 7 "out of 10" seven tenths."""

from __future__ import annotations

import re
from collections.abc import Sequence

from divert.ingest.cells.number import even, take_number
from divert.ingest.grid import Cell
from divert.ingest.lexicon import bare, words

_OUT_OF = re.compile(r"(?:/|\bout of|\bsur|\b0 ?(?:-|to|a)) ?(\d{1,3})\b")
_MOST_PARTS = 10
_FEW = 0.1  # of a column's numbers above one: fewer are slips in a column of fractions


def parts_of(heading: str) -> float | None:
    """Return how many parts make a full one by a column's heading, None where it does not say."""
    text = bare(even(heading))
    named = {bare(word): float(n) for word, n in words("fills")["parts"].items()}
    for word in re.findall(r"[a-z]+", text):
        if word in named:
            return named[word]
    said = _OUT_OF.search(text)
    return float(said[1]) if said and int(said[1]) > 1 else None


def as_number(cell: Cell) -> float | None:
    """Return a fill cell that is a number and nothing else."""
    if isinstance(cell, int | float):
        return float(cell)
    if not isinstance(cell, str):
        return None
    text = bare(even(cell))
    if "/" in text or not text[:1].isdigit():
        return None
    try:
        taken = take_number(text, 0, False)
    except ValueError:
        return None
    return taken[0] if taken and not text[taken[1] :].strip(" .") else None


def unknown_scale(cells: Sequence[Cell]) -> bool:
    """Return whether a column's numbers count parts of an unknown whole: 1, 2, 3, 4.

    There 1 is no more a full one than 3 is three per cent.
    """
    numbers = [n for c in cells if (n := as_number(c)) is not None]
    if not numbers or any(n % 1 or n > _MOST_PARTS for n in numbers):
        return False
    return sum(n > 1 for n in numbers) > _FEW * len(numbers)
