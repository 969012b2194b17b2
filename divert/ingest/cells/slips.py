"""Slips of the pen, and words that make an amount unsure: none of them is read as another amount."""

from __future__ import annotations

import difflib
import re
from functools import lru_cache

from divert.core.units import AMBIGUOUS, SPELLINGS
from divert.ingest.cells.container import Containers
from divert.ingest.lexicon import bare, words

# "<5 lb", "up to 5 lb": less than what is written, nobody knows how much less.
_AT_MOST = re.compile(
    r"^\s*(?:[<≤]|(?:less|fewer|lower|moins)(?: than| de)?\b|under\b|below\b|max\b|maximum\b|up to\b"
    r"|at most\b|jusqu'a\b|au plus\b|not even\b|almost nothing\b)"
)
# "3 (one half full)", "2 totes, 1 half": some of them are less full than the others.
_ONE_OF_THEM = re.compile(
    r"^\D*\d.*[(,;:]\s*(?:and |et |with |avec )?(?:one|1|un|une)\s+(?:a |is |was |only |of them )?"
    r"(?:half|quarter|third|demi|moiti|quart|tiers)"
)


def is_unsure(text: str) -> bool:
    """Return whether an evened, bare text says that its amount is not the one written."""
    return bool(
        _AT_MOST.match(text)
        or (_ONE_OF_THEM.match(text) and not re.match(r"(?:1|one|a|un|une)\b", text))
        or re.match(r"[-+]\s*[-+]|\||\d*\|", text)  # "|25" may be 125
        or re.search(
            r"\.\.\d|\?\?|\d\s*-\s*$|\d\s*\++\s*$|\d.*\b(?:or|ou)\b (?:maybe |about |environ )?\d",
            text,
        )  # "20 lb or 30"
    )


def refuse_slips(text: str, end: int, containers: Containers) -> None:
    """Raise ValueError where what follows a bare number says that it is not the whole of it.

    "3O.5" holds a letter for a nought, "2 totse" counts containers and "5 kgg" was weighed: none is
    a number with a note behind it, and 3, 2 or 5 of the column's unit would be a wrong entry.
    """
    if re.compile(r"[^\W\d_]").match(text, end):
        raise ValueError(text)
    word = re.compile(r"\s+([^\W\d_]{2,})(?![^\W_])").match(text, end)
    if word and (near_unit(word[1]) or (len(word[1]) > 2 and containers.near_miss(word[1]))):
        raise ValueError(text)


@lru_cache
def unit_names() -> tuple[str, ...]:
    """Return the names of units, for comparing."""
    known = {bare(u) for u in (*SPELLINGS, *AMBIGUOUS, *words("units")["same"])}
    return tuple(sorted(u for u in known if len(u) > 1 and u.isalpha()))


@lru_cache(maxsize=4096)
def near_unit(word: str) -> bool:
    """Return whether a bare word is all but a unit's name: "kgg", "ib", "poundss"."""
    if len(word) == 2:  # "ib", "gk": one letter off, or turned round
        return any(
            word != u and (word == u[::-1] or word[0] == u[0] or word[1] == u[1])
            for u in ("lb", "kg")
        )
    return bool(difflib.get_close_matches(word, unit_names(), n=1, cutoff=0.8))
