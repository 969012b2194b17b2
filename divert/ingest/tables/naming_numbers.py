"""Numbers that are names: of a row, a bag, a cart, a ticket, a load. None of them counts anything."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading import QUANTITIES
from divert.ingest.tables.heading_words import listed, norm
from divert.ingest.tables.logged import weighs
from divert.ingest.tables.numbers import Numbers, numbers_of

# "Cart #", "bag_nr", "Ticket": which one it was; "# of carts", "No. of bags": how many there were.
_WHICH = re.compile(
    r"(?:#|\b(?:no|nr|nbr|num|number|id|tag|ticket|slip|code|serial|numero|billet)\b|n°)"
)
_HOW_MANY = re.compile(
    r"^(?:#|(?:no|nr|nb|nbr|num|number|numero|nombre|count|total|how many|combien)\b)"
    r"[.:]?\s*(?:of|de|d'|des)?\s*\w"
)
_HIGH = 100  # nobody brings so many containers at once; such numbers are painted on them
_TICKET = 1000  # and such numbers stand on tickets


def without_names(columns: Sequence[Column]) -> list[Column]:
    """Take numbers that name things out of the amounts, where other columns say how much came."""
    measured = any(_measures(c) for c in columns)
    naming = [
        c
        for c in columns
        if _may_count(c) and (names_things(c) or (measured and _numbers_an_event(c)))
    ]
    places = {c.index for c in naming}
    others = [c for c in columns if c.index not in places and _tells_amounts(c)]
    boxed = any(c.content.containers > 0.5 for c in columns)
    if any(_counts_loads(c, boxed) for c in others):
        # no row has two counts
        places |= {c.index for c in columns if c.field == "count" and is_bare(c)}
    # "Amount" is no name beside "Trip" alone, nor beside another such word: that is asked about
    told = [c for c in others if c.field in QUANTITIES and not (_asks_how_much(c) and _is_plain(c))]
    named = [
        replace(c, field="id")
        if c.index in places and (told if _asks_how_much(c) else others)
        else c
        for c in columns
    ]
    counted = any(c.field == "count" for c in named)
    return [replace(c, field="container") if counted and _names_boxes(c) else c for c in named]


def _measures(column: Column) -> bool:
    """Return whether a column says under a unit how much came."""
    told = column.field in ("weight", "gross", "volume") and column.heading.unit_text != "#"
    told = told or (column.field == "running" and weighs(column))
    return told and column.content.numbers > 0.3


def _numbers_an_event(column: Column) -> bool:
    """Return whether whole numbers stand under one of what is no box of the site's: "Voyage", "Load".

    Beside what was weighed or measured they say which it was; "Loads" are how many.
    """
    box = column.heading.container
    foreign = bool(box) and not column.known.containers.is_own(box) and not _plural(column)
    return foreign and column.field == "count" and len(_whole(column)) > 0


def _asks_how_much(column: Column) -> bool:
    return column.heading.said and column.field == "quantity" and not column.heading.container


def _is_plain(column: Column) -> bool:
    return column.heading.unit is None and column.content.numbers > 0.6


def _names_boxes(column: Column) -> bool:
    """Return whether amounts are only names of boxes: where another column says how many there were."""
    return (
        column.field == "quantity" and column.content.containers > 0.5 and not _has_numbers(column)
    )


def _tells_amounts(column: Column) -> bool:
    """Return whether a column says how much came, if only as what came so far."""
    told = column.field in (*QUANTITIES, "running") or (
        column.field == "" and column.content.numbers > 0.6
    )
    return told and max(column.content.numbers, column.content.quantities) > 0.3


def _counts_loads(column: Column, boxed: bool) -> bool:
    """Return whether a count is that of the loads, and no bare "#" beside it can be.

    ``boxed``: a column holds the container of each load; then "Carbon added (scoops)" counts none.
    """
    if column.field not in ("count", "quantity") or is_bare(column) or not _has_numbers(column):
        return False
    box = column.heading.container
    return not (boxed and box and not column.known.containers.is_own(box))


def _has_numbers(column: Column) -> bool:
    """Return whether the cells say how many; "barrel" names a box, and the "#" beside it counts them."""
    told = [c for c in column.cells.cells if not isinstance(c, str) or c.strip()]
    return any(not isinstance(c, str) or re.search(r"\d", c) for c in told)


def _may_count(column: Column) -> bool:
    counted = column.field in ("count", "quantity", "weight", "container", "")
    pounds = column.heading.unit is not None and column.heading.unit_text != "#"
    return counted and not pounds and column.content.numbers > 0.6


def names_things(column: Column) -> bool:
    """Return whether a column's numbers name what they stand beside, by its head and by the numbers."""
    found = _whole(column)
    if len(found) < 2:
        boxes = bool(column.heading.container) and len(found) and found[0] < _HIGH
        return bool(len(found)) and not boxes and _says_which(column)
    if is_bare(column):  # it may as well be how many
        rising = bool((np.diff(found) > 0).all()) and (len(found) >= 4 or column.index == 0)
        tickets = found.min() >= _TICKET and len(set(found.tolist())) == len(found)
        return climbs(column) or rising or bool(tickets)
    text = bare(column.head.text.replace("_", " "))
    if _plural(column) or _HOW_MANY.match(text):
        return bool(_WHICH.search(text)) and not _HOW_MANY.match(text) and climbs(column)
    if _WHICH.search(text):
        return True
    if column.heading.container:
        return climbs(column) or bool(found.min() >= _HIGH)
    return column.field == "quantity" and climbs(column)


def _says_which(column: Column) -> bool:
    """Return whether a head alone says that a number names what it stands beside: "Scale ticket #"."""
    text = bare(column.head.text.replace("_", " "))
    many = text.strip(" .:?#()").endswith(("s", "x"))  # "Containers (#)" are counted
    counted = is_bare(column) or many or _HOW_MANY.match(text)
    return not counted and _WHICH.search(text) is not None


def climbs(column: Column) -> bool:
    """Return whether whole numbers rise by one from row to row, or rise as those of tickets do."""
    found = _whole(column)
    steps = np.diff(found)
    tickets = len(found) >= 3 and found.min() >= _TICKET and (steps > 0).all()
    return len(found) >= 3 and bool(tickets or (steps == 1).all())


def _whole(column: Column) -> Numbers:
    """Return the numbers of a column; none where amounts with units stand in it, or parts of a whole.

    Words among them, such as of what was carried over, change nothing of what the others are.
    """
    words = column.cells.rows_of_texts(lambda text: not re.search(r"\d", text))
    filled = (column.cells.codes >= 0) & ~words
    found: Numbers = numbers_of(column)[filled]
    return found if (found >= 0).all() and not (found % 1).any() else found[:0]


def is_bare(column: Column) -> bool:
    """Return whether a head says "No." or "#", and nothing of what it would count."""
    return norm(column.head.text) in listed("headings", "numbering", "words")


def _plural(column: Column) -> bool:
    text = bare(column.head.text).strip(" .:?#")
    return text.endswith(("s", "x")) and not text.endswith("ss")
