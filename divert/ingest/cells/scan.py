"""Cut a quantity's text into its pieces: numbers, masses, volumes, counts, fills and words."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal, NamedTuple

from divert.ingest.cells.container import Containers
from divert.ingest.cells.fill import take_fill
from divert.ingest.cells.number import spoken, take_more, take_number
from divert.ingest.cells.slips import refuse_slips
from divert.ingest.cells.unit import Meaning, Unit, first_words, is_unsized, take_unit
from divert.ingest.lexicon import LETTERS, beginnings, phrases, words

Kind = Literal["mass", "volume", "count", "fill", "number", "word", "unit unknown"]


class Piece(NamedTuple):  # a note has many, and a tuple is made in a quarter of the time
    """One piece: ``amount`` in kg, m³, containers, fraction or as typed; ``link`` what led to it."""

    kind: Kind
    amount: float = 0.0
    container: str = ""
    size_m3: float | None = None
    link: str = ""
    said: str = ""  # gross, net, each; or the words themselves
    asked: str = ""
    unit: str = ""
    plural: bool = False
    by_word: bool = False


@dataclass(frozen=True)
class Trade:
    """What a site's crew means by its words: its tons and gallons, its containers, its commas."""

    meaning: Meaning = field(default_factory=Meaning)
    containers: Containers = field(default_factory=Containers)
    comma: bool = False

    __hash__ = object.__hash__


_LINK = re.compile(
    r"(?:[\s,;:&+=/*()\[\]|!_]|\.(?!\d)|-|x(?=\s*\d)|@|(?:and|et|plus|avec|with|at|a|of|de|du|des|d'|in(?=\s+(?:\d|an?\s))|dans)(?![\w']))*"
)
_DECIMAL = re.compile(r",\d")
_TIMES = re.compile(r"\s*(?:x|\*|@|at|fois|times)\s*(?=[\d.,])")
_SAID = re.compile(
    r"[\s(]*(?P<said>gross|brut|net(?:\s+weight)?|each|ea|apiece|chacune?|chaque)(?!\w)\.?\)?|"
    r"\s*/\s*(?P<per>tote|bin|pail|bac|seau|each|unite)(?!\w)"
)
_WORD = re.compile(r"[^\s,;:&+=/*()\[\]\d]+|\S")


@lru_cache
def _approximately() -> re.Pattern[str]:
    return re.compile(rf"(?:(?:{phrases(words('marks')['approximately'])})(?=[\s\d.,])\s*)+")


@lru_cache
def _adjective() -> re.Pattern[str]:
    return re.compile(rf"\s+(?:{phrases(words('containers')['sizes'])})(?=\s)")


def pieces(text: str, trade: Trade) -> Iterator[Piece]:
    """Yield the pieces of an evened, bare text in order. Raises ValueError for a number not meant."""
    may_begin, approximately = _may_begin(trade), _approximately()
    at = 0
    while at < len(text):
        decimal = at == 0 and _DECIMAL.match(text)  # ",5 kg" is half a kilogram
        link = None if decimal else _LINK.match(text, at)
        joined, at = (link[0], link.end()) if link else ("", at)
        around = approximately.match(text, at)
        at = around.end() if around else at
        if at >= len(text):
            return
        letters = LETTERS.match(text, at)
        if letters and not may_begin(letters[0]):
            piece, at = _word(text, at, joined.strip())
        else:
            piece, at = _next(text, at, joined.strip(), trade)
        yield piece


@lru_cache
def _may_begin(trade: Trade) -> Callable[[str], bool]:
    """Return what tells whether an amount may begin with a bare word: of most words none can."""
    first = beginnings((*spoken(), *words("fills")["value"])) | first_words()
    return lru_cache(maxsize=16384)(lambda w: w in first or trade.containers.may_begin(w))


