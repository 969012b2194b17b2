"""What a reader of the finished PDF sees: the words of each page, a fingerprint of its drawing."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

# What belongs to the page's place in the file, or to its tags, and not to its drawing.
_NOT_DRAWN = frozenset(
    {"/Parent", "/P", "/StructParents", "/StructParent", "/Tabs", "/Metadata", "/PieceInfo",
     "/LastModified", "/Length", "/Filter", "/DecodeParms"}
)  # fmt: skip


def page_words(pdf: bytes) -> tuple[str, ...]:
    """Return the text of each page, as it can be read out of the PDF, with plain spaces."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    try:
        return tuple(even(page.get_textpage().get_text_range()) for page in document)
    finally:
        document.close()


def even(text: str) -> str:
    """Return text with every run of white space one space, and compatibility forms undone."""
    # U+FFFE and U+0002 are how a hyphen at the end of a line is handed over.
    plain = unicodedata.normalize("NFKC", re.sub("[\ufffe\x02\u00ad]", "", text))
    return " ".join(plain.split())


def page_drawings(pdf: bytes) -> tuple[str, ...]:
    """Return a SHA-256 of what each page draws: its content, fonts, pictures and annotations.

    The same page saved again by another program that leaves it alone has the same fingerprint.
    """
    import pikepdf

    with pikepdf.open(BytesIO(pdf)) as document:
        seen: dict[tuple[int, int], bytes] = {}
        return tuple(digest(page.obj, seen).hex() for page in document.pages)


def _content(stream: Any) -> bytes:
    """Return what a stream holds; a photograph (JPEG) as it is stored, for it has no one unpacking."""
    import pikepdf

    try:
        return bytes(stream.read_bytes())
    except pikepdf.PdfError:
        return bytes(stream.read_raw_bytes())


def digest(thing: Any, seen: dict[tuple[int, int], bytes]) -> bytes:
    """Return a SHA-256 of all that a part of a PDF leads to; ``seen`` what is known already."""
    import pikepdf

    key = getattr(thing, "objgen", (0, 0))
    if key != (0, 0):
        if key in seen:
            return seen[key]
        seen[key] = b"round again"  # a loop back to here adds nothing new
    hashed = hashlib.sha256()
    if isinstance(thing, pikepdf.Stream):
        hashed.update(b"stream")
        hashed.update(_content(thing))
    if isinstance(thing, pikepdf.Dictionary | pikepdf.Stream):
        for name in sorted(str(k) for k in thing.keys()):  # noqa: SIM118 - not a dict
            if name not in _NOT_DRAWN:
                hashed.update(name.encode() + digest(thing[name], seen))
    elif isinstance(thing, pikepdf.Array):
        for item in thing:
            hashed.update(digest(item, seen))
    elif not isinstance(thing, pikepdf.Stream):
        hashed.update(f"{type(thing).__name__} {thing!s}".encode())
    if key != (0, 0):
        seen[key] = hashed.digest()
    return hashed.digest()


@dataclass(frozen=True, slots=True)
class Place:
    """Where a text stands: the page (from 0) and the span of its evened words."""

    page: int
    start: int
    end: int


def find_places(pages: Sequence[str], texts: Iterable[str]) -> list[Place | None]:
    """Return where each printed text stands, in the order of the texts; None where it does not.

    A text found several times is taken at the first place after the one before it, so that texts
    listed in the order of the page each get their own place.
    """
    claimed: set[tuple[int, int]] = set()
    cursor = (0, 0)
    places: list[Place | None] = []
    known: dict[str, list[Place]] = {}
    for text in texts:
        wanted = even(text)
        if wanted not in known:
            known[wanted] = _everywhere(pages, wanted)
        free = [p for p in known[wanted] if (p.page, p.start) not in claimed]
        after = [p for p in free if (p.page, p.start) >= cursor]
        place = next(iter(after or free or known[wanted]), None)
        if place is not None:
            claimed.add((place.page, place.start))
            if after:
                cursor = (place.page, place.end)
        places.append(place)
    return places


def _everywhere(pages: Sequence[str], wanted: str) -> list[Place]:
    if not wanted:
        return []
    # A figure must stand alone: "12" is not found inside "2,012" or "12.5".
    alone = re.compile(rf"(?<![\d])(?<!\d[.,]){re.escape(wanted)}(?![.,]?\d)")
    return [
        Place(number, match.start(), match.end())
        for number, page in enumerate(pages)
        for match in alone.finditer(page)
    ]
