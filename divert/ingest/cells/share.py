"""Contamination: 5% · 0.05 · 2 lb · none, as a share of the load or as a mass."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.ingest.cells import mark
from divert.ingest.cells.number import even, take_number
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.slips import near_unit
from divert.ingest.cells.unit import Meaning, take_unit
from divert.ingest.lexicon import bare


@dataclass(frozen=True, slots=True)
class Removed:
    """What a contamination cell says: a mass, a share 0-1, or a bare number the column explains."""

    mass_kg: float | None = None
    share: float | None = None
    number: float | None = None
    words: str = ""
    asked: str = ""  # the bare "ton" that site.toml settled


def unreadable() -> Problem:
    """Return the problem of a cell that says no contamination."""
    return Problem("quantity unreadable", Text(N_("Write what was removed as 5% or 2 lb.")))


def read_cell(value: object, meaning: Meaning, comma: bool = False) -> Removed | Problem:
    """Return what a contamination cell says; words that name no amount are kept as words."""
    if isinstance(value, bool):
        return Removed(words=str(value))
    if isinstance(value, int | float):
        return Removed(number=float(value)) if math.isfinite(value) and value >= 0 else unreadable()
    if not isinstance(value, str):
        return unreadable()
    marked = mark.read_cell(value)
    if marked == "nothing":
        return Removed(mass_kg=0.0)
    if marked == "unknown":
        return Removed(words=value)
    text = re.sub(
        r"^(?:about|approx\.?|environ|env\.?|~|<|under|moins de)\s*", "", bare(even(value))
    )
    text = re.sub(r"(?<=\d)\s?-?ish\b", "", text)
    # Of "1-2 lb" the higher counts: what was picked out is never made less than somebody saw.
    text = re.sub(
        r"^\d[\d.,]*\s*(?:lb|kg|%)?\s*(?:-|to|a)\s*(?=\d[\d.,]*\s*(?:lbs?|kg|%|$))", "", text
    )
    try:
        number = take_number(text, 0, comma)
    except ValueError:
        return unreadable()
    if number is None:
        return Removed(words=value)
    return _measured(text, number, meaning)


def _measured(text: str, number: tuple[float, int], meaning: Meaning) -> Removed | Problem:
    amount, end = number
    percent = re.compile(r"\s*(?:%|percent|per cent|pour cent)(?!\w)").match(text, end)
    if percent:
        rest = text[percent.end() :]
        return (
            Removed(share=amount / 100, words=rest.strip(" ,;-()"))
            if amount <= 100
            else unreadable()
        )
    unit = take_unit(text, end, meaning)
    if unit is None:
        rest = text[end:].strip()
        if not text[:1].isdigit() and rest and not text.startswith((".", ",", "-")):
            return Removed(words=text)  # "a little plastic"
        if re.match(r" [^\W\d_]{4,}", text[end:]) and not near_unit(rest.split()[0]):
            return Removed(words=text)  # "1 plastic bag"
        return (
            Removed(number=amount, words=rest.strip(" ,;-()"))
            if not re.match(r"\w", rest)
            else unreadable()
        )
    if unit.dimension != "mass":
        return unreadable()
    mass, at = amount * unit.factor, unit.end
    more = re.compile(r"\s*(?:,|\+|and|et)?\s*(\d+(?:[.,]\d+)?)\s*(oz|ounces?|g)\b").match(text, at)
    lesser = take_unit(more[2], 0, meaning) if more else None
    if more and lesser:  # "2 lb 8 oz"
        mass, at = mass + float(more[1].replace(",", ".")) * lesser.factor, more.end()
    return Removed(mass_kg=mass, words=text[at:].strip(" ,;-()"), asked=unit.asked)