def _next(text: str, at: int, link: str, trade: Trade) -> tuple[Piece, int]:
    named = trade.containers.take(text, at)
    if named and text[at].isdigit():  # a container whose own name begins with a number: "64 gal"
        return Piece("count", 1.0, named[0], link=link, plural=named[2], by_word=True), named[1]
    filled = take_fill(text, at, trade.comma)
    number = take_number(text, at, trade.comma)
    says_fill = filled and number and filled[1] > number[1]
    if number is not None and not says_fill:
        counted = _measured(text, number, link, trade)
        if counted is not None:
            return counted
        mixed = number[0] > 1 and re.match(r"\d+\s+\d+/", text[at:]) and filled is None
        if mixed and re.match(r"[\s-]*(?:full|plein)", text[number[1] :]):
            raise ValueError(text)  # "3 3/4 full": three of them, or three and three quarters?
    if filled is not None:
        return Piece("fill", filled[0], link=link), filled[1]
    if named:
        return _counted_after(text, named, link, trade)
    unit = take_unit(text, at, trade.meaning)
    if unit is not None and number is None:
        after = take_number(text, at_number := _past(text, unit.end, r"[\s:=]*"), trade.comma)
        if after and text[at_number].isdigit():
            return _of_unit(unit, after[0], link), after[1]
        if unit.end - at > 1:
            raise ValueError(text)  # a unit with no number, as in "40+ lb"
    if number is not None:
        if is_unsized(text, number[1]):
            return Piece("unit unknown", number[0], link=link), len(text)
        refuse_slips(text, number[1], trade.containers)
        by_word = not text[at].isdigit()
        return Piece(
            "number", number[0], link=link, said=text[at : number[1]], by_word=by_word
        ), number[1]
    return _word(text, at, link)


def _word(text: str, at: int, link: str) -> tuple[Piece, int]:
    word = _WORD.match(text, at)
    end = word.end() if word else at + 1
    if at == 0 and text[end - 1].isalpha() and text[end : end + 1].isdigit():
        raise ValueError(text)  # "l0", "S0": a slip, and no nought
    return Piece("word", link=link, said=text[at:end]), end


def _counted_after(
    text: str, named: tuple[str, int, bool], link: str, trade: Trade
) -> tuple[Piece, int]:
    """Read how many there are where the container stands first: "pails: 3", "a tote and a half"."""
    name, end, plural = named
    for pattern in (r"\s*[:=]\s*(?=\d)", r"\s*[x*]\s*(?=\d)"):
        mark = re.compile(pattern).match(text, end)
        after = take_number(text, mark.end(), trade.comma) if mark else None
        if after:
            return Piece("count", after[0], name, link=link), after[1]
    more = take_more(text, end)
    if more:
        return Piece("count", 1.0 + more[0], name, link=link), more[1]
    return Piece("count", 1.0, name, link=link, plural=plural, by_word=True), end


def _past(text: str, at: int, pattern: str) -> int:
    match = re.compile(pattern).match(text, at)
    return match.end() if match else at


