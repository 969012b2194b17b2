"""Tables on their side: headings down a column, and each column beside them an entry.

Several may stand one under another, each under a title of its own. Every row that has cells must have
a heading, and most of what stands beside the date's must be days; else the sheet is no such table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from divert.ingest.arrays import Bools, Codes
from divert.ingest.cells import mark
from divert.ingest.cells.unit import read_cell as read_unit
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, letter
from divert.ingest.tables.heading_rows import is_day
from divert.ingest.turned.build import At, Span, Turned, at, build, filled
from divert.ingest.turned.forms import AMOUNTS, DATED, head_of, is_example
from divert.ingest.turned.quiet import is_quiet
from divert.words import N_, Text

_LEAST = 3  # different headings down a column
_MOST = 0.7  # of the rows with something beside them must be headed by a known word
_COLUMNS = 4  # the first of them may hold the headings
_DISTINCT = 500  # texts down a column of headings, notes and titles among them
_DAYS = 0.6  # of what stands beside the date's heading must be days


@dataclass(frozen=True)
class _Block:
    """Rows of one table on its side, and the rows of titles over it."""

    titles: tuple[int, ...]
    rows: tuple[int, ...]
    date: int


def on_its_side(sheet: Sheet, known: Known) -> Turned | None:
    """Return a sheet of tables on their side as one of ordinary tables; None for any other."""
    for column in range(min(_COLUMNS, len(sheet.columns))):
        if not 0 < len(sheet.columns[column].cells) <= _DISTINCT:
            continue
        fields = {
            code: heading.field
            for code, cell in enumerate(sheet.columns[column].cells)
            if (heading := head_of(cell, known)).known
        }
        if not set(DATED) & set(fields.values()) or not set(AMOUNTS) & set(fields.values()):
            continue
        blocks = _blocks(sheet, column, fields)
        if (
            blocks
            and all(_is_table(sheet, column, b, fields, known) for b in blocks)
            and _ends(sheet, blocks[-1], known)
            and not is_example(sheet)
        ):
            return _turned(sheet, column, blocks, known)
    return None


def _beside(sheet: Sheet, column: int) -> Bools:
    """Return the rows that hold something right of a column."""
    out = np.zeros(sheet.height, dtype=bool)
    for other in sheet.columns[column + 1 :]:
        out |= other.codes >= 0
    return out


def _blocks(sheet: Sheet, column: int, fields: dict[int, str]) -> list[_Block]:
    codes = sheet.columns[column].codes
    beside = _beside(sheet, column)
    head = [fields.get(int(c), "") for c in codes]
    known_rows = sum(1 for r in np.flatnonzero(beside) if head[r])
    dated = next(f for f in DATED if f in fields.values())
    dates = [r for r in np.flatnonzero(beside).tolist() if head[r] == dated]
    if not dates or known_rows < _MOST * beside.sum():
        return []
    over = _rows_over(sheet, column, dates[0])
    starts = [_start(codes, d, dates[0], over) for d in dates]
    blocks: list[_Block] = []
    after = 0
    for place, (start, date) in enumerate(zip(starts, dates, strict=True)):
        end = starts[place + 1] if place + 1 < len(starts) else sheet.height
        last = max(r for r in range(start, end) if beside[r])
        rows = [
            r for r in range(start, end)
            if codes[r] >= 0 and (r <= last or _names_no_more(sheet, column, r, head[r]))
        ]  # fmt: skip
        titles = tuple(
            r for r in range(after, start) if any(c.codes[r] >= 0 for c in sheet.columns)
        )
        blocks.append(_Block(titles, tuple(rows), date))
        after = rows[-1] + 1
    return blocks


def _names_no_more(sheet: Sheet, column: int, row: int, field: str) -> bool:
    """Return whether a row without entries is a field left blank: "Notes", not "Hotel food scraps"."""
    text = str(sheet.columns[column].at(row))
    return bool(field) and len(text.split()) <= 2 and not any(c.isdigit() for c in text)


def _filled(sheet: Sheet, column: int, row: int) -> int:
    return sum(int(c.codes[row]) >= 0 for c in sheet.columns[column + 1 :])


def _rows_over(sheet: Sheet, column: int, date: int) -> int:
    """Return how many rows right above the date's belong to its table: they hold as many entries."""
    row, codes = date, sheet.columns[column].codes
    least = max(2, 0.5 * _filled(sheet, column, date))
    while row and codes[row - 1] >= 0 and _filled(sheet, column, row - 1) >= least:
        row -= 1
    return date - row


def _start(codes: Codes, date: int, first: int, over: int) -> int:
    """Return the first row of a table: further ones have the rows over their date that the first has."""
    rows = range(1, over + 1)
    same = next((n for n in rows if date < n or codes[date - n] != codes[first - n]), over + 1)
    return date - (same - 1)


