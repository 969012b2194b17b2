"""Unit words inside a text: lb, kg, cu. yd., gal, tonne. A bare "ton" or "gal" follows site.toml."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from divert.core.units import AMBIGUOUS, SPELLINGS, UnknownUnit, is_ambiguous, unit_factor
from divert.ingest.lexicon import bare, beginnings, words


@dataclass(frozen=True, slots=True)
class Meaning:
    """What the site means by a bare "ton" and a bare "gallon"."""

    ton: str = "short"
    gallon: str = "us"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit found in a text: ``factor`` kg or m³ in one; ``asked`` the bare word site.toml settled."""

    factor: float
    dimension: str
    end: int = 0
    asked: str = ""
    name: str = ""


def _parts(spelling: str) -> list[str]:
    return re.findall(r"[^\s.]+", bare(spelling))


@lru_cache
def _known() -> tuple[re.Pattern[str], dict[str, str]]:
    same = words("units")["same"]
    meant = {_key(k): k for k in (*SPELLINGS, *AMBIGUOUS)} | {_key(k): v for k, v in same.items()}
    ordered = sorted(map(bare, (*SPELLINGS, *AMBIGUOUS, *same)), key=lambda k: (-len(k), k))
    each = (r"[\s.]*".join(map(re.escape, _parts(k))) for k in dict.fromkeys(ordered))
    return re.compile(rf"(?:{'|'.join(each)})(?![^\W_])\.?"), meant


def first_words() -> frozenset[str]:
    """Return the words that a unit may begin with, their parts written apart or together."""
    spelled = map(_parts, (*SPELLINGS, *AMBIGUOUS, *words("units")["same"], *_HUNDREDWEIGHTS))
    return beginnings("".join(parts[:n]) for parts in spelled for n in range(1, len(parts) + 1))


def _key(spelling: str) -> str:
    return re.sub(r"[\s.]+", "", bare(spelling))


@lru_cache
def _unsized() -> re.Pattern[str]:
    joined = "|".join(
        re.escape(w) for w in sorted(words("units")["unsized"]["words"], key=len, reverse=True)
    )
    return re.compile(rf"(?:{joined})(?!\w)")


def take_unit(text: str, at: int, meaning: Meaning) -> Unit | None:
    """Return the unit word that stands at a place in an evened, bare text (spaces before it skipped)."""
    at += len(text[at:]) - len(text[at:].lstrip(" -"))
    pattern, meant = _known()
    match = pattern.match(text, at)
    if match is None:
        return _hundredweight(text, at, meaning)
    return _sized(meant[_key(match[0])], match.end(), meaning)


_HUNDREDWEIGHTS = ("cwt", "cwts", "hundredweight", "hundredweights")
_HUNDREDWEIGHT = re.compile(rf"(?:{'|'.join(_HUNDREDWEIGHTS)})(?!\w)\.?")


def _hundredweight(text: str, at: int, meaning: Meaning) -> Unit | None:
    """Return a hundredweight, of which the site's ton holds 20: 100 lb or 112 lb; a tonne holds none.

    NIST Handbook 44, Appendix C: a hundredweight is 100 lb, a gross or long one 112 lb.
    """
    match = _HUNDREDWEIGHT.match(text, at)
    if match is None or meaning.ton not in ("short", "long"):
        return None
    factor, dimension = unit_factor("ton", ton=meaning.ton, gallon=meaning.gallon)
    return Unit(factor / 20, dimension, match.end(), "hundredweight", "cwt")


def _sized(word: str, end: int, meaning: Meaning) -> Unit:
    factor, dimension = unit_factor(word, ton=meaning.ton, gallon=meaning.gallon)
    asked = AMBIGUOUS[word] if is_ambiguous(word) and word in AMBIGUOUS else ""
    return Unit(factor, dimension, end, asked, word)


def is_unsized(text: str, at: int) -> bool:
    """Return whether a word stands there that measures something, but nothing we can size."""
    at += len(text[at:]) - len(text[at:].lstrip(" -"))
    return _unsized().match(text, at) is not None


def read_typed(text: str, meaning: Meaning) -> Unit | None:
    """Return the unit that a whole text is, T in capitals being the site's ton unless that is a tonne."""
    return read_cell("ton" if text == "T" and meaning.ton != "tonne" else text, meaning)


@lru_cache(maxsize=65536)
def read_cell(text: str, meaning: Meaning) -> Unit | None:
    """Return the unit that a whole cell is ("lb", "cu. yd."), or None."""
    plain = bare(text).strip(" ()[].:")
    unit = take_unit(plain, 0, meaning)
    if unit is not None and unit.end >= len(plain):
        return unit
    try:
        return _sized(plain, len(plain), meaning)
    except UnknownUnit:
        return None
