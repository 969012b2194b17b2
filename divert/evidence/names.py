"""Names of sources taken out of what leaves the house, however they are spelt there."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from divert.core.names import plain

_SHORTEST = 3  # a spelling shorter than this is no name that could give anyone away in a text
_SHORTEST_FIRST = 5
# What a source may be called for short and nobody is known by (our own list, English and French).
_ANY_SUCH_PLACE = frozenset(
    plain(word)
    for word in (
        "bakery", "bar", "bistro", "brewery", "café", "canteen", "church", "clinic", "college",
        "coop", "co-op", "dairy", "deli", "farm", "florist", "garden", "grocer", "grocery", "hall",
        "hospital", "hotel", "house", "juice bar", "kitchen", "library", "market", "neighbor",
        "neighbour", "nursery", "office", "park", "pub", "restaurant", "roastery", "school", "shop",
        "stable", "store", "university", "yard", "boulangerie", "brasserie", "cantine", "cuisine",
        "école", "écurie", "église", "ferme", "fleuriste", "hôpital", "jardin", "mairie", "marché",
        "voisin",
    )
)  # fmt: skip


@dataclass(frozen=True)
class NameHider:
    """Puts other words for names: ``words`` by the name as :func:`divert.core.names.plain` spells it."""

    words: Mapping[str, str] = field(default_factory=dict)
    pattern: re.Pattern[str] | None = None

    def __bool__(self) -> bool:
        return self.pattern is not None

    def cut(self, text: str) -> str:
        """Return a text with every name replaced."""
        if self.pattern is None or not text:
            return text
        return self.pattern.sub(lambda match: self.words.get(_key(match[0]), "…"), text)


def short_names(name: str, ordinary: Iterable[str]) -> tuple[str, ...]:
    """Return what else a source's name is likely to be cut to: its first word, if that is a name.

    ``ordinary`` are words that mean something else on the site, such as those of its materials.
    """
    first, _, rest = name.strip().partition(" ")
    known = {plain(word) for word in ordinary} | _ANY_SUCH_PLACE
    if not rest or len(first) < _SHORTEST_FIRST or not first[0].isupper() or plain(first) in known:
        return ()
    return (first,)


def in_text(hidden: Mapping[str, str]) -> NameHider:
    """Return what takes names out of free text, such as the name of a file.

    ``hidden``: what stands for each spelling. Case, accents, how they are encoded, and what stands
    between words make no other name ("Lantern Row Café", "lantern_row-cafe").
    """
    spellings = {s: words for s, words in hidden.items() if len(s) >= _SHORTEST and plain(s)}
    words = {_key(s): put for s, put in reversed(list(spellings.items()))}
    return NameHider(words, _pattern(tuple(spellings)))


def _key(name: str) -> str:
    return plain(name.replace("_", " "))


def naming(spellings: Iterable[str]) -> Callable[[str], bool]:
    """Return a test of whether a text names one of some sources.

    A word for any place of a kind ("school gardens") names nobody.
    """
    telling = (s for s in spellings if len(s) >= _SHORTEST and plain(s) not in _ANY_SUCH_PLACE)
    pattern = _pattern(tuple(telling))
    return lambda text: pattern is not None and pattern.search(text) is not None


@lru_cache
def _pattern(spellings: tuple[str, ...]) -> re.Pattern[str] | None:
    """Return a pattern that finds any of some spellings as whole words, the longest first."""
    forms: dict[str, None] = {}
    for spelling in spellings:
        composed = unicodedata.normalize("NFC", spelling)
        apart = unicodedata.normalize("NFD", spelling)
        bare = "".join(c for c in apart if not unicodedata.combining(c))
        for form in (spelling, composed, apart, bare):
            pieces = [re.escape(piece) for piece in re.split(r"[\W_]+", form) if piece]
            # A combining accent is no letter to \\W: keep it with the letter it belongs to.
            if form is apart and apart != composed:
                pieces = [re.escape(piece) for piece in re.split(r"[\s_-]+", form) if piece]
            if pieces:
                forms.setdefault(r"[\W_]+".join(pieces))
    if not forms:
        return None
    longest_first = sorted(forms, key=len, reverse=True)
    whole = r"(?<![^\W_])(?:" + "|".join(longest_first) + r")(?![^\W_])"
    return re.compile(whole, re.IGNORECASE)
