"""Two weighings of one load: words that are opposites, and numbers of which one is always the larger.

Words alone are not enough, and numbers alone are not: "Prepared" and "Served" are no weighings of a
load, though the first is always the larger. Where a third column is the difference of two on every
row and one of them hardly changes, as what an empty truck or tote weighs does, no words are needed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations

import numpy as np

from divert.ingest.cells.container import singular
from divert.ingest.lexicon import bare, words
from divert.ingest.tables.columns import Column
from divert.ingest.tables.numbers import Numbers, above, adds_up, equal_ones, numbers_of, spread

_STEADY = 0.06  # what an empty vehicle or container weighs hardly changes from load to load
_SORTED = 0.5  # of a load at least is left when its rubbish has been picked out
_OTHER = ("removed", "contamination", "each", "total", "running", "price", "money")


@dataclass(frozen=True)
class _Weighed:
    column: Column
    numbers: Numbers
    full: frozenset[str]
    empty: frozenset[str]
    rest: frozenset[str]
    spread: float

    __hash__ = object.__hash__


def two_weighings(columns: list[Column]) -> list[Column]:
    """Take two weighings of each load for its gross and its tare, and their difference for the net."""
    may = [c for c in columns if _may_weigh(c)]
    if len(may) < 2 or (len(may) == 2 and {c.field for c in may} == {"gross", "tare"}):
        return columns
    weighed = [_weighed(c) for c in may]
    sums = [numbers_of(c) for c in columns if c.field == "total"]
    if any(adds_up(total, [w.numbers for w in weighed], 1) for total in sums):
        return columns
    every = np.stack([w.numbers for w in weighed])
    for one, other in combinations(weighed, 2):
        opposed = _opposed(one, other)
        if not opposed and min(one.spread, other.spread) > _STEADY:
            continue  # neither by their words nor by what hardly changes
        both = (one.full and other.empty) or (other.full and one.empty)
        numbered = (one.full | one.empty | other.full | other.empty) <= _said("numbers")
        alone = len(weighed) == 2 and not numbered
        least = 1 if both and alone else 2  # rows
        large, small = (one, other) if above(one.numbers, other.numbers, 1) else (other, one)
        if not above(large.numbers, small.numbers, least):
            continue
        equals = equal_ones(every, large.numbers - small.numbers)
        if both and _less_what_held_it(small):
            return [_settled(c, large, None, small) for c in columns]
        rest = (weighed[n] for n in equals if weighed[n] is not large and weighed[n] is not small)
        net = next(rest, None)
        if opposed and net is None and _may_be_sorted(large, small):
            if both:  # a load and what was left of it, or a load and its box: nobody can tell
                pair = {large.column.index, small.column.index}
                return [replace(c, field="other") if c.index in pair else c for c in columns]
        elif opposed and numbered and net is None and small.spread > _STEADY:
            return columns  # "Bin 1 | Bin 2" may as well be two loads, as all the others
        elif opposed or (net is not None and _steady(small, net)):
            return [_settled(c, large, small, net) for c in columns]
    return columns


def _may_weigh(column: Column) -> bool:
    unit = column.heading.unit
    massive = unit is not None and unit.dimension == "mass"
    plain = unit is None and column.field in ("gross", "tare", "weight", "quantity")
    in_words = column.content.quantities > 0.6 > column.content.numbers + column.content.fills
    plain |= column.field in ("", "other", "fill") and in_words  # "9 t" under "Loaded", or "Full"
    amounts = max(column.content.numbers, column.content.quantities) > 0.6
    return column.field not in _OTHER and (massive or plain) and amounts


@lru_cache
def _said(name: str) -> frozenset[str]:
    return frozenset(form for word in words("weighings")[name] for form in (word, singular(word)))


def _weighed(column: Column) -> _Weighed:
    text = re.sub(r"[(\[].*?[)\]]", " ", bare(column.head.text))
    if column.heading.unit_text:
        text = re.sub(rf"\b{re.escape(bare(column.heading.unit_text))}\b", " ", text)
    tokens = {singular(t) for t in re.findall(r"\w+|\+", text)} - _said("filler")
    full, empty = tokens & _said("full"), tokens & _said("empty")
    return _Weighed(
        column,
        numbers := numbers_of(column, in_words=True),
        frozenset(full),
        frozenset(empty),
        frozenset(tokens - full - empty),
        spread(numbers),
    )


def _opposed(one: _Weighed, other: _Weighed) -> bool:
    """Return whether two heads say the same but for words that are opposites."""
    both = (one.full and other.empty) or (other.full and one.empty)
    either = one.full or other.full or one.empty or other.empty
    if not both and not (either and one.rest & other.rest):
        return False
    return not (one.rest - other.rest and other.rest - one.rest)  # "Food in", "Trash out"


def _may_be_sorted(large: _Weighed, small: _Weighed) -> bool:
    """Return whether "before" and "after" may tell a load and what was left when it was picked over."""
    words = large.full | large.empty | small.full | small.empty
    held = (large.rest | small.rest) & _said("held")
    if not words <= _said("either") or held or (large.empty and small.full):
        return False
    with np.errstate(invalid="ignore", divide="ignore"):
        return not np.nanmedian(small.numbers / large.numbers) <= _SORTED


def _steady(small: _Weighed, net: _Weighed) -> bool:
    return small.spread <= _STEADY and net.spread > 2 * small.spread


_LESS = re.compile(
    r"\b(?:without|w/o|less|minus|sans|moins)\s+(?:the |a |le |la |son |sa )?([a-z]+)"
)


def _less_what_held_it(small: _Weighed) -> bool:
    """Return whether a head says what came, its box taken off: "Without bin", but not "Bin without"."""
    said = _LESS.search(bare(small.column.head.text))
    return said is not None and singular(said[1]) in _said("held")


def _settled(
    column: Column, large: _Weighed, small: _Weighed | None, net: _Weighed | None
) -> Column:
    field = {
        large.column.index: "gross",
        **({small.column.index: "tare"} if small is not None else {}),
        **({net.column.index: "weight"} if net is not None else {}),
    }.get(column.index)
    if field is None:
        return column
    heading = replace(column.heading, field=field, label="", container="", size_m3=None, fill=None)
    return replace(column, field=field, head=replace(column.head, heading=heading, over=""))


def nets(columns: Sequence[Column]) -> bool:
    """Return whether a net weight stands among columns, by its heading's own word."""
    return any(_said("net") & set(re.findall(r"\w+", bare(c.head.text))) for c in columns)
