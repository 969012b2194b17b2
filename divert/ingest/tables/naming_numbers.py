"""Numbers that are names: of a bag, a cart, a dumpster, a ticket, a load. None of them counts anything."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading import QUANTITIES
from divert.ingest.tables.heading_words import listed, norm
from divert.ingest.tables.numbers import numbers_of

# "Cart #", "bag_nr", "Ticket": which one it was; "# of carts", "No. of bags": how many there were.
_WHICH = re.compile(
    r"(?:#|\b(?:no|nr|nbr|num|number|id|tag|ticket|slip|code|serial|numero|billet)\b|n°)"
)
_HOW_MANY = re.compile(
    r"^(?:#|(?:no|nr|nb|nbr|num|number|numero|nombre|count|total|how many|combien)\b)"
    r"[.:]?\s*(?:of|de|d'|des)?\s*\w"
)
_HIGH = 100  # nobody brings so many containers at once; such numbers are painted on them


def without_names(columns: Sequence[Column]) -> list[Column]:
    """Take numbers that name things out of the amounts, where other columns say how much came."""
    naming = [c for c in columns if _may_count(c) and names_things(c)]
    others = [
        c
        for c in columns
        if c not in naming
        and (c.field in QUANTITIES or (c.field == "" and c.content.numbers > 0.6))
        and max(c.content.numbers, c.content.quantities) > 0.3
    ]
    if not others:
        return list(columns)
    return [replace(c, field="id") if c in naming else c for c in columns]


def _may_count(column: Column) -> bool:
    counted = column.field in ("count", "quantity", "weight", "container", "")
    pounds = column.heading.unit is not None and column.heading.unit_text != "#"
    return counted and not pounds and column.content.numbers > 0.6


def names_things(column: Column) -> bool:
    """Return whether a column's numbers name what they stand beside, by its head and by the numbers."""
    found = numbers_of(column)
    found = found[~np.isnan(found)]
    if len(found) < 2 or (found % 1).any() or (found < 0).any():
        return False
    if norm(column.head.text) in listed("headings", "numbering", "words"):
        return _climbs(found)  # "No." alone, or "#": it may as well be how many
    text = bare(column.head.text.replace("_", " "))
    if _plural(column) or _HOW_MANY.match(text):
        return bool(_WHICH.search(text)) and not _HOW_MANY.match(text) and _climbs(found)
    if _WHICH.search(text):
        return True
    if column.heading.container:
        return _climbs(found) or bool(found.min() >= _HIGH)
    return column.field == "quantity" and _climbs(found)


def _plural(column: Column) -> bool:
    text = bare(column.head.text).strip(" .:?#")
    return text.endswith(("s", "x")) and not text.endswith("ss")


def _climbs(found: np.ndarray[tuple[int], np.dtype[np.float64]]) -> bool:
    """Return whether numbers rise by one from each row to the next, as those of slips do."""
    return len(found) >= 3 and all(b - a == 1 for a, b in itertools.pairwise(found.tolist()))
