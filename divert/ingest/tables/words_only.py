"""Sheets of nothing but words: instructions and lists of names, on which no entry can stand."""

from __future__ import annotations

import re
from functools import lru_cache

from divert.ingest.cells import date, quantity
from divert.ingest.cells.number import even
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.scan import pieces
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare, words
from divert.ingest.sheet import Sheet, is_value

_ARTICLES = re.compile(r"(?<!\w)(?:an?|une?)(?!\w)")  # "a load" in a sentence counts nothing


def holds_only_words(sheet: Sheet, known: Known, called_so: bool) -> bool:
    """Return whether no cell of a sheet could be part of an entry: no number, no date, no amount.

    ``called_so``: the sheet's name says that it holds lists or instructions; its texts may then hold
    digits ("64 gal cart"), as long as none of them is an amount or a date.
    """
    cells = [cell for column in sheet.columns for cell in column.cells]
    return all(_is_words(cell, known, called_so) for cell in cells)


_WORD = re.compile(r"\w+")


@lru_cache
def _number_words() -> frozenset[str]:
    """Return the words that numbers in words begin with, bare."""
    lists = words("numbers")
    tens = (ten for language in lists["compound"].values() for ten in language["tens"])
    return frozenset(_WORD.findall(bare(said))[0] for said in (*lists["value"], *tens))


def _is_words(cell: Cell, known: Known, called_so: bool) -> bool:
    if not isinstance(cell, str):
        return False
    if _is_name(cell, known):
        return True
    if is_value(cell) or not isinstance(date.read_cell(cell), Problem):
        return False
    digits = any(c.isdigit() for c in cell)
    if digits and not called_so:
        return False
    return not _counts(cell, known)


def _is_name(text: str, known: Known) -> bool:
    """Return whether a text is a name that site.toml knows, digits and all: "64 gal cart"."""
    names = (known.sources, known.materials, known.containers, known.fuels, known.activities)
    return bare(text) == bare(known.site.name) or any(n.find(text) for n in names)


def _counts(text: str, known: Known) -> bool:
    """Return whether words count or measure something: "two totes", "forty lb"."""
    plain = _ARTICLES.sub(" ", bare(even(text)))
    if not any(c.isdigit() for c in plain) and _number_words().isdisjoint(_WORD.findall(plain)):
        return False  # most prose
    if len(plain) <= quantity.LONGEST and any(c.isdigit() for c in plain):
        read = quantity.read_cell(plain, known.trade)
        bare_count = not isinstance(read, Problem) and read[0].count != 1
        if not isinstance(read, Problem) and (bare_count or read[0].number is not None):
            return True
    try:
        found = list(pieces(plain, known.trade))
    except ValueError:
        return False
    return any(p.kind in ("mass", "volume") or (p.kind == "count" and not p.by_word) for p in found)
