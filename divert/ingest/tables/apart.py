"""Rubbish of its own beside what came in: where a total holds both, or it is more than the load, it
was never a part of the load, and is not taken off it."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np

from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import Column
from divert.ingest.tables.numbers import Numbers, equal, numbers_of

_MASSES = ("weight", "quantity", "")
_TAKEN_OUT = re.compile(
    r"\b(?:remov\w*|pull\w*|pick\w*|out|sorted|taken|reject\w*|contamin\w*|contam|retir\w*|refus\w*|rejet\w*|tri|triees?"
    r"|enlev\w*|ote\w*|ecart\w*|impur\w*|indesirab\w*|non[- ]\w+|discard\w*|thrown)\b"
)


def without_apart(columns: list[Column]) -> list[Column]:
    """Leave rubbish unread that a total adds to the load, or of which there was more than of the load."""
    rubbish = [c for c in columns if c.field == "removed" and _plain_amount(c)]
    loads = [c for c in columns if c.field in _MASSES and _plain_amount(c)]
    if not rubbish or not loads:
        return columns
    values = {c.index: numbers_of(c) for c in (*rubbish, *loads)}
    totals = [numbers_of(c) for c in columns if c.field == "total" and c.content.numbers > 0.5]
    apart = {c.index for c in rubbish if _added(c, values, totals) or _more(c, loads, values)}
    return [replace(c, field="other") if c.index in apart else c for c in columns]


def may_be_apart(column: Column, material: str, heading: str) -> bool:
    """Return whether a head of rubbish says only what it was, beside a load that says what it was too."""
    return bool(material) and not _TAKEN_OUT.search(bare(column.head.text)) and bool(heading)


def _plain_amount(column: Column) -> bool:
    unit = column.heading.unit
    massive = unit is None or unit.dimension == "mass"
    return massive and not column.heading.percent and column.content.numbers > 0.5


def _added(column: Column, values: dict[int, Numbers], totals: list[Numbers]) -> bool:
    """Return whether a total is the sum of all amounts, this rubbish among them, on every row."""
    if not totals:
        return False
    stacked = np.stack(list(values.values()))
    both = np.where(np.isnan(values[column.index]), np.nan, np.nansum(stacked, axis=0))
    return any(equal(total, both) for total in totals)


def _more(column: Column, loads: list[Column], values: dict[int, Numbers]) -> bool:
    if _TAKEN_OUT.search(bare(column.head.text)):
        return False  # it says that it was taken out, so that its numbers are wrong
    own = values[column.index]
    return all(bool((own > values[c.index]).any()) for c in loads)
