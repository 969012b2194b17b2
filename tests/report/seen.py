"""What an eye would find wrong on a finished page: words that meet, leave the page, lack ink or font."""

from __future__ import annotations

import io

import pikepdf
import pypdfium2

OURS = ("Source-Sans-3", "Source-Serif-4")
_SIDE, _TOP, _FOOT = 48.0, 20.0, 20.0  # points: 18 mm at the sides, less what a "j" may hang out
_SCALE = 3.0

Box = tuple[float, float, float, float]  # left, bottom, right, top in points


def faults(pdf: bytes) -> list[str]:
    """Return every fault found, page by page; empty where the pages are sound."""
    found = [f"font: {name}" for name in strange_fonts(pdf)]
    document = pypdfium2.PdfDocument(pdf)
    for number, page in enumerate(document, start=1):
        width, height = page.get_size()
        text = page.get_textpage()
        boxes = [text.get_rect(i) for i in range(text.count_rects())]
        words = [text.get_text_bounded(*box).strip() for box in boxes]
        found += [f"page {number}, clipped: {letter}" for letter in _without_ink(page, text)]
        for box, word in zip(boxes, words, strict=True):
            left, bottom, right, top = box
            if left < _SIDE or right > width - _SIDE or bottom < _FOOT or top > height - _TOP:
                found.append(f"page {number}, over the margin: {word}")
        for i, one in enumerate(boxes):
            for j in range(i + 1, len(boxes)):
                if _shared(one, boxes[j]) >= 0.25:
                    found.append(f"page {number}, overlap: {words[i]} / {words[j]}")
    return found


def strange_fonts(pdf: bytes) -> list[str]:
    """Return the fonts of a PDF that are not embedded or are not those that ship."""
    found = []
    with pikepdf.open(io.BytesIO(pdf)) as document:
        for thing in document.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/FontDescriptor":
                name = str(thing.FontName).lstrip("/").split("+")[-1]
                embedded = "/FontFile2" in thing or "/FontFile3" in thing
                if not embedded or not name.startswith(OURS):
                    found.append(name)
    return found


def _without_ink(page: pypdfium2.PdfPage, text: pypdfium2.PdfTextPage) -> list[str]:
    """Return the letters that stand in the text and leave no trace on the page."""
    picture = page.render(scale=_SCALE).to_pil().convert("L")
    height = page.get_height()
    found = []
    for i, letter in enumerate(text.get_text_range()):
        if not letter.isalnum():
            continue
        left, bottom, right, top = text.get_charbox(i)
        if right - left < 1 or top - bottom < 1:
            continue
        frame = (left, height - top, right, height - bottom)
        dark, light = picture.crop(tuple(round(_SCALE * v) for v in frame)).getextrema()
        if light - dark < 40:
            found.append(letter)
    return found


def _shared(one: Box, other: Box) -> float:
    """Return the shared area of two boxes as a share of the smaller."""
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    if wide <= 0 or high <= 0:
        return 0.0
    sizes = [(b[2] - b[0]) * (b[3] - b[1]) for b in (one, other)]
    return wide * high / max(min(sizes), 0.01)
