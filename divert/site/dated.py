"""The same name written again: which entry holds from which day, and what it takes over."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from divert.core.findings import CannotRun
from divert.core.names import plain
from divert.core.words import N_, Text
from divert.site.table import Table


def versions(tables: Sequence[Table]) -> tuple[Table, ...]:
    """Return the tables, each completed with what an earlier version of the same name said.

    A later version says only what changed; ``also`` gathers, and ``proof`` is of the ``before`` it
    was written with. Raises CannotRun where one name stands twice from the same day.
    """
    groups: dict[str, list[tuple[dt.date, int]]] = {}
    for position, table in enumerate(tables):
        name = plain(table.required_text("name", "..."))
        groups.setdefault(name, []).append((table.day("from") or dt.date.min, position))
    done = list(tables)
    for members in groups.values():
        members.sort()
        for (day, earlier), (next_day, later) in pairwise(members):
            if day == next_day:
                raise _twice(tables[earlier], tables[later])
            done[later] = _completed(done[earlier], tables[later])
        _gather_spellings(done, [position for _, position in members])
    return tuple(done)


def unnamed_versions(tables: Sequence[Table]) -> tuple[Table, ...]:
    """Return the versions of a table that has no name, such as [[landfill]], completed alike."""
    ordered = sorted(enumerate(tables), key=lambda pair: pair[1].day("from") or dt.date.min)
    done = list(tables)
    for (earlier, _), (later, _) in pairwise(ordered):
        if tables[earlier].day("from") == tables[later].day("from"):
            raise _twice(tables[earlier], tables[later])
        done[later] = _completed(done[earlier], tables[later])
    return tuple(done)


def _completed(earlier: Table, later: Table) -> Table:
    taken = dict(earlier.values)
    taken.pop("from", None)
    if "before" in later.values:
        taken.pop("proof", None)
    values = {**taken, **later.values}
    if "name" in taken:
        values["name"] = taken["name"]  # "Pails" is a later version of "pail"
    return replace(later, values=values)


def _gather_spellings(tables: list[Table], positions: Sequence[int]) -> None:
    if len(positions) == 1 or not any(tables[p].has("also") for p in positions):
        return
    spellings = dict.fromkeys(s for p in positions for s in tables[p].texts("also"))
    for position in positions:
        table = tables[position]
        tables[position] = replace(table, values={**table.values, "also": list(spellings)})


def _twice(first: Table, second: Table) -> CannotRun:
    what = Text(
        N_("it is already written on line {line}. Write what changed with the day it took effect, "
           "from = 2025-04-01, or leave one of the two out."),
        {"line": str(min(first.line(), second.line()))},
    )  # fmt: skip
    return max((first, second), key=Table.line).says("", what)
