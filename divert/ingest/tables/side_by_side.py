"""Tables that stand beside each other under one row of headings."""

from __future__ import annotations

from collections.abc import Sequence

from divert.ingest.sheet import Sheet
from divert.ingest.tables.table import Head


def side_by_side(sheet: Sheet, heads: list[Head], first: int, end: int) -> list[list[Head]]:
    """Part a heading row into tables that stand beside each other, each with a date of its own."""
    runs: list[list[Head]] = []
    for head in heads:
        adjoins = runs and all(
            _has_data(sheet, c, first, end) for c in range(runs[-1][-1].column + 1, head.column)
        )
        if adjoins:
            runs[-1].append(head)
        else:
            runs.append([head])
    if len(runs) > 1 and all(_own_date(r) and len(r) >= 2 for r in runs):
        return [part for run in runs for part in _at_second_date(run)]
    return _at_second_date(heads)


def _own_date(heads: Sequence[Head]) -> bool:
    return any(h.heading.field in ("date", "day") for h in heads)


def _at_second_date(heads: list[Head]) -> list[list[Head]]:
    fields = [h.heading.field if h.heading.said else "" for h in heads]
    first = next((f for f in fields if f in ("date", "day")), "")
    starts = [i for i, field in enumerate(fields) if field and field == first]
    if len(starts) < 2:
        return [heads]
    parts = [heads[a:b] for a, b in zip([0, *starts[1:]], [*starts[1:], len(heads)], strict=True)]
    kinds = [{h.heading.field for h in p} for p in parts]
    again = all(k & {"quantity", "weight", "count", "volume", "gross"} for k in kinds)
    repeated = all(len(k & kinds[0]) >= 2 for k in kinds[1:])  # the day, and what was brought
    return parts if again and repeated else [heads]


def _has_data(sheet: Sheet, column: int, first: int, end: int) -> bool:
    return bool((sheet.columns[column].codes[first : min(end, first + 200)] >= 0).any())
