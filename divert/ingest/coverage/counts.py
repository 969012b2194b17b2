"""Counts that may be names: bag 1, 2, 3; dumpster 101, 102, 103. They never become amounts in silence."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import Column
from divert.ingest.tables.naming_numbers import is_bare, names_things
from divert.ingest.tables.numbers import numbers_of

_AGREE = N_("“{first}” and “{second}” may both say how many there were, and do not agree.")
_EITHER = N_(
    'Take the one that does not count for nothing, under [[sheet]]: ignore = ["{letter}"].'
)
_WEIGHED = ("weight", "gross", "quantity", "volume")


def counts_that_name(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads whose only amount is a number that may be the container's own."""
    yield from _boxes_by_number(seen)
    yield from _two_counts(seen)
    yield from _number_again(seen)
    for group in seen.job.layout.groups:
        counts = group.columns.get("count", group.columns.get("quantity", []))
        if not counts or any(group.columns.get(f) for f in _WEIGHED if f != counts[0].field):
            continue
        column = counts[0]
        if _has_unit(seen, column) or not names_things(column):
            continue
        filled = column.cells.codes >= 0
        yield seen.doubt(
            f"{column.letter} names",
            N_("The numbers under “{heading}” may say which one it was, and not how many."),
            N_("If they count, say so in the heading, such as Number of bags; else add a column "
                   "with the weight or the number of each load."),
            rows=filled,
            column=column,
            columns=frozenset((column.index,)),
        )  # fmt: skip


def _two_counts(seen: Seen) -> Iterator[Doubt]:
    """Doubt the loads of which two columns may say how many they were, and do not say the same."""
    job = seen.job
    for group in job.layout.groups:
        counts, bare_ones = group.columns.get("count", []), group.columns.get("quantity", [])
        one, two = [*counts[:1], *bare_ones, None, None][:2]
        if one is None or two is None or _has_unit(seen, two):
            continue
        if any(group.columns.get(f) for f in _WEIGHED if f != "quantity"):
            continue
        own, other = numbers_of(one), numbers_of(two)
        apart = ~np.isnan(own) & ~np.isnan(other) & (own != other)
        if apart.any():
            yield seen.doubt(
                f"{two.letter} counts",
                _AGREE,
                _EITHER,
                rows=~np.isnan(own) | ~np.isnan(other),
                column=two,
                columns=group.places,
                first=two.head.text,
                second=one.head.text,
            )


def _number_again(seen: Seen) -> Iterator[Doubt]:
    """Doubt counts of boxes beside a bare "#" that was taken for the load's number, yet comes again.

    "Load 1, 1, 2" beside "# 6, 6, 5" may be the load's number, and the other say how many.
    """
    job = seen.job
    column = job.layout.shared.get("id")
    if column is None or "container" not in job.layout.shared or not is_bare(column):
        return
    numbers = numbers_of(column)[seen.rows.open]
    told = numbers[~np.isnan(numbers)]
    if len(set(told.tolist())) == len(told):
        return
    for group in job.layout.groups:
        if group.first.field != "quantity" or _has_unit(seen, group.first):
            continue
        yield seen.doubt(
            f"{column.letter} counts",
            _AGREE,
            _EITHER,
            column=group.first,
            columns=group.places,
            first=group.first.head.text,
            second=column.head.text,
        )


def _has_unit(seen: Seen, column: Column) -> bool:
    told = column.heading.unit is not None or "unit" in seen.job.layout.shared
    return told or seen.job.context.unit is not None or seen.job.sheet.origin is not None


def _boxes_by_number(seen: Seen) -> Iterator[Doubt]:
    """Doubt gross weights beside the number of the cart that held them: nothing says what it weighs."""
    job = seen.job
    column = job.layout.shared.get("id")
    box = None if column is None else job.known.containers.take(bare(column.head.text), 0)
    if column is None or box is None or "container" in job.layout.shared:
        return
    for group, amounts in zip(job.layout.groups, seen.measured, strict=True):
        gross = seen.rows.open & ~np.isnan(amounts.gross_kg) & np.isnan(amounts.mass_kg)
        if group.columns.get("gross") and gross.any():
            yield seen.doubt(
                f"{column.letter} box",
                N_("“{heading}” says which {box} it was, and nothing what it weighs empty."),
                N_("Add a column with the container or its empty weight, or write net weights."),
                rows=gross,
                column=column,
                columns=frozenset((group.first.index,)),
                box=box[0],
            )
