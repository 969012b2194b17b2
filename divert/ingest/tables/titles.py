"""The rows over a heading: titles, and pairs such as 'Source:' and a name beside it."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence

from divert.ingest.cells.mark import is_total_label
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text, is_number, is_value
from divert.ingest.tables.heading import QUANTITIES, Heading
from divert.ingest.tables.heading_rows import answers, holds_an_entry, is_day
from divert.ingest.tables.headings import read_heading
from divert.ingest.tables.table import Head
from divert.ingest.tables.years_across import year_of


def rows_of_titles(
    sheet: Sheet, start: int, top: int, known: Known, above: Sequence[Head] = ()
) -> list[int]:
    """Return the rows right above a heading that speak of it: a few texts each, one gap allowed.

    ``above``: the heads of the table before, whose last entries are no titles of the next.
    """
    amounts = {h.column for h in above if h.heading.field in QUANTITIES or h.heading.unit}
    asked = {h.column: h.heading.field for h in above if h.heading.known}
    rows: list[int] = []
    row = top - 1
    gap = False
    while row >= start:
        cells = [c for c in sheet.row(row) if c is not None]
        if not cells:
            if gap or (rows and start > 0):
                break
            gap = True
            row -= 1
            continue
        if (
            len(cells) > 4
            or not (any(_may_title(c) for c in cells) or _is_lone_day(cells))
            or _looks_like_data(cells, known)
            or any(_is_number(sheet.columns[c].at(row)) for c in amounts)
            or answers(sheet.row(row), asked, known)
        ):
            break
        rows.insert(0, row)
        row -= 1
    return list(range(rows[0], top)) if rows else []


def _is_number(cell: Cell) -> bool:
    return isinstance(cell, int | float) or (isinstance(cell, str) and is_number(cell))


def _is_lone_day(cells: Sequence[Cell]) -> bool:
    return len(cells) == 1 and isinstance(cells[0], dt.date)


def _may_title(cell: Cell) -> bool:
    return isinstance(cell, str) or year_of(as_text(cell)) is not None


def _looks_like_data(cells: Sequence[Cell], known: Known) -> bool:
    first = as_text(cells[0])
    values = sum(is_value(c) for c in cells)
    named = any(known.names(t) for t in map(as_text, cells))
    paired = first.endswith(":") or read_heading(first, known).said
    return (
        (named and not paired and len(cells) > 1 and (values > 0 or holds_an_entry(cells, known)))
        or (is_total_label(first) and not known.names(first))
        or (values >= 1 and len(cells) > 2 and not first.endswith(":") and not _answers_each(cells))
        or (len(cells) == 2 and values == 2)
        or (len(cells) == 2 and values == 1 and is_day(cells[0]))  # "5th | 22"
    )


def _answers_each(cells: Sequence[Cell]) -> bool:
    """Return whether words and values take turns: "Odometer out | 48210 | Odometer in | 48233"."""
    asked, told = cells[::2], cells[1::2]
    words = all(isinstance(c, str) and not is_value(c) and not is_day(c) for c in asked)
    return words and len(asked) == len(told) and all(is_value(c) for c in told)


def titles_of(
    sheet: Sheet, rows: Iterable[int], known: Known
) -> tuple[tuple[str, ...], tuple[tuple[str, str], ...]]:
    """Return the titles, nearest first, and the pairs such as ("source", "Harborside Hotel")."""
    titles: list[str] = []
    pairs: list[tuple[str, str]] = []
    for row in rows:
        cells = [as_text(c) for c in sheet.row(row) if c is not None]
        at = 0
        while at < len(cells):
            heading = read_heading(cells[at].rstrip(": "), known)
            if _pairs(cells[at].rstrip(": "), heading, cells[at + 1 : at + 2], known):
                pairs.append((heading.field, cells[at + 1]))
                at += 2
                continue
            inline = re.match(r"([^:]{1,30}):\s*(.+)", cells[at])
            named = read_heading(inline[1], known) if inline else Heading()
            if inline and _pairs(inline[1], named, [inline[2]], known):
                pairs.append((named.field, inline[2]))
            titles.append(cells[at])
            at += 1
    return tuple(reversed(titles)), tuple(pairs)


def _pairs(text: str, heading: Heading, values: Sequence[str], known: Known) -> bool:
    """Return whether a word and what follows make a pair: in "School: coffee, kg" the school is a name."""
    said = heading.known and heading.said and bool(values)
    return said and (not known.names(text) or any(map(known.names, values)))
