"""Sheets of nothing but words: instructions and lists of names, on which no entry can stand."""

from __future__ import annotations

from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.problem import Problem
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Sheet, is_value
from divert.ingest.turned.line import may_count


def holds_only_words(sheet: Sheet, known: Known, called_so: bool) -> bool:
    """Return whether no cell of a sheet could be part of an entry: no number, no date, no amount.

    ``called_so``: the sheet's name says that it holds lists or instructions; its texts may then hold
    digits ("64 gal cart"), as long as none of them is an amount or a date.
    """
    cells = [cell for column in sheet.columns for cell in column.cells]
    return all(_is_words(cell, known, called_so) for cell in cells)


def _is_words(cell: Cell, known: Known, called_so: bool) -> bool:
    if not isinstance(cell, str):
        return False
    if _is_name(cell, known):
        return True
    if is_value(cell) or not isinstance(read_date(cell), Problem):
        return False
    digits = any(c.isdigit() for c in cell)
    return (called_so or not digits) and not may_count(cell, known)


def _is_name(text: str, known: Known) -> bool:
    """Return whether a text is a name that site.toml knows, digits and all: "64 gal cart"."""
    names = (known.sources, known.materials, known.containers, known.fuels, known.activities)
    return bare(text) == bare(known.site.name) or any(n.find(text) for n in names)
