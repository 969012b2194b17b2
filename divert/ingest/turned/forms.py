"""The words at the head of a row, as tables on their side and slips have them: "Date:", "Weight (lb)"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare, phrases, words
from divert.ingest.sheet import Sheet, as_text, is_value
from divert.ingest.tables.heading import QUANTITIES, Heading
from divert.ingest.tables.heading_rows import is_amount, is_day
from divert.ingest.tables.headings import read_heading
from divert.ingest.turned.build import At, filled

_LONGEST = 60  # characters
_NONE = Heading()
DATED = ("date", "day")
NAMED = ("source", "material", "product", "name", "fuel")  # says what came, or whose it was
AMOUNTS = tuple(f for f in QUANTITIES if f != "each")


def head_of(cell: Cell, known: Known) -> Heading:
    """Return what a cell says as the head of its row; an empty Heading where it is none."""
    if not isinstance(cell, str) or len(cell) > _LONGEST:
        return _NONE
    return _head_of_text(cell, known)


@lru_cache(maxsize=16384)
def _head_of_text(cell: str, known: Known) -> Heading:
    if is_value(cell):
        return Heading()
    text = cell.rstrip(" :.")
    if ":" in text:  # "Month: April" says both the head and what stands under it
        return Heading()
    heading = read_heading(text, known)
    if known.names(text) or not heading.known:
        return Heading()
    worded = heading.said or heading.unit is not None or bool(heading.container)
    return heading if worded and not is_day(text) and not is_amount(text, known) else Heading()


def title_lines(sheet: Sheet, rows: Iterable[int], known: Known) -> list[list[At]]:
    """Return the titles over a table as lines of the turned sheet, and one left blank under them.

    Each title has a line of its own, so that it heads no column; "Source: | Hotel" stays together.
    """
    lines: list[list[At]] = []
    for row in rows:
        cells = filled(sheet, row)
        text = as_text(cells[0].cell)
        head = head_of(text, known)
        paired = len(cells) == 2 and (text.endswith(":") or (head.said and not head.label))
        lines += [cells] if paired else [[one] for one in cells]
    return [*lines, []] if lines else []


def is_example(sheet: Sheet) -> bool:
    """Return whether any text of a sheet of forms says that it only shows how to fill them in."""
    said = re.compile(rf"(?<!\w)(?:{phrases(words('diary')['example'])})(?!\w)")
    texts = (c for column in sheet.columns for c in column.cells if isinstance(c, str))
    return said.search(bare(sheet.name)) is not None or any(said.search(bare(t)) for t in texts)
