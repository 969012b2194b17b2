"""The words of headings: which name fields, which say nothing, how they are compared."""

from __future__ import annotations

import re
from functools import lru_cache

from divert.core.names import plain
from divert.ingest.cells.container import singular
from divert.ingest.lexicon import words


@lru_cache
def phrases() -> tuple[dict[str, str], frozenset[str]]:
    """Return the field that each known phrase names, and the words that name nothing."""
    fields = {
        norm(phrase): field
        for field, group in words("headings")["field"].items()
        for phrase in group
    }
    return fields, listed("headings", "filler", "words")


@lru_cache
def listed(name: str, *keys: str) -> frozenset[str]:
    """Return the phrases that stand under some keys of a word list, as :func:`norm` has them."""
    found = words(name)
    for key in keys:
        found = found[key]
    return frozenset(map(norm, found))


_SHORT = {"wt": "weight", "wgt": "weight", "vol": "volume", "amt": "amount", "recd": "received"}


@lru_cache(maxsize=16384)
def norm(text: str) -> str:
    """Return a heading's words for comparing."""
    tokens = plain(text.replace("_", " ").replace("#", " number ")).split()
    return " ".join(_SHORT.get(w, singular(w)) for w in tokens)


WORD = re.compile(r"[^\s\-–—,:;/|().\[\]?!*]+")


def less_filler(tokens: list[str]) -> list[str]:
    """Return words without those at either end that name nothing: "de résidus de cuisine" less "de"."""
    named = [i for i, t in enumerate(tokens) if norm(t) not in phrases()[1]]
    return tokens[named[0] : named[-1] + 1] if named else []
