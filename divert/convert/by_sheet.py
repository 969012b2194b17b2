"""The counts of each table read, once conversion has refused rows of its own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import pandas as pd

from divert.reading import SheetTaken


def sheets_with_refusals(
    sheets: Sequence[SheetTaken], refused: pd.DataFrame
) -> tuple[SheetTaken, ...]:
    """Return the tables with the refused rows moved from used to set aside.

    ``refused``: file, sheet and row of entries that reading used and conversion did not. A row
    belongs to the last table of its sheet that begins above it and still has one used.
    """
    moved: Counter[int] = Counter()
    rows = zip(refused["file"], refused["sheet"], refused["row"], strict=True)
    for file, sheet, row in rows:
        place = _table_of(sheets, str(file), str(sheet), int(row), moved)
        if place is not None:
            moved[place] += 1
    return tuple(
        replace(taken, used=taken.used - moved[place], set_aside=taken.set_aside + moved[place])
        for place, taken in enumerate(sheets)
    )


def _table_of(
    sheets: Sequence[SheetTaken], file: str, sheet: str, row: int, moved: Counter[int]
) -> int | None:
    places = [
        place
        for place, taken in enumerate(sheets)
        if (taken.file, taken.sheet) == (file, sheet) and taken.used > moved[place]
    ]
    above = [place for place in places if (sheets[place].heading_row or 0) < row]
    if above:
        return max(above, key=lambda place: (sheets[place].heading_row or 0, -place))
    return places[0] if places else None
