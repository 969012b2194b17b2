"""Amounts that only rise: each may be all that came so far, and no load of its own."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.tables.numbers import Numbers, numbers_of

_LEAST = 3  # rows of which the first may be carried over
_RISES = 4  # rows of amounts that only rise
_SINCE = re.compile(r"\b(?:since|so far|to date|depuis|a ce jour|jusqu'ici|cumul\w*)\b")
_MANY = 8  # rows that hardly rise one after the other by chance


def meter_of(group: Group, titles: Sequence[str]) -> Column | None:
    """Return the amounts of a table that only ever rise, under words that nobody knows: "Up to now, lb".

    So they may under any words, where they are many, or where a title says since when.
    """
    weighed = (c for c in group.members if c.field in ("weight", "quantity", "volume"))
    column = next(weighed, group.first)  # "Dumpster" 1, 2, 3 may stand before it
    found = numbers_of(column)
    found = found[~np.isnan(found)]
    runs = (found, found[1:]) if len(found) > _LEAST else (found,)  # the first may be carried over
    rises = len(found) >= _RISES and any(bool((np.diff(run) > 0).all()) for run in runs)
    words = column.heading.label and not (
        column.heading.said or group.label.source or group.label.material
    )
    words = words or any(map(_SINCE.search, map(bare, titles))) or _adds_up(column, found)
    return column if rises and (words or unsaid(group)) else None


def _adds_up(column: Column, found: Numbers) -> bool:
    """Return whether many weights or volumes rise as sums of about as large ones do."""
    many = len(found) >= _MANY and column.heading.unit is not None
    return many and bool(found[-1] >= len(found) / 2 * found[0])


def so_far(seen: Seen, column: Column) -> Doubt:
    """Ask whether amounts that rise are loads, or all that came so far."""
    return seen.doubt(
        f"{column.letter} so far",
        N_("The amounts under “{heading}” rise on every row: each may be all that came so far."),
        N_("If each is a load of its own, name the column Weight; else add a column with what came "
               "each time."),
        column=column,
        columns=frozenset((column.index,)),
    )  # fmt: skip


def unsaid(group: Group) -> bool:
    """Return whether a group's head says words that are taken for no name of any kind."""
    return bool(group.label.other) and not group.label.other.startswith("#")
