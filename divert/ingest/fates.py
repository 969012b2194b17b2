"""Where material went before, in a crew's own words.

What is written and not understood is never claimed: it may be anything but a landfill.
"""

from __future__ import annotations

import re
from functools import lru_cache

from divert.core.names import plain
from divert.ingest.cells import mark
from divert.ingest.known import Known
from divert.ingest.lexicon import words

NOT_STATED = "not stated"
_DENIED = re.compile(r"\b(?:not?|never|instead|non|pas|jamais|ni)\b")


def fate_of(text: str, known: Known) -> str:
    """Return the fate a cell names, "not stated" where it names none we know, "" where it says nothing."""
    said = mark.read_cell(text)
    if said is not None:
        return NOT_STATED if said == "unknown" else ""
    if not text:
        return ""
    return known.befores.find(text) or _by_words(text) or NOT_STATED


def _by_words(text: str) -> str:
    """Return the one fate that the words of a phrase name; none where it denies or names two."""
    said = plain(text)
    if _first_words().isdisjoint(said.split()):
        return ""
    flat = f" {said} "
    found = {fate for fate, group in _parts() if any(f" {word} " in flat for word in group)}
    return found.pop() if len(found) == 1 and not _DENIED.search(flat) else ""


@lru_cache
def _first_words() -> frozenset[str]:
    return frozenset(word.split()[0] for _, group in _parts() for word in group)


@lru_cache
def _parts() -> tuple[tuple[str, frozenset[str]], ...]:
    lists = words("before_parts")
    return tuple((fate, frozenset(plain(w) for w in group)) for fate, group in lists.items())
