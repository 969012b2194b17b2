"""Names that run from right to left, set in the order they are seen: drawings are set letter by letter."""

from __future__ import annotations

import re
import unicodedata
from html import escape, unescape

_TEXT = re.compile(r"(<text\b[^>]*>)([^<]*)(</text>)")


def runs_left(text: str) -> bool:
    """Return whether a text holds letters that run from right to left."""
    return any(unicodedata.bidirectional(c) in ("R", "AL") for c in text)


def in_visual_order(page: str) -> str:
    """Return a page whose drawings hold such texts joined and in the order they are seen.

    The alternative text of a drawing keeps the order in which they are read (Unicode Standard Annex 9).
    """
    return _TEXT.sub(_set, page) if runs_left(page) else page


def _set(found: re.Match[str]) -> str:
    text = unescape(found[2])
    if not runs_left(text):
        return found[0]
    from arabic_reshaper import reshape
    from bidi import get_display

    return f"{found[1]}{escape(str(get_display(reshape(text))), quote=False)}{found[3]}"
