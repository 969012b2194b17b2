"""The words at the head of a row, as tables on their side and slips have them: "Date:", "Weight (lb)"."""

from __future__ import annotations

from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import is_value
from divert.ingest.tables.heading_rows import is_amount, is_day
from divert.ingest.tables.headings import QUANTITIES, Heading, read_heading

_LONGEST = 60  # characters
DATED = ("date", "day")
NAMED = ("source", "material", "product", "name", "fuel")  # says what came, or whose it was
_NO_LOAD = ("each", "hours", "people", "money")
AMOUNTS = tuple(f for f in QUANTITIES if f not in _NO_LOAD)


def head_of(cell: Cell, known: Known) -> Heading:
    """Return what a cell says as the head of its row; an empty Heading where it is none."""
    if not isinstance(cell, str) or len(cell) > _LONGEST or is_value(cell):
        return Heading()
    text = cell.rstrip(" :.")
    if ":" in text:  # "Month: April" says both the head and what stands under it
        return Heading()
    heading = read_heading(text, known)
    if known.names(text) or not heading.known:
        return Heading()
    worded = heading.said or heading.unit is not None or bool(heading.container)
    return heading if worded and not is_day(text) and not is_amount(text, known) else Heading()


def is_total(heading: Heading) -> bool:
    """Return whether a head speaks of a sum: such a form sums up loads, and is none itself."""
    return heading.field in ("total", "running")
