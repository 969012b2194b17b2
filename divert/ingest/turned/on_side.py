"""Tables on their side: headings down a column, and each column beside them an entry.

Several may stand one under another, each under a title of its own. Every row that has cells must have
a heading, and most of what stands beside the date's must be days; else the sheet is no such table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from divert.core.words import N_, Text
from divert.ingest.cells import mark
from divert.ingest.cells.unit import read_cell as read_unit
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, letter
from divert.ingest.tables.heading_rows import is_day
from divert.ingest.turned.begins import log_column
from divert.ingest.turned.build import UNSAID, At, Span, Turned, at, build, filled
from divert.ingest.turned.forms import AMOUNTS, DATED, head_of, is_example, title_lines
from divert.ingest.turned.quiet import is_quiet

_LEAST = 3  # different headings down a column
_MOST = 0.7  # of the rows with something beside them must be headed by a known word
_ROWS = 5000  # a longer sheet is a log
_COLUMNS = 4  # the first of them may hold the headings
_DISTINCT = 500  # texts down a column of headings, notes and titles among them
_GROUPED = 4  # entries; of fewer, nobody can tell a blank from a name said once for several
_NAMES = (*DATED, "source", "material")
_DAYS = 0.6  # of what stands beside the date's heading must be days


@dataclass(frozen=True)
class _Block:
    """Rows of one table on its side, and the rows of titles over it."""

    titles: tuple[int, ...]
    rows: tuple[int, ...]
    date: int


def on_its_side(sheet: Sheet, known: Known) -> Turned | None:
    """Return a sheet of tables on their side as one of ordinary tables; None for any other."""
    if sheet.height > _ROWS:
        return None
    for column in _may_head(sheet):
        cells = sheet.columns[column].cells
        if not 0 < len(cells) <= _DISTINCT:
            continue
        texts = sheet.columns[column].texts
        if not {head_of(cells[code], known).field for code in texts} & set(AMOUNTS):
            continue
        heads = _heads(sheet, column, known)
        if not set(DATED) & set(heads.fields) or not set(AMOUNTS) & set(heads.fields):
            continue
        blocks = _blocks(sheet, heads)
        whole = bool(blocks) and all(_is_table(sheet, b, heads, known) for b in blocks)
        whole = whole and all(_titles(sheet, b, column) for b in blocks)
        if whole and _ends(sheet, blocks[-1], known) and not is_example(sheet):
            return _turned(sheet, heads, blocks, known)
    return None


def _may_head(sheet: Sheet) -> range:
    """Return the columns that may hold the headings.

    A row of three cells that begins with a value can be neither a title, nor what stands under the last
    table, nor part of a table whose headings stand further to the right.
    """
    most = min(_COLUMNS, len(sheet.columns))
    logged = log_column(sheet)
    return range(most if logged is None else min(most, logged + 1))


@dataclass(frozen=True)
class _Heads:
    """What stands in a column of headings, row by row: its text, its field, how many cells beside it."""

    column: int
    texts: list[Cell]
    fields: list[str]
    beside: list[int]

    @property
    def dated(self) -> str:
        """Return the field that says the day of each entry."""
        return next(f for f in DATED if f in self.fields)


def _heads(sheet: Sheet, column: int, known: Known) -> _Heads:
    own = sheet.columns[column]
    texts: list[Cell] = [own.cells[c] if c >= 0 else None for c in own.codes.tolist()]
    read = {c: head_of(c, known).field for c in own.cells}
    fields = [read[c] if c is not None else "" for c in texts]
    counts = np.zeros(sheet.height, dtype=np.int64)
    for other in sheet.columns[column + 1 :]:
        counts += other.codes >= 0
    beside = [int(n) for n in counts]
    if not set(DATED) & set(fields):  # days over the first heading need no word for what they are
        for row, (text, under) in enumerate(zip(texts, fields[1:], strict=False)):
            if text is not None or not under:
                continue
            over = [one.cell for one in filled(sheet, row)]
            if len(over) > 1 and all(map(is_day, over)):
                texts[row], fields[row] = "Date", "date"
    return _Heads(column, texts, fields, beside)


def _blocks(sheet: Sheet, heads: _Heads) -> list[_Block]:
    filled_rows = [r for r, n in enumerate(heads.beside) if n]
    headed = sum(bool(heads.fields[r]) for r in filled_rows)
    dates = [r for r in filled_rows if heads.fields[r] == heads.dated]
    if not dates or headed < _MOST * len(filled_rows):
        return []
    over = _rows_over(heads, dates[0])
    starts = [_start(heads, d, dates[0], over) for d in dates]
    blocks: list[_Block] = []
    after = 0
    for place, (start, date) in enumerate(zip(starts, dates, strict=True)):
        end = starts[place + 1] if place + 1 < len(starts) else sheet.height
        last = max(r for r in range(start, end) if heads.beside[r])
        rows = [
            r for r in range(start, end)
            if heads.texts[r] is not None and (r <= last or _left_blank(heads, r))
        ]  # fmt: skip
        titles = tuple(r for r in range(after, start) if filled(sheet, r))
        blocks.append(_Block(titles, tuple(rows), date))
        after = rows[-1] + 1
    return blocks


def _left_blank(heads: _Heads, row: int) -> bool:
    """Return whether a row without entries is a field left blank: "Notes", not "Hotel food scraps"."""
    text = str(heads.texts[row])
    return bool(heads.fields[row]) and len(text.split()) <= 2 and not any(c.isdigit() for c in text)


def _rows_over(heads: _Heads, date: int) -> int:
    """Return how many rows right above the date's belong to its table: they hold as many entries."""
    row = date
    least = max(2, 0.5 * heads.beside[date])
    while row and heads.texts[row - 1] is not None and heads.beside[row - 1] >= least:
        row -= 1
    return date - row


