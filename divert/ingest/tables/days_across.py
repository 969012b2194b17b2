"""Dates across a heading: which order their parts follow, settled for all of them together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from divert.ingest.cells.date import ORDERS, Day, Order, read_cell
from divert.ingest.cells.problem import Problem
from divert.ingest.known import Known
from divert.ingest.tables.columns import Column
from divert.ingest.tables.labels import Label

Readings = dict[int, dict[Order, Day]]


def with_days_settled(
    quantities: Sequence[Column], labels: dict[int, Label], known: Known
) -> dict[int, Label]:
    """Return the labels with "3/4" at the head of a column read as the others are.

    The order is the only one possible for all heads, else site.toml's, else the one in which the
    days run forward; where none of these settles it, the label is marked ``ambiguous``.
    """
    read = _readings(quantities, labels)
    unclear = {index for index, days in read.items() if len(set(days.values())) > 1}
    if not unclear:
        return labels
    possible = [o for o in ORDERS if all(o in days for days in read.values())]
    order = _order(read, possible, known)
    out = dict(labels)
    for index in unclear:
        if order is None:
            out[index] = replace(labels[index], day=None, ambiguous=True)
        else:
            by_site = len(possible) > 1 and known.site.dates is not None
            out[index] = replace(labels[index], day=read[index][order], by_site=by_site)
    return out


def _readings(quantities: Sequence[Column], labels: dict[int, Label]) -> Readings:
    read: Readings = {}
    for column in quantities:
        if labels[column.index].day is None:
            continue
        for text in (*column.head.over.split(" / "), column.head.text):
            found = read_cell(text)
            if not isinstance(found, Problem) and found.readings:
                read[column.index] = dict(found.readings)
    return read


def _order(read: Readings, possible: Sequence[Order], known: Known) -> Order | None:
    if len(possible) == 1:
        return possible[0]
    if known.site.dates in possible:
        return known.site.dates
    forward = [o for o in possible if _runs_forward([read[i][o] for i in sorted(read)])]
    return forward[0] if len(forward) == 1 else None


def _runs_forward(days: Sequence[Day]) -> bool:
    keys = [(d.year or 0, d.month, d.day or 0) for d in days]
    return len(keys) > 2 and all(a < b for a, b in pairwise(keys))
