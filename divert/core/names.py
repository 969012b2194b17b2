"""Names as crews write them: one spelling inside, the nearest known one as a hint."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable, Mapping
from functools import lru_cache


@lru_cache(maxsize=65536)
def plain(text: str) -> str:
    """Return a name for comparing: no case, accents, punctuation, doubled spaces or plural s."""
    letters = text.casefold()
    if not letters.isascii():
        decomposed = unicodedata.normalize("NFKD", letters)
        letters = "".join(c for c in decomposed if not unicodedata.combining(c))
    words = re.sub(r"[^\w]+", " ", letters).split()
    return " ".join(w[:-1] if len(w) > 3 and w.endswith("s") and w[-2] != "s" else w for w in words)


_PARTS = re.compile(r"[(\[,;:+/–—]|\s-\s|\s&\s|\b(?:and|with|et|avec)\b")


class NameBook:
    """Known names with their other spellings; finds the one meant, or the nearest to ask about."""

    def __init__(self, spellings: Mapping[str, Iterable[str]]) -> None:
        self._known: dict[str, str] = {}
        for name, others in spellings.items():
            for spelling in (name, *others):
                self._known.setdefault(plain(spelling), name)

    def find(self, text: str) -> str | None:
        """Return the canonical name, or None where the text is no known spelling."""
        return self._known.get(plain(text))

    def nearest(self, text: str) -> str | None:
        """Return the canonical name whose spelling is closest, or that a part of the text is."""
        for part in _PARTS.split(text):
            if part and (found := self.find(part)):
                return found
        close = difflib.get_close_matches(plain(text), self._known, n=1, cutoff=0.72)
        return self._known[close[0]] if close else None
