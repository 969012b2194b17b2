"""The words by which a name says what a table holds: "Harvest 2025", "Fuel log", "Récoltes"."""

from __future__ import annotations

import re
from functools import lru_cache

from divert.ingest.known import Known
from divert.ingest.lexicon import words
from divert.ingest.tables.headings import norm


@lru_cache
def _kind_patterns() -> tuple[tuple[str, frozenset[str], int], ...]:
    lists = words("kinds")["words"]
    return tuple(
        (kind, frozenset(norm(w) for w in lists[kind]), max(len(w.split()) for w in lists[kind]))
        for kind in words("kinds")["order"]
    )


def kind_said(name: str, known: Known) -> str:
    """Return the kind a name speaks of, known sources and feedstock in it aside.

    "Harvest Table Bistro" and "spent grain" say none; "Castings" names what a site makes.
    """
    left = known.materials.without(known.sources.without(name), but=known.products)
    return kind_of(left)


@lru_cache(maxsize=4096)
def kind_of(name: str) -> str:
    """Return the kind of entries a name speaks of, by its longest known phrase; "" where none."""
    tokens = [t for t in norm(re.sub(r"\d+", " ", name)).split() if t]
    best: tuple[int, int, str] = (0, 0, "")
    for rank, (kind, phrases, longest) in enumerate(_kind_patterns()):
        for size in range(min(longest, len(tokens)), 0, -1):
            if any(
                " ".join(tokens[i : i + size]) in phrases for i in range(len(tokens) - size + 1)
            ):
                best = max(best, (size, -rank, kind))
                break
    bare_tokens = " ".join(t for t in tokens if t not in _month_words())
    if bare_tokens in {norm(w) for w in words("kinds")["nothing_whole"]}:
        return "nothing"
    return best[2]


def may_log(name: str, known: Known) -> bool:
    """Return whether a sheet of this name may hold entries: "Calendar" may, "Summary" may not."""
    if kind_said(name, known) != "nothing":
        return True
    left = known.materials.without(known.sources.without(name), but=known.products)
    tokens = [t for t in norm(re.sub(r"\d+", " ", left)).split() if t not in _month_words()]
    return " ".join(tokens) in {norm(w) for w in words("kinds")["may_log"]}


@lru_cache
def _month_words() -> frozenset[str]:
    """Return the words for months, for comparing."""
    return frozenset(norm(w) for group in words("months")["months"].values() for w in group)


def is_whole_kind(name: str, kind: str) -> bool:
    """Return whether a name, dates aside, is a phrase for a kind and nothing more."""
    tokens = [t for t in norm(re.sub(r"\d+", " ", name)).split() if t not in _month_words()]
    return " ".join(tokens) in {norm(w) for w in words("kinds")["words"][kind]}