def _is_table(
    sheet: Sheet, column: int, block: _Block, fields: dict[int, str], known: Known
) -> bool:
    codes = sheet.columns[column].codes
    said = [fields[c] for r in block.rows if (c := int(codes[r])) in fields]
    if len(set(said)) < _LEAST or not set(said) & set(AMOUNTS):
        return False
    dated = next(f for f in DATED if f in fields.values())
    if said.count(dated) != 1:
        return False
    inside = range(block.rows[0], block.rows[-1] + 1)
    others = [r for r in inside if r not in block.rows]
    loose = any(c.codes[r] >= 0 for r in others for c in sheet.columns)
    left = any(c.codes[r] >= 0 for c in sheet.columns[:column] for r in block.rows)
    if loose or left:
        return False
    texts = [sheet.columns[column].at(r) for r in block.rows]
    if len(set(texts)) < len(texts):
        return False
    return _days(sheet, column, block.date, known)


def _ends(sheet: Sheet, last: _Block, known: Known) -> bool:
    """Return whether nothing but words that hold no entry stands under the last table."""
    below = range(last.rows[-1] + 1, sheet.height)
    return all(c is None or is_quiet(c, known) for r in below for c in sheet.row(r))


def _days(sheet: Sheet, column: int, row: int, known: Known) -> bool:
    """Return whether days stand beside the date's heading, sums and marks aside."""
    cells = [c.at(row) for c in sheet.columns[column + 1 :]]
    if any(head_of(c, known).field in DATED for c in cells):
        return False  # forms side by side
    said = [
        c for c in cells
        if c is not None
        and not (isinstance(c, str) and (mark.is_total_label(c) or mark.read_start(c)))
    ]  # fmt: skip
    return bool(said) and sum(map(is_day, said)) >= _DAYS * len(said)


def _turned(sheet: Sheet, column: int, blocks: Sequence[_Block], known: Known) -> Turned | None:
    if all(_filled(sheet, column, b.date) < 2 for b in blocks):
        return None  # one entry each: slips, which may be laid out more freely
    lines: list[list[At]] = []
    entries: list[int] = []
    merged: list[Span] = []
    spoken: set[int] = set()
    for block in blocks:
        lines += [[], []] * bool(lines)  # two, so that no last line passes for the next one's title
        for row in block.titles:
            lines.append(filled(sheet, row))
        units = _units_beside(sheet, column, block, known)
        lines.append([_head(at(sheet, r, column), units.get(r)) for r in block.rows])
        left = column + 1 + bool(units)
        first = len(lines)
        last = max(
            c for c in range(column + 1, len(sheet.columns)) for r in block.rows
            if sheet.columns[c].codes[r] >= 0
        )  # fmt: skip
        for c in range(left, last + 1):
            entries += [len(lines)] * any(sheet.columns[c].codes[r] >= 0 for r in block.rows)
            lines.append([at(sheet, r, c) for r in block.rows])
        merged += _merged(sheet, block, left, first)
        spoken |= {*block.titles, *block.rows}
    how = Text(
        N_("a table on its side: headings down column {letter}, each column beside them an entry"),
        {"letter": letter(column)},
    )
    return Turned(build(sheet, lines, how, merged), frozenset(spoken), tuple(entries))


def _units_beside(sheet: Sheet, column: int, block: _Block, known: Known) -> dict[int, str]:
    """Return the units that stand alone in the column beside the headings: "Weight | lb | 20 | 22"."""
    if column + 1 >= len(sheet.columns):
        return {}
    cells = {r: c for r in block.rows if (c := sheet.columns[column + 1].at(r)) is not None}
    texts = {r: c.strip("() ") for r, c in cells.items() if isinstance(c, str)}
    unit = known.trade.meaning
    return (
        texts
        if texts
        and all(t and read_unit(t, unit) for t in texts.values())
        and len(texts) == len(cells)
        else {}
    )


def _head(head: At, unit: str | None) -> At:
    return head if unit is None else At(f"{head.cell} ({unit})", head.row, head.column)


def _merged(sheet: Sheet, block: _Block, left: int, first: int) -> list[Span]:
    """Return the merges among a table's entries as they lie once it is turned (from 1, as in a Sheet)."""
    place = {r: i for i, r in enumerate(block.rows)}
    return [
        (first + c1 - 1 - left + 1, place[r1 - 1] + 1, first + c2 - 1 - left + 1, place[r2 - 1] + 1)
        for r1, c1, r2, c2 in sheet.merged
        if r1 - 1 in place and r2 - 1 in place and c1 - 1 >= left
    ]
