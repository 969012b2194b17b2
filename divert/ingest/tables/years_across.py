"""Years across a heading, months down: "Month | 2023 | 2024 | 2025"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import as_text
from divert.ingest.tables.headings import read_heading

_YEAR = re.compile(r"(?:19|20)\d\d")
_DATED = ("month", "date", "day")


def year_of(text: str) -> int | None:
    """Return the year that is all a text says."""
    return int(text) if _YEAR.fullmatch(text) else None


def heads_years(cells: Sequence[Cell], known: Known) -> bool:
    """Return whether a row heads months with years: a word for the month, and rising years beside it."""
    texts = [as_text(c) for c in cells if c is not None]
    if len(texts) < 3 or read_heading(texts[0], known).field not in _DATED:
        return False
    return rising_years(texts[1:])


def rising_years(texts: Sequence[str]) -> bool:
    """Return whether years that rise head columns, with two other columns at most."""
    years = [year for t in texts if (year := year_of(t)) is not None]
    return len(years) >= 2 and years == sorted(set(years)) and len(years) >= len(texts) - 2