def _start(heads: _Heads, date: int, first: int, over: int) -> int:
    """Return the first row of a table: further ones have the rows over their date that the first has."""
    texts = heads.texts
    rows = range(1, over + 1)
    same = next((n for n in rows if date < n or texts[date - n] != texts[first - n]), over + 1)
    return date - (same - 1)


def _is_table(sheet: Sheet, block: _Block, heads: _Heads, known: Known) -> bool:
    said = [f for r in block.rows if (f := heads.fields[r])]
    if len(set(said)) < _LEAST or not set(said) & set(AMOUNTS) or said.count(heads.dated) != 1:
        return False
    inside = range(block.rows[0], block.rows[-1] + 1)
    loose = any(filled(sheet, r) for r in inside if r not in block.rows)
    left = any(one.column < heads.column for r in block.rows for one in filled(sheet, r))
    texts = [heads.texts[r] for r in block.rows]
    if loose or left or len(set(texts)) < len(texts):
        return False
    return _days(sheet, heads.column, block.date, known)


def _titles(sheet: Sheet, block: _Block, column: int) -> bool:
    """Return whether the rows over a table may be titles: two cells at most, none only beside it."""
    rows = [filled(sheet, r) for r in block.titles]
    return all(len(cells) <= 2 and cells[0].column <= column for cells in rows)


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


def _turned(sheet: Sheet, heads: _Heads, blocks: Sequence[_Block], known: Known) -> Turned | None:
    if all(heads.beside[b.date] < 2 for b in blocks):
        return None  # one entry each: slips, which may be laid out more freely
    column = heads.column
    lines: list[list[At]] = []
    entries: list[int] = []
    merged: list[Span] = []
    spoken: set[int] = set()
    for block in blocks:
        lines += [[], []] * bool(lines)  # two, so that no last line passes for the next one's title
        lines += title_lines(sheet, block.titles, known)
        units = _units_beside(sheet, column, block, known)
        lines.append([At(_with_unit(heads.texts[r], units.get(r)), r, column) for r in block.rows])
        left = column + 1 + bool(units)
        first = len(lines)
        last = max(one.column for r in block.rows for one in filled(sheet, r))
        few = last - left + 1 < _GROUPED
        for c in range(left, last + 1):
            line = [at(sheet, r, c) for r in block.rows]
            if any(one.cell is not None for one in line):
                entries.append(len(lines))
                line = [_unsaid(one, sheet, heads) for one in line] if few else line
            lines.append(line)
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


def _unsaid(one: At, sheet: Sheet, heads: _Heads) -> At:
    """Return a blank that is no part of a merge as one that nothing is carried to."""
    if one.cell is not None or heads.fields[one.row] not in _NAMES:
        return one
    under = any(a <= one.row + 1 <= c and b <= one.column + 1 <= d for a, b, c, d in sheet.merged)
    return one if under else At(UNSAID, one.row, one.column)


def _with_unit(head: Cell, unit: str | None) -> Cell:
    return head if unit is None else f"{head} ({unit})"


def _merged(sheet: Sheet, block: _Block, left: int, first: int) -> list[Span]:
    """Return the merges among a table's entries as they lie once it is turned (from 1, as in a Sheet)."""
    place = {r: i for i, r in enumerate(block.rows)}
    return [
        (first + c1 - 1 - left + 1, place[r1 - 1] + 1, first + c2 - 1 - left + 1, place[r2 - 1] + 1)
        for r1, c1, r2, c2 in sheet.merged
        if r1 - 1 in place and r2 - 1 in place and c1 - 1 >= left
    ]
