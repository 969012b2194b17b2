"""Which table of its sheet a row lies in; the counts of each once conversion has refused rows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import pandas as pd

from divert.core.reading import SheetTaken


def tables_by_sheet(sheets: Sequence[SheetTaken]) -> dict[tuple[str, str], list[int]]:
    """Return the places of each sheet's tables by (file, sheet), in the order they were read."""
    found: dict[tuple[str, str], list[int]] = {}
    for place, taken in enumerate(sheets):
        found.setdefault((taken.file, taken.sheet), []).append(place)
    return found


def above(row: int, places: Sequence[int], sheets: Sequence[SheetTaken]) -> list[int]:
    """Return the places of the tables that begin above a row, the nearest first."""
    starts = {place: sheets[place].heading_row or 0 for place in places}
    return sorted((p for p in places if starts[p] < row), key=starts.__getitem__, reverse=True)


def sheets_with_refusals(
    sheets: Sequence[SheetTaken], refused: pd.DataFrame
) -> tuple[SheetTaken, ...]:
    """Return the tables with the refused rows moved from used to set aside.

    ``refused``: file, sheet and row of entries that reading used and conversion did not. A row
    belongs to the last table of its sheet that begins above it and still has one used.
    """
    tables = tables_by_sheet(sheets)
    moved: Counter[int] = Counter()
    for file, sheet, row in zip(refused["file"], refused["sheet"], refused["row"], strict=True):
        places = tables.get((str(file), str(sheet)), [])
        nearest_first = (*above(int(row), places, sheets), *places)
        place = next((p for p in nearest_first if sheets[p].used > moved[p]), None)
        if place is not None:
            moved[place] += 1
    return tuple(
        replace(taken, used=taken.used - moved[place], set_aside=taken.set_aside + moved[place])
        for place, taken in enumerate(sheets)
    )
