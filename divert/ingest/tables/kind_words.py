"""The words by which a name says what a table holds: "Harvest 2025", "Fuel log", "Récoltes"."""

from __future__ import annotations

import re
from functools import lru_cache

from divert.ingest.cells.date import month_words
from divert.ingest.known import Known
from divert.ingest.lexicon import words
from divert.ingest.tables.heading_words import listed, norm

# Kinds of sheets whose amounts are what was thrown out: they took away from what came in.
THROWN_OUT = ("removed", "residue", "rejected", "disposed")


@lru_cache
def _kind_patterns() -> tuple[tuple[str, frozenset[str], int], ...]:
    lists = words("kinds")["words"]
    return tuple(
        (kind, listed("kinds", "words", kind), max(len(w.split()) for w in lists[kind]))
        for kind in words("kinds")["order"]
    )


def kind_said(name: str, known: Known) -> str:
    """Return the kind a name speaks of, known sources and feedstock in it aside.

    "Harvest Table Bistro" and "spent grain" say none; "Castings" names what a site makes.
    """
    whole = known.materials.find(name)
    if whole and whole not in known.products:
        return ""  # "florist waste" is what it is called, whosever it is
    return kind_of(_less_names(name, known))


def _less_names(name: str, known: Known) -> str:
    return known.materials.without(known.sources.without(name), but=known.products)


@lru_cache(maxsize=4096)
def kind_of(name: str) -> str:
    """Return the kind of entries a name speaks of, by its longest known phrase; "" where none."""
    tokens = _tokens(name)
    best: tuple[int, int, str] = (0, 0, "")
    for rank, (kind, phrases, longest) in enumerate(_kind_patterns()):
        for size in range(min(longest, len(tokens)), 0, -1):
            if any(
                " ".join(tokens[i : i + size]) in phrases for i in range(len(tokens) - size + 1)
            ):
                best = max(best, (size, -rank, kind))
                break
    if _undated(name) in listed("kinds", "nothing_whole"):
        return "nothing"
    return best[2]


def may_log(name: str, known: Known) -> bool:
    """Return whether a sheet of this name may hold entries: "Calendar" may, "Summary" may not."""
    if kind_said(name, known) != "nothing":
        return True
    return _undated(_less_names(name, known)) in listed("kinds", "may_log")


def _tokens(name: str) -> list[str]:
    """Return a name's words for comparing, without its numbers."""
    return norm(re.sub(r"\d+", " ", name)).split()


def _undated(name: str) -> str:
    """Return a name for comparing, without its numbers and months."""
    return " ".join(t for t in _tokens(name) if t not in _month_words())


@lru_cache
def _month_words() -> frozenset[str]:
    """Return the words for months, for comparing."""
    return frozenset(map(norm, month_words()))


def is_whole_kind(name: str, kind: str) -> bool:
    """Return whether a name, dates aside, is a phrase for a kind and nothing more."""
    return _undated(name) in listed("kinds", "words", kind)
