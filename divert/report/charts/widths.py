"""How wide a text is in the shipped fonts, from their advance widths.

matplotlib's own measure would be another font's. The usual letters are looked up in the fonts that are
kept unpacked; only for others is a whole font unpacked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from divert.core.shipped import templates_folder

MM_PER_POINT = 25.4 / 72
_FILES = {"regular": "SourceSans3-Regular", "semibold": "SourceSans3-Semibold"}
_UNKNOWN_EM = 0.62  # a letter from outside the font is set in another, somewhat wider one


@dataclass(frozen=True, slots=True)
class _Advances:
    per_em: dict[int, float]


@lru_cache
def _advances(weight: str, whole: bool) -> _Advances:
    from fontTools.ttLib import TTFont

    name = _FILES[weight]
    file = f"{name}.woff2" if whole else f"usual/{name}.otf"
    with TTFont(templates_folder() / "fonts" / file, lazy=True) as font:
        em, metrics = font["head"].unitsPerEm, font["hmtx"].metrics
        return _Advances(
            {code: metrics[glyph][0] / em for code, glyph in font.getBestCmap().items()}
        )


def _rare_em(letter: str, weight: str) -> float:
    return _advances(weight, True).per_em.get(ord(letter), _UNKNOWN_EM)


def width_mm(text: str, size_points: float, weight: str = "regular") -> float:
    """Return the width of one line of text in mm; kerning, which mostly narrows it, is left out."""
    usual = _advances(weight, False).per_em
    ems = sum(usual.get(ord(letter)) or _rare_em(letter, weight) for letter in text)
    return ems * size_points * MM_PER_POINT


def evenly(
    labels: Sequence[tuple[float, str]], size_points: float, apart_mm: float
) -> Sequence[tuple[float, str]]:
    """Return all labels of an axis by their middles (mm), or every second, third ... that has room."""
    for every in range(1, len(labels)):
        chosen = labels[::every]
        if all(
            (width_mm(a, size_points) + width_mm(b, size_points)) / 2 + apart_mm <= x2 - x1 + 1e-9
            for (x1, a), (x2, b) in pairwise(chosen)
        ):
            return chosen
    return labels[:1]


def shortened(text: str, room_mm: float, size_points: float) -> str:
    """Return the text, cut with an ellipsis where it is wider than its room."""
    if width_mm(text, size_points) <= room_mm:
        return text
    while text and width_mm(text + "…", size_points) > room_mm:
        text = text[:-1].rstrip()
    return text + "…"


def wrapped(text: str, room_mm: float, size_points: float, lines: int = 2) -> list[str]:
    """Break a name into at most ``lines`` lines that fit the room; the last one is cut if it must."""
    out: list[str] = []
    words = text.split()
    while words and len(out) < lines - 1:
        line = words.pop(0)
        while words and width_mm(f"{line} {words[0]}", size_points) <= room_mm:
            line = f"{line} {words.pop(0)}"
        out.append(shortened(line, room_mm, size_points))
    if words:
        out.append(shortened(" ".join(words), room_mm, size_points))
    return out or [""]
