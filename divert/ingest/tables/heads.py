"""The head of each column, from the one to three rows that make up a heading."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence

from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.mark import is_total_label
from divert.ingest.cells.mark import read_cell as read_mark
from divert.ingest.cells.problem import Problem
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text, is_value
from divert.ingest.tables.heading import Heading
from divert.ingest.tables.heading_rows import holds_an_entry, is_date_head
from divert.ingest.tables.headings import read_heading
from divert.ingest.tables.month_across import days_across
from divert.ingest.tables.table import OVER, Head


def may_continue(sheet: Sheet, row: int, known: Known) -> bool:
    """Return whether a row under a heading may carry it on: short texts, none of them data."""
    if row >= sheet.height:
        return False
    cells = [c for c in sheet.row(row) if c is not None]
    if not cells or any(not isinstance(c, str) or is_value(c) or len(c) > 40 for c in cells):
        return False
    texts = [as_text(c) for c in cells]
    if any((is_total_label(t) or read_mark(t)) and not known.names(t) for t in texts):
        return False
    if any(not isinstance(read_date(t), Problem) for t in texts):
        return False
    if len(texts) == 1 and known.names(texts[0]):
        return False  # the first of the groups below, not a part of the heading
    if len(texts) == 1 and sheet.row(row)[0] is not None and re.search(r"[^\W\d_] ?\d", texts[0]):
        return (
            False  # "Unit 4B", alone at the left over loads: a title, and no second line of "Date"
        )
    whose = [t for t in texts if known.sources.find(t)]
    what = [t for t in texts if known.materials.find(t) and t not in whose]
    if whose and what and len(texts) >= 3:
        return False  # "School | food scraps | tote | full" is an entry in words
    headed = [t for t in texts if read_heading(t, known).known or t.startswith("(")]
    return len(headed) >= max(1, 0.5 * len(texts))


def may_group(sheet: Sheet, row: int, under: int, known: Known) -> bool:
    """Return whether a row over a heading groups its columns, and is no title."""
    if row < 0:
        return False
    filled = [i for i, c in enumerate(sheet.row(row)) if c is not None]
    below = [i for i, c in enumerate(sheet.row(under)) if c is not None]
    cells = [sheet.columns[i].at(row) for i in filled]
    if not filled or not below or any(is_value(c) and not is_date_head(c) for c in cells):
        return False
    if any(isinstance(c, str) and len(c) > 60 for c in cells):
        return False
    if any(isinstance(c, str) and c.rstrip().endswith(":") for c in cells):
        return False  # "Driver: | RT" speaks of the sheet, not of a column
    days = sum(is_date_head(c) for c in cells)
    if days == 1 and len(filled) > 1 and any(isinstance(c, dt.date) for c in cells):
        return False
    if days < 2 and holds_an_entry(cells, known):
        return False  # a row of entries above a heading that is printed once more
    if len(filled) == 1:
        span = next(
            (m for m in sheet.merged if m[0] <= row + 1 <= m[2] and m[1] == filled[0] + 1), None
        )
        narrow = span is not None and span[3] > span[1] and span[3] < max(below) + 1
        return filled[0] > min(below) and (narrow or span is None)
    return True


def heads_of(sheet: Sheet, span: Sequence[int], known: Known) -> list[Head]:
    """Return the head of each column under a heading of one to three rows."""
    heads = []
    texts = [spread(sheet, r, span[-1]) for r in span]
    numbered = next((i for i, r in enumerate(span) if days_across(sheet.row(r))), 0)
    numbers = days_across(sheet.row(span[numbered]))
    for column in range(len(sheet.columns)):
        own = [t[column] for t in texts if t[column] is not None]
        parts = list(dict.fromkeys(as_text(c) for c in own))
        if not parts:
            continue
        cell = next((c for c in own if isinstance(c, dt.date)), own[-1])
        if column in numbers:
            above = [as_text(t[column]) for t in texts[:numbered] if t[column] is not None]
            over = OVER.join(dict.fromkeys(above))
            heads.append(Head(column, str(numbers[column]), over, Heading(), cell, numbers[column]))
            continue
        heads.append(_head(column, parts, cell, known))
    return heads


def _head(column: int, parts: list[str], cell: Cell, known: Known) -> Head:
    """Read the heading of a column from its parts, top first: "Weight" over "(lb)", a name over "totes"."""
    if len(parts) > 2 and _is_unit_of(parts[-2], parts[-1], known):
        parts = [*parts[:-2], f"{parts[-2]} ({parts[-1].strip('()')})"]  # "Scale / Gross / lb"
    joined = " ".join(parts)
    if len(parts) == 1:
        return Head(column, joined, "", _read(joined, known), cell)
    over, own = OVER.join(parts[:-1]), parts[-1]
    named = [p for p in parts[:-1] if known.names(p)]
    if len(named) > 1:
        return Head(column, own, over, read_heading(own, known), cell)
    top, low = read_heading(over, known), _read(own, known)
    if known.names(over):
        return Head(column, own, over, low, cell)
    both = read_heading(joined, known)
    if low.known and (not top.known or (top.label and not low.label)):
        return Head(column, own, over, low, cell)
    if top.known and not low.known and not low.label:
        return Head(column, joined, "", both if both.known else top, cell)
    if (
        low.field in ("weight", "volume")
        and not low.said
        and top.known
        and top.field not in ("date", "source", "material")
    ):
        return Head(column, joined, "", both if both.known else low, cell)
    if low.known and top.known and low.field != top.field and both.field != low.field:
        return Head(column, joined, "" if top.said else over, low if low.said else both, cell)
    return Head(column, joined, "" if both.known else over, both if both.known else low, cell)


def _read(text: str, known: Known) -> Heading:
    """Return what a heading says; "Week of 3/4" is a week, not a column of dates."""
    heading = read_heading(text, known)
    told = heading.field == "date" and any(c.isdigit() for c in text) and is_date_head(text)
    return Heading(text, label=text) if told else heading


def _is_unit_of(text: str, under: str, known: Known) -> bool:
    """Return whether a word that heads a column in full has nothing but its unit under it."""
    above, below = read_heading(text, known), read_heading(under, known)
    return above.said and below.unit is not None and not below.said and not below.label


def spread(sheet: Sheet, row: int, last: int) -> list[Cell]:
    """Return a heading row with each group label over all the columns it spans."""
    cells = sheet.row(row)
    if row == last:
        return cells
    spans = [m for m in sheet.merged if m[0] <= row + 1 <= m[2] and m[3] > m[1]]
    if sheet.merged:
        for r1, c1, _, c2 in spans:
            value = sheet.columns[c1 - 1].at(r1 - 1) if c1 <= len(sheet.columns) else None
            for column in range(c1 - 1, min(c2, len(cells))):
                cells[column] = value
        return cells
    below = sheet.row(last)
    current: Cell = None
    for column, cell in enumerate(cells):
        if cell is not None:
            current = cell if below[column] is not None else None
        elif below[column] is None:
            current = None
        else:
            cells[column] = current
    return cells
