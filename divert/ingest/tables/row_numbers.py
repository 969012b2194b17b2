"""Columns that number their rows: 1, 2, 3 and on, or the numbers of tickets, under "No." or "#"."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

from divert.ingest.cells.number import read_cell
from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading import QUANTITIES
from divert.ingest.tables.heading_words import listed, norm

_TICKET = 1000  # nobody brings so many containers at once: such numbers stand on tickets


def numbers_its_rows(column: Column) -> bool:
    """Return whether a column that could count only numbers: whole numbers, no two alike.

    The heading says "No." and nothing of what it would count; and they rise one at a time, or rise
    over four rows or more, or stand first and rise, or are as high as a ticket's.
    """
    found = _numbers(column)
    filled = int((column.cells.codes >= 0).sum())
    if len(found) < 2 or len(found) < len(column.cells.cells) or filled != len(found):
        return False
    if any(number % 1 for number in found):
        return False
    steps = [b - a for a, b in itertools.pairwise(found)]
    if not _only_numbers(column):
        return False  # "How many" counts, whatever the numbers
    if len(found) >= 3 and all(step == 1 for step in steps):
        return True
    rising = all(step > 0 for step in steps)
    return min(found) >= _TICKET or (rising and (len(found) >= 4 or column.index == 0))


def _numbers(column: Column) -> list[float]:
    """Return the numbers of a column, as such or as a text file has them."""
    read = (read_cell(c) for c in column.cells.cells if isinstance(c, int | float | str))
    return [number for number in read if isinstance(number, float)]


def _only_numbers(column: Column) -> bool:
    return norm(column.head.text) in listed("headings", "numbering", "words")


def numbers_beside_counts(columns: Sequence[Column]) -> list[Column]:
    """Take "No." for no count where another column counts: no row has two counts of one container."""
    counts = [c for c in columns if c.field in ("count", "quantity") and not _only_numbers(c)]
    if not counts:
        return list(columns)
    return [
        replace(c, field="id") if c.field == "count" and _only_numbers(c) else c for c in columns
    ]


def counts_after_all(columns: Sequence[Column]) -> list[Column]:
    """Take "No." for the count again where nothing else says how many of a row's containers there were."""
    amounts = any(
        c.field in QUANTITIES or (c.field == "" and c.content.numbers > 0.5) for c in columns
    )
    boxes = any(c.field == "container" for c in columns)
    if amounts or not boxes:
        return list(columns)
    return [replace(c, field="count") if _is_low(c) else c for c in columns]


def _is_low(column: Column) -> bool:
    numbers = _numbers(column)
    was_count = column.field == "id" and column.heading.field == "count"
    return was_count and bool(numbers) and max(numbers) < _TICKET


def rises_by_row(column: Column) -> bool:
    """Return whether whole numbers rise from each row to the next, as the numbers of slips do."""
    found = _numbers(column)
    filled = int((column.cells.codes >= 0).sum())
    if len(found) < 3 or filled != len(found) or any(n % 1 for n in found):
        return False
    steps = [b - a for a, b in itertools.pairwise(found)]
    return all(step == 1 for step in steps) or (min(found) >= _TICKET and min(steps) > 0)
