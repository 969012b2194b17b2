"""Columns of plain numbers that are days of the month: "Day picked up" over 3, 5, 12."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading_words import listed, norm
from divert.ingest.tables.numbers import numbers_of

_LAST = 31
_RISES = 0.8  # of the steps from row to row at least lead to the same day or a later one
_TOLD = ("date", "day")


def days_by_number(columns: Sequence[Column]) -> list[Column]:
    """Take the numbers under a heading that speaks of days for days, where no column tells a date."""
    if any(c.field in _TOLD or c.content.dates > 0.5 for c in columns):
        return list(columns)
    days = [c for c in columns if c.field != "weekday" and _speaks_of_days(c) and may_be_days(c)]
    return [replace(c, field="day") if c in days[:1] else c for c in columns]


def may_be_days(column: Column, among_words: bool = False) -> bool:
    """Return whether whole numbers from 1 to 31 stand in a column and mostly rise.

    Under a word for days they may be few, among remarks and sums, and all alike: a month may have had
    one day of loads. Under other words at most two are alike, and most cells are such numbers, unless
    they may stand ``among_words``.
    """
    found = numbers_of(column)
    found = found[~np.isnan(found)]
    if not len(found) or column.heading.unit is not None:
        return False
    if column.content.numbers < 0.5 and not among_words and not _speaks_of_days(column):
        return False
    if (found % 1).any() or found.min() < 1 or found.max() > _LAST:
        return False
    if len(found) > 2 and found.min() == found.max() and not _speaks_of_days(column):
        return False
    steps = np.diff(found)
    return not len(steps) or bool((steps >= 0).mean() >= _RISES)


def _speaks_of_days(column: Column) -> bool:
    said = {w for name in _TOLD for w in listed("headings", "field", name) if " " not in w}
    return bool(said & set(norm(column.head.text).split()))
