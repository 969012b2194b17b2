"""The fonts that ship with the pages: whole for the PDF, cut to the letters used for the HTML."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from functools import lru_cache

from divert.core.shipped import templates_folder


@dataclass(frozen=True, slots=True)
class Face:
    """One font file of the pages and what the style sheet calls it."""

    file: str
    family: str
    weight: int
    style: str = "normal"


FACES = (
    Face("SourceSans3-Regular.woff2", "Source Sans 3", 400),
    Face("SourceSans3-It.woff2", "Source Sans 3", 400, "italic"),
    Face("SourceSans3-Semibold.woff2", "Source Sans 3", 600),
    Face("SourceSerif4-Regular.woff2", "Source Serif 4", 400),
    Face("SourceSerif4-Semibold.woff2", "Source Serif 4", 600),
    Face("SourceSerif4Display-Semibold.woff2", "Source Serif 4 Display", 600),
)
# Letters that every page may need, so that most pages share one cut: ASCII, Latin-1, and what
# numbers, units and French typography add.
_USUAL = frozenset(
    [chr(code) for code in (*range(0x20, 0x7F), *range(0xA0, 0x100))]
    + list("ŒœŸ–—‘’“”…•†‡\u2009\u202f\u2007−≤≥≈×·₂₄²³½¼¾⅓⅔€→")
)


def faces_css(addresses: dict[str, str]) -> str:
    """Return the @font-face rules; ``addresses`` gives each file's address."""
    return "\n".join(
        f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; '
        f"font-style: {face.style}; src: url({addresses[face.file]}) format('woff2'); }}"
        for face in FACES
        if face.file in addresses
    )


def packaged() -> dict[str, str]:
    """Return the file address of every font that ships."""
    folder = templates_folder() / "fonts"
    return {face.file: (folder / face.file).resolve().as_uri() for face in FACES}


def cut_to(text: str) -> dict[str, str]:
    """Return every font, cut to the letters of ``text`` and the usual ones, as ``data:`` addresses."""
    rare = frozenset(text) - _USUAL - frozenset("\n\r\t")
    return {face.file: _cut(face.file, rare) for face in FACES}


@lru_cache(maxsize=256)
def _cut(file: str, rare: frozenset[str]) -> str:
    from fontTools import subset

    options = subset.Options(
        flavor="woff2", layout_features=["kern", "liga", "tnum", "lnum", "ccmp"]
    )
    font = subset.load_font(str(templates_folder() / "fonts" / file), options)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=sorted(ord(letter) for letter in _USUAL | rare))
    cutter.subset(font)
    # The time of writing is no part of a font: the same letters give the same bytes.
    font.recalcTimestamp = False
    out = io.BytesIO()
    font.flavor = "woff2"
    font.save(out)
    return f"data:font/woff2;base64,{base64.b64encode(out.getvalue()).decode('ascii')}"
