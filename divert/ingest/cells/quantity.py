"""A free quantity cell: 3 totes · ½ pail · ~40 lb · 3 x 64 gal · 2 totes, 3/4 full · 20 lb + 15 lb.

Rules: masses and like counts joined by + or "and" add; a mass in brackets, after = or /, must be the
same mass again; words after a quantity are its note; a range (30-40 lb) or a bare number beside
another quantity is not read, since a person could not tell what was meant either.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

from divert.ingest.cells.number import even
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.quantity_counts import counts_of
from divert.ingest.cells.quantity_spellings import plainly
from divert.ingest.cells.quantity_value import Quantity, unit_unknown, unreadable
from divert.ingest.cells.quantity_words import without_note
from divert.ingest.cells.scan import Piece, Trade, pieces
from divert.ingest.cells.slips import is_unsure
from divert.ingest.lexicon import bare

LONGEST = 200
_NUMBER_ALONE = re.compile(r"[1-9][0-9]{0,3}(?:\.[0-9]{1,2})?")
_AGAIN = 0.03  # two units of one mass, "40 lb / 18 kg", agree within this


def read_cell(value: object, trade: Trade) -> tuple[Quantity, ...] | Problem:
    """Return the quantities a cell says: one, or one per container where it names several."""
    if isinstance(value, bool | dt.date | dt.time | dt.timedelta):
        return unreadable()
    if isinstance(value, int | float):
        return (Quantity(number=float(value)),) if math.isfinite(value) else unreadable()
    if not isinstance(value, str) or len(value) > LONGEST:
        return unreadable()
    return _read_text(value, trade)


@lru_cache(maxsize=16384)  # the same words stand in sheet after sheet, and are asked about again
def _read_text(value: str, trade: Trade) -> tuple[Quantity, ...] | Problem:
    if _NUMBER_ALONE.fullmatch(value) and not trade.containers.take(value, 0):
        return (
            Quantity(number=float(value)),
        )  # most cells of an exported log: nothing to look for
    text = plainly(bare(even(value)))
    if is_unsure(text):
        return unreadable()
    tons = trade.meaning.ton != "tonne" and not trade.containers.find("t")  # "2T" may be two totes
    ton_in_capitals = tons and re.search(r"\d\s*T\b", even(value))
    text = re.sub(r"(?<=\d)\s*t\b", " ton", text) if ton_in_capitals else text
    if re.fullmatch(r"\([\d., ]+[a-z.]*\)", text) or _sized_or_thousands(text, trade):
        return unreadable()  # an accountant's negative, or only brackets
    negative = re.match(r"-\s*(?=[\d.,])", text)
    read = _read(text[negative.end() :] if negative else text, trade)
    if isinstance(read, Problem):
        return read if negative else _part_by_part(text, trade) or read
    return tuple(_negated(q) for q in read) if negative else read


def _read(text: str, trade: Trade) -> tuple[Quantity, ...] | Problem:
    try:
        found = list(pieces(text, trade))
    except ValueError:
        return unreadable()
    return _combined(found, trade)


_SIZED = re.compile(r"(?<![\d.,])\d{1,3} \d{3} ?[a-z]{1,7}\.? ?([a-z].*)")


def _sized_or_thousands(text: str, trade: Trade) -> bool:
    """Return whether a box stands behind "1 240 L": one of 240 L, or 1,240 litres."""
    said = _SIZED.search(text)
    return said is not None and trade.containers.take(said[1], 0) is not None


def _part_by_part(text: str, trade: Trade) -> tuple[Quantity, ...] | None:
    """Read "4 bags leaves, 2 bags grass": several quantities, each with its own words."""
    parts = [
        p for p in re.split(r"\s*(?:[;+&]|,(?!\d)|(?<!\w)(?:and|et|plus)(?!\w))\s*", text) if p
    ]
    found: list[Quantity] = []
    for part in parts if len(parts) > 1 else ():
        read = _read(part, trade)
        if isinstance(read, Problem) or len(read) != 1:
            return None
        (one,) = read
        if not ((one.note and one.number is None and one.mass_kg) or one.count):
            return None
        found.append(one)
    return tuple(found) or None


def _negated(quantity: Quantity) -> Quantity:
    def less(x: float | None) -> float | None:
        return None if x is None else -x

    return replace(
        quantity, number=less(quantity.number), count=less(quantity.count),
        volume_m3=less(quantity.volume_m3), mass_kg=less(quantity.mass_kg),
    )  # fmt: skip


def _combined(found: list[Piece], trade: Trade) -> tuple[Quantity, ...] | Problem:
    if any(p.kind == "unit unknown" for p in found):
        return unit_unknown()
    amounts, note, loose = without_note(found)
    if amounts is None or not amounts:
        return unreadable()
    if _may_hold_tare(amounts):
        return unreadable()
    amounts = _fractions_full(amounts)
    numbers = [p for p in amounts if p.kind == "number"]
    if numbers:
        summed = _summed_numbers(amounts, numbers)
        if summed is None:
            return unreadable()
        return (replace(summed, note=note, loose=loose and summed.number is not None),)
    mass = _one_of(amounts, "mass")
    volume = _one_of(amounts, "volume")
    counts = counts_of(amounts, trade)
    if isinstance(mass, Problem) or isinstance(volume, Problem) or isinstance(counts, Problem):
        return unreadable()
    asked = tuple(dict.fromkeys(p.asked for p in amounts if p.asked))
    return _put_together(amounts, mass, volume, counts, note, asked, trade)


def _may_hold_tare(amounts: list[Piece]) -> bool:
    """Return whether "40 lb + tote" is written: nobody can tell whether the tote was weighed too."""
    boxed = any(
        p.by_word and re.match(r"[-(, ]*(?:with|plus|and|et|avec|[+&])", p.link) for p in amounts
    )
    return boxed and any(p.kind in ("mass", "number") for p in amounts)


def _fractions_full(amounts: list[Piece]) -> list[Piece]:
    """Take the fraction of "1 tote, 3/4", "tote 3/4" or "3 pails @ 3/4" for how full they were."""
    if len(amounts) != 2:
        return amounts
    counted, part = amounts
    alone = counted.by_word and not counted.plural and part.link == ""
    parted = part.link in (",", "(", "@", "at", "a", "-", ";", ":")
    fraction = part.kind == "number" and part.amount < 1 and "/" in part.said
    whole = counted.kind == "count" and counted.amount == int(counted.amount)
    if not (fraction and whole and (alone or (parted and not counted.by_word))):
        return amounts
    return [counted, part._replace(kind="fill")]


def _put_together(
    amounts: list[Piece],
    mass: Piece | None,
    volume: Piece | None,
    counts: list[Quantity],
    note: str,
    asked: tuple[str, ...],
    trade: Trade,
) -> tuple[Quantity, ...] | Problem:
    if mass is not None and counts and _adds(amounts):
        weighed = Quantity(mass_kg=mass.amount, note=note, asked=asked, unit=mass.unit)
        return (*(replace(c, note=note, asked=asked) for c in counts), weighed)
    if len(counts) > 1:
        if volume is not None:
            return unreadable()
        if mass is not None:
            each = mass.said == "each"
            return (
                unreadable() if each else (Quantity(mass_kg=mass.amount, note=note, asked=asked),)
            )
        return tuple(replace(c, note=note, asked=asked) for c in counts)
    one = counts[0] if counts else Quantity(fill=_only_fill(amounts))
    if mass is not None:
        each = mass.said == "each" or mass.link in ("@", "at")
        times = one.count if each and one.count is not None else 1.0
        one = replace(one, mass_kg=mass.amount * times, gross=mass.said in ("gross", "brut"))
        one = replace(one, each=each and one.count is None)
    if volume is not None:
        if volume.said == "each" or volume.link in ("@", "at"):
            return unreadable()
        held = _held(volume, one, trade)
        if held is None:
            return unreadable()
        one = replace(one, volume_m3=volume.amount if held else None)
    measured = mass or volume
    return (replace(one, note=note, asked=asked, unit=measured.unit if measured else ""),)


def _adds(amounts: list[Piece]) -> bool:
    """Return whether "2 pails + 10 lb" is written: containers, and a weight beside them."""
    kinds = [(before.kind, after) for before, after in pairwise(amounts)]
    return any(
        {before, after.kind} == {"count", "mass"} and after.link in ("+", "plus", "and", "et", "&")
        for before, after in kinds
    ) and not any(p.said == "each" for p in amounts)


def _held(volume: Piece, one: Quantity, trade: Trade) -> bool | None:
    """Return whether a volume is all of it; False for the size of one, as in "3 totes (64 gal)"."""
    if one.count is None or one.count == 1 or volume.link not in ("(", "of", "de"):
        return True
    for size in trade.containers.sizes_m3.get(one.container, ()):
        if abs(volume.amount - size) <= 0.02 * size:
            return False
        if abs(volume.amount - size * one.count) <= 0.02 * volume.amount:
            return True
    return None


def _summed_numbers(amounts: list[Piece], numbers: list[Piece]) -> Quantity | None:
    """Return 5 for "3+2", 35 lb for "20 + 15 lb", 3 at 3/4 full for "3, 3/4 full"; None otherwise."""
    fills = [p for p in amounts if p.kind == "fill"]
    others = [p for p in amounts if p.kind not in ("number", "fill")]
    added = all(p.link in ("+", "plus") for p in amounts[1:] if p.kind != "fill")
    if len(fills) > 1 or len(others) > 1 or not added:
        return None
    total = sum(p.amount for p in numbers)
    if not others:
        return Quantity(number=total, fill=fills[0].amount if fills else None)
    last = others[0]
    if amounts[-1] is not last or fills or not last.amount or last.size_m3 is not None:
        return None
    if last.kind == "count":
        return Quantity(count=total + last.amount, container=last.container)
    factor = _factor(last)
    if factor is None:
        return None
    whole = total * factor + last.amount
    asked = (last.asked,) if last.asked else ()
    if last.kind == "mass":
        return Quantity(mass_kg=whole, asked=asked)
    return Quantity(volume_m3=whole, asked=asked)


def _factor(piece: Piece) -> float | None:
    from divert.core.units import unit_factor

    return unit_factor(piece.unit)[0] if piece.unit and not piece.asked else None


def _one_of(amounts: list[Piece], kind: str) -> Piece | Problem | None:
    same = [p for p in amounts if p.kind == kind]
    if not same:
        return None
    first = same[0]
    total = first.amount
    for piece in same[1:]:
        again = piece.link in ("(", "=", "/", "or", ", (")
        if again:
            if abs(piece.amount - total) > _AGAIN * max(piece.amount, total):
                return unreadable()
        elif (
            piece.link in ("+", "and", "et", "plus", "&")
            or _lesser_unit(first, piece)
            or (
                piece.link in (",", ";") and piece.unit == first.unit  # "12 lb, 13 lb": two loads
            )
        ):
            total += piece.amount
        else:
            return unreadable()
    return first._replace(amount=total)


def _lesser_unit(first: Piece, second: Piece) -> bool:
    """Return whether "12 lb 8 oz" or "2 kg 500 g" is written."""
    return (first.unit[:1], second.unit[:1]) in (
        ("l", "o"),
        ("s", "l"),
        ("p", "o"),
        ("k", "g"),
        ("#", "o"),
    ) and (second.link in ("", ",", "."))


def _only_fill(amounts: list[Piece]) -> float | None:
    fills = [p.amount for p in amounts if p.kind == "fill"]
    return fills[0] if len(fills) == 1 else None
