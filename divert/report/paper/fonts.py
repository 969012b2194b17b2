"""The fonts that ship with the pages: whole, and cut to the usual letters so that nothing is cut anew.

To cut and to unpack a font takes longer than to set a page. So each also lies in ``fonts/usual/``, cut
to the letters that nearly every page does with: packed for the HTML, unpacked for the PDF.
``python -m divert.report.paper.fonts`` writes them again. A page with a rarer letter takes the whole
fonts.
"""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

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
_ON_SCREEN = ["kern", "liga", "tnum", "lnum", "ccmp"]  # features of the type that the HTML keeps
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
        f"font-style: {face.style}; src: url({address}) format('{_kind(address)}'); }}"
        for face in FACES
        if (address := addresses.get(face.file))
    )


def _kind(address: str) -> str:
    return "opentype" if address.endswith(_UNPACKED) else "woff2"


def packaged() -> dict[str, str]:
    """Return the file address of every font that ships, whole."""
    return {face.file: (_folder() / face.file).resolve().as_uri() for face in FACES}


def for_paper(rare: bool) -> dict[str, str]:
    """Return the file address of every font for a PDF; whole ones where it holds ``rare`` letters."""
    if rare:
        return packaged()
    return {face.file: _usual(face.file, _UNPACKED).resolve().as_uri() for face in FACES}


def cut_to(text: str) -> dict[str, str]:
    """Return every font, cut to the letters of ``text`` and the usual ones, as ``data:`` addresses."""
    rare = rare_letters(text)
    return {face.file: _cut(face.file, rare) if rare else _ready(face.file) for face in FACES}


def rare_letters(text: str) -> frozenset[str]:
    """Return the letters of a text that the fonts in ``fonts/usual/`` do not have."""
    return frozenset(text) - _USUAL - frozenset("\n\r\t")


def _folder() -> Path:
    return templates_folder() / "fonts"


_UNPACKED = ".otf"


def _usual(file: str, ending: str) -> Path:
    return _folder() / "usual" / f"{Path(file).stem}{ending}"


@lru_cache
def _ready(file: str) -> str:
    return _address(_usual(file, ".woff2").read_bytes())


def _address(font: bytes) -> str:
    return f"data:font/woff2;base64,{base64.b64encode(font).decode('ascii')}"


@lru_cache(maxsize=256)
def _cut(file: str, rare: frozenset[str]) -> str:
    return _address(_cut_file(file, _USUAL | rare, _ON_SCREEN))


def _cut_file(
    file: str, letters: frozenset[str], features: list[str], packed: bool = True
) -> bytes:
    from fontTools import subset

    options = subset.Options(layout_features=features)
    font = subset.load_font(str(_folder() / file), options)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=sorted(ord(letter) for letter in letters))
    cutter.subset(font)
    # The time of writing is no part of a font: the same letters give the same bytes.
    font.recalcTimestamp = False
    out = io.BytesIO()
    font.flavor = "woff2" if packed else None
    font.save(out)
    return out.getvalue()


def write_usual() -> None:
    """Write every font cut to the usual letters: packed for the HTML, unpacked for the PDF."""
    for face in FACES:
        _usual(face.file, ".woff2").write_bytes(_cut_file(face.file, _USUAL, _ON_SCREEN))
        _usual(face.file, _UNPACKED).write_bytes(_cut_file(face.file, _USUAL, ["*"], packed=False))


if __name__ == "__main__":
    write_usual()
