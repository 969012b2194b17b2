"""What did not count, entry by entry: set aside, and skipped with the reason."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pandas as pd

from divert.convert import Workings
from divert.core.words import N_, Text


def left_out_json(workings: Workings) -> dict[str, list[dict[str, Any]]]:
    """Return every entry set aside and every one skipped, with its place, words and reason."""
    return {
        "set_aside": _records(workings.set_aside, "code"),
        "skipped": _records(workings.reading.skipped, "reason", "rows"),
    }


def skipped_lines(workings: Workings) -> Iterator[Text]:
    """Yield what was skipped, by reason and sheet, with the rows and their first words."""
    skipped = workings.reading.skipped
    if skipped.empty:
        return
    yield Text("")
    yield Text(N_("Skipped, because they are no entries:"))
    for reason, alike in skipped.groupby("reason", sort=False):
        yield Text(
            N_("  {code}: {count}"), {"code": Text(str(reason)), "count": int(alike["rows"].sum())}
        )
        for (file, sheet), rows in alike.groupby(["file", "sheet"], sort=False, observed=True):
            place = "!".join(part for part in (str(file), str(sheet)) if part)
            yield Text(N_("    {place}: {rows}"), {"place": place, "rows": _rows(rows)})


def _records(frame: pd.DataFrame, *reason: str) -> list[dict[str, Any]]:
    columns = ["file", "sheet", "row", "column", "found", *reason]
    return [
        dict(zip(columns, row, strict=True))
        for row in zip(*(frame[c].tolist() for c in columns), strict=True)
    ]


def _rows(frame: pd.DataFrame) -> str:
    """Return rows as 3 “Total”, 7–9, 12: runs of rows that say nothing are drawn together."""
    said: list[str] = []
    start = end = 0
    places = frame[["row", "found", "rows"]].drop_duplicates().sort_values("row", kind="stable")
    for row, found, count in zip(*(places[c].tolist() for c in places), strict=True):
        words = " ".join(str(found or "").split())
        if words:
            said.append(f"{row} “{words[:40]}{'…' if len(words) > 40 else ''}”")
            end = 0
            continue
        if row != end + 1 or not end:
            said.append("")
            start = row
        end = row + count - 1
        said[-1] = str(start) if end == start else f"{start}–{end}"
    return ", ".join(said)