def _measured(
    text: str, number: tuple[float, int], link: str, trade: Trade
) -> tuple[Piece, int] | None:
    """Read what follows a number: a unit, a container, or a size and a container."""
    amount, end = number
    crossed = re.compile(r"\s*[x*]\s*").match(text, end)  # "2x totes"
    held = trade.containers.take(text, crossed.end()) if crossed else None
    if held:
        return Piece("count", amount, held[0], link=link), held[1]
    times = _TIMES.match(text, end)
    if times:
        return _multiplied(text, amount, times.end(), link, trade)
    sized = _size_then_container(text, end, trade)
    if sized:
        name, size_m3, after, asked = sized
        return Piece("count", amount, name, size_m3, link, asked=asked), after
    counted = _counted(text, amount, end, link, trade)
    if counted:
        return counted
    unit = take_unit(text, end, trade.meaning)
    if unit is None:
        return None
    if unit.dimension == "volume":
        times = re.compile(r"\s*[x*]\s*(?=\d)").match(text, unit.end)
        again = take_number(text, times.end(), trade.comma) if times else None
        if again:  # "64 gal x 3"
            return Piece(
                "count", again[0], "", amount * unit.factor, link, asked=unit.asked
            ), again[1]
        held = trade.containers.take(text, _past(text, unit.end, r"[\s-]*"))
        if held:  # "64 gal cart": one of that size
            return (
                Piece(
                    "count", 1.0, held[0], amount * unit.factor, link,
                    asked=unit.asked, plural=held[2], by_word=True,
                ),
                held[1],
            )  # fmt: skip
    piece = _of_unit(unit, amount, link)
    said = _SAID.match(text, unit.end)
    if said:
        word = (
            "each"
            if said["per"] or said["said"][:2] in ("ea", "ap", "ch")
            else said["said"].split()[0]
        )
        return Piece(
            piece.kind, piece.amount, link=link, said=word, asked=unit.asked, unit=unit.name
        ), said.end()
    return piece, unit.end


def _of_unit(unit: Unit, amount: float, link: str) -> Piece:
    kind: Kind = "mass" if unit.dimension == "mass" else "volume"
    return Piece(kind, amount * unit.factor, link=link, asked=unit.asked, unit=unit.name)


def _multiplied(
    text: str, amount: float, at: int, link: str, trade: Trade
) -> tuple[Piece, int] | None:
    named = trade.containers.take(text, at)
    if named:  # "3 x 64 gal" where the site calls a container that
        return Piece("count", amount, named[0], link=link), named[1]
    size = take_number(text, at, trade.comma)
    unit = take_unit(text, size[1], trade.meaning) if size else None
    if size is None or unit is None:
        raise ValueError(text)
    each = size[0] * unit.factor
    if unit.dimension == "mass":
        said = _SAID.match(text, unit.end)
        return Piece(
            "mass", amount * each, link=link, asked=unit.asked, unit=unit.name
        ), said.end() if said else unit.end
    held = trade.containers.take(text, _past(text, unit.end, r"[\s-]*"))
    name, end = (held[0], held[1]) if held else ("", unit.end)
    return Piece("count", amount, name, each, link, asked=unit.asked), end


def _size_then_container(text: str, at: int, trade: Trade) -> tuple[str, float, int, str] | None:
    """Read "5-gal pails" after a count."""
    start = _past(text, at, r"\s*\(|\s*-\s*|\s+")
    if start == at:
        return None
    try:
        size = take_number(text, start, trade.comma)
    except ValueError:
        return None
    unit = take_unit(text, size[1], trade.meaning) if size else None
    if size is None or unit is None or unit.dimension != "volume":
        return None
    held = trade.containers.take(text, _past(text, unit.end, r"[\s)-]*"))
    return (held[0], size[0] * unit.factor, held[1], unit.asked) if held else None


def _counted(
    text: str, amount: float, at: int, link: str, trade: Trade
) -> tuple[Piece, int] | None:
    """Read "full totes", "blue bins" or "half-full pails" after a count."""
    fill: float | None = None
    start = at
    filled = (
        take_fill(text, _past(text, at, r"\s+"), trade.comma) if text[at : at + 1] == " " else None
    )
    if filled and trade.containers.take(text, filled[1]):
        fill, start = filled
    named = trade.containers.take(text, _past(text, start, r"[\s-]*(?:(?:de|d')\s*)?"))
    while named is None and (adjective := _adjective().match(text, start)):
        start = adjective.end()
        named = trade.containers.take(text, start)
    if named is None:
        return None
    said = "" if fill is None else f"fill {fill!r}"
    more = take_more(text, named[1]) if amount == int(amount) else None
    if more:
        amount, named = amount + more[0], (named[0], more[1], named[2])
    return Piece("count", amount, named[0], link=link, said=said), named[1]
