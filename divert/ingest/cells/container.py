"""Container words inside a text: totes, 64 gal carts, seaux, whatever the site calls its own."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from divert.ingest.lexicon import bare, beginnings, words

_PLURAL = r"(?:e?s|x)?"
_FULL_OF = r"(?:fuls?|[ -]?loads?)?"  # "bucketfuls", "barrow loads"


def _in_any_number(word: str) -> str:
    """Return a pattern for a word in the singular and the plural: "caddy", "caddies"."""
    if word.endswith("y") and len(word) > 3:
        return rf"{re.escape(word[:-1])}(?:y|ys|ies)"
    return re.escape(word) + _PLURAL


def singular(word: str) -> str:
    """Return a bare word without its plural ending, English or French."""
    for ending, least in (("eaux", 5), ("xes", 4), ("ches", 6), ("shes", 6)):
        if word.endswith(ending) and len(word) >= least:
            return word[:-1] if ending == "eaux" else word[:-2]
    if word.endswith("ies") and len(word) > 5:
        return word[:-3] + "y"
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


@lru_cache(maxsize=65536)
def key(text: str) -> str:
    """Return a container's name for comparing: bare, no punctuation, every word singular."""
    return " ".join(singular(w) for w in re.sub(r"[^\w]+", " ", bare(text)).split())


@dataclass(frozen=True)
class Containers:
    """The containers a text may name: the site's own by every spelling, then words in general.

    ``spellings`` gives each name's other spellings, ``sizes_m3`` each name's brim-full volumes.
    """

    spellings: Mapping[str, Iterable[str]] = field(default_factory=dict)
    sizes_m3: Mapping[str, tuple[float, ...]] = field(default_factory=dict)

    @cached_property
    def _own(self) -> dict[str, str]:
        own: dict[str, str] = {}
        for name, others in self.spellings.items():
            for spelling in (name, *others):
                own.setdefault(key(spelling), name)
                own.setdefault(key(f"{spelling}s"), name)  # "wheelies" leaves "wheely"
        return own

    @cached_property
    def _general(self) -> dict[str, str]:
        return {key(w): w for w in words("containers")["words"]}

    @cached_property
    def _pattern(self) -> re.Pattern[str]:
        known = sorted({*self._own, *self._general} - {""}, key=lambda k: (-len(k), k))
        each = (r"[\W_]+".join(map(_in_any_number, k.split())) for k in known)
        return re.compile(rf"(?P<name>{'|'.join(each)}){_FULL_OF}(?!\w)")

    def may_begin(self, word: str) -> bool:
        """Return whether a container's name may begin with a bare word."""
        return word.startswith(self._first)

    @cached_property
    def _first(self) -> tuple[str, ...]:
        first = beginnings({*self._own, *self._general})
        return tuple(f[:-1] if f.endswith("y") else f for f in first)  # "caddies"

    @cached_property
    def _near(self) -> dict[str, bool]:
        return {}

    def near_miss(self, word: str) -> bool:
        """Return whether a word is all but a container's name: a slip of the pen, not a note."""
        if word not in self._near:
            self._near[word] = self._is_near(word)
        return self._near[word]

    def _is_near(self, word: str) -> bool:
        known = [k for k in {*self._own, *self._general} if len(k) > 2]
        if difflib.get_close_matches(key(word), known, n=1, cutoff=0.75):
            return True
        letters = [
            "".join(sorted(k)) for k in known if len(k) > 3
        ]  # "pialls": letters changed about
        return bool(
            len(word) > 3
            and difflib.get_close_matches("".join(sorted(key(word))), letters, n=1, cutoff=0.88)
        )

    def find(self, text: str) -> str | None:
        """Return the site's own name for a whole text, or None where it names none of them."""
        return self._own.get(key(text))

    def take(self, text: str, at: int) -> tuple[str, int, bool] | None:
        """Return (name, place after it, whether plural) of the container that stands at a place."""
        at += len(text[at:]) - len(text[at:].lstrip())
        match = self._pattern.match(text, at)
        if match is None:
            return None
        found = key(match["name"])
        name = self._own.get(found) or self._general.get(found)
        if name is None:
            return None
        plural = re.sub(r"[^\w]+", " ", match[0]).split()[-1] != found.split()[-1]
        plural = match[0].endswith("s") if match["name"] != match[0] else plural
        return name, match.end(), plural

    def nearest(self, word: str) -> str | None:
        """Return the site's own name whose spelling is all but a word, or None."""
        letters = {"".join(sorted(k)): name for k, name in self._own.items() if len(k) > 3}
        close = difflib.get_close_matches(key(word), self._own, n=1, cutoff=0.75)
        if close:
            return self._own[close[0]]
        turned = "".join(sorted(key(word)))  # "pialls": letters changed about
        close = difflib.get_close_matches(turned, letters, n=1, cutoff=0.88)
        return letters[close[0]] if close else None

    def is_own(self, name: str) -> bool:
        """Return whether a name is one of the site's own."""
        return name in self.spellings

    def of_size(self, volume_m3: float, word: str | None = None) -> str | None:
        """Return the site's one container that holds this much (within 2 %), or None."""
        fits = [
            name
            for name, sizes in self.sizes_m3.items()
            if any(abs(size - volume_m3) <= 0.02 * size for size in sizes)
        ]
        if word is not None and word in fits:
            return word
        exact = [
            name
            for name in fits
            if any(abs(size - volume_m3) <= 1e-3 * size for size in self.sizes_m3[name])
        ]  # a cart of 64 gal (242 L) holds all but what a bin of 240 L does
        fits = exact or fits
        return fits[0] if len(fits) == 1 else None
