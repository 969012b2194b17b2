"""Find the tables of a sheet: heading rows (one to three of them), titles above, tables side by side.

A heading row holds only text, and names at least two fields, or a date and the names of sources or
materials, or dates and months running across. What repeats an earlier heading is not a new table.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.mark import is_total_label
from divert.ingest.cells.mark import read_cell as read_mark
from divert.ingest.cells.problem import Problem
from divert.ingest.grid import Cell
from divert.ingest.headings import Heading, read_heading
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text, is_value

_VALUE_STARTS = frozenset("0123456789-+~$€£.,½¼¾")
_TOP = 60
OVER = " / "  # between the group labels over one column


@dataclass(frozen=True)
class Head:
    """One column's head: its own text, the group label over it, and what both were read as."""

    column: int
    text: str
    over: str
    heading: Heading
    cell: Cell = None


@dataclass(frozen=True)
class Table:
    """A table: heads by column, first and past-last data row (0-based), titles nearest first.

    ``heading_rows`` lists every heading row of it; ``repeats`` rows further down that repeat it.
    """

    heads: tuple[Head, ...]
    first: int
    end: int
    titles: tuple[str, ...] = ()
    pairs: tuple[tuple[str, str], ...] = ()
    heading_rows: tuple[int, ...] = ()
    repeats: frozenset[int] = frozenset()
    left: int = 0
    right: int = 0


@dataclass
class _Found:
    """A heading found, before the tables are cut."""

    rows: tuple[int, ...]
    heads: list[Head]
    repeats: set[int] = field(default_factory=set)
    again: list[int] = field(default_factory=list)


def find_tables(sheet: Sheet, known: Known) -> tuple[list[Table], list[int]]:
    """Return the tables of a sheet and the rows above them that are titles or notes."""
    found = _headings(sheet, known)
    if not found:
        return [], []
    tables: list[Table] = []
    outside: list[int] = []
    last_end = 0
    for place, one in enumerate(found):
        top = one.rows[0]
        title_rows = _title_rows(sheet, last_end, top)
        outside += range(last_end if place == 0 else top - len(title_rows), top)
        end = sheet.height
        if place + 1 < len(found):
            following = found[place + 1].rows[0]
            end = following - len(_title_rows(sheet, one.rows[-1] + 1, following))
        titles, pairs = _titles(sheet, title_rows, known)
        for heads in _side_by_side(sheet, one.heads, one.rows[-1] + 1, end):
            tables.append(
                Table(
                    tuple(heads),
                    one.rows[-1] + 1,
                    end,
                    titles,
                    pairs,
                    one.rows,
                    frozenset(r for r in one.repeats if r < end),
                    heads[0].column,
                    heads[-1].column,
                )
            )
        last_end = end
    return tables, outside


def _headings(sheet: Sheet, known: Known) -> list[_Found]:
    found: list[_Found] = []
    taken = -1
    for row in _candidates(sheet, known):
        if row <= taken:
            continue
        one = _best_span(sheet, row, known, taken)
        if one is None:
            continue
        same = next((f for f in found if _same_heads(f, one)), None)
        if (
            same is not None
            and found[-1] is same
            and not _between_is_title(sheet, taken, one.rows[0])
        ):
            same.repeats.update(one.rows)
        else:
            found.append(one)
        taken = max(one.rows)
    return found


def _same_heads(first: _Found, second: _Found) -> bool:
    return [(h.column, h.text, h.over) for h in first.heads] == [
        (h.column, h.text, h.over) for h in second.heads
    ]


def _between_is_title(sheet: Sheet, after: int, row: int) -> bool:
    """Return whether a titled new table begins, rather than a heading printed once more."""
    return any(
        not is_total_label(text) and not _page_words(text)
        for r in _title_rows(sheet, after + 1, row)
        for text in [as_text(next(c for c in sheet.row(r) if c is not None))]
    )


def _page_words(text: str) -> bool:
    return re.match(r"(?i)page\b|\(?cont|suite|continued", text) is not None


def _candidates(sheet: Sheet, known: Known) -> list[int]:
    """Return the rows that may be a heading: no data in them, and words that name fields."""
    rows = [
        r for r in _valueless(sheet)
        if len({c for c in sheet.row(r) if type(c) is str and len(c) <= 80 and _says_field(c, known)}) >= 2
        or _may_head_alone(sheet, r, known)
    ]  # fmt: skip
    top = range(min(sheet.height, _TOP))
    across = {r for r in top if _dates_across(sheet, r) or _names_across(sheet, r, known)}
    return sorted(r for r in {*rows, *across} if _is_heading_row(sheet, r, known))


def _valueless(sheet: Sheet) -> list[int]:
    """Return the rows that hold text but no number and no date, found column by column."""
    has_value = np.zeros(sheet.height, dtype=bool)
    has_text = np.zeros(sheet.height, dtype=bool)
    for column in sheet.columns:
        kinds = [_is_data(c) for c in column.cells]
        data = np.array([*kinds, False], dtype=bool)
        text = np.array([*(not k for k in kinds), False], dtype=bool)
        has_value |= data[column.codes]
        has_text |= text[column.codes]
    return [int(r) for r in np.flatnonzero(has_text & ~has_value)]


def _is_data(cell: Cell) -> bool:
    return type(cell) is not str or (cell[0] in _VALUE_STARTS and is_value(cell))


def _says_field(text: str, known: Known) -> bool:
    return not is_value(text) and read_heading(text, known).known


def _may_head_alone(sheet: Sheet, row: int, known: Known) -> bool:
    """Return whether a row with one known word ("Date") heads a wide table of unknown names."""
    cells = [c for c in sheet.row(row) if c is not None]
    first = read_heading(as_text(cells[0]), known) if cells else Heading()
    wide = (
        len(cells) >= 2
        and first.said
        and first.field in ("date", "day", "month", "source", "material")
    )
    if not wide:
        return False
    below = next(
        (
            r
            for r in range(row + 1, min(row + 4, sheet.height))
            if any(c is not None for c in sheet.row(r))
        ),
        None,
    )
    return below is not None and sum(is_value(c) for c in sheet.row(below)) >= 1


def _names_across(sheet: Sheet, row: int, known: Known) -> bool:
    cells = [c for c in sheet.row(row) if c is not None]
    named = [
        c for c in cells if type(c) is str and (known.sources.find(c) or known.materials.find(c))
    ]
    if len(named) < 2 or len(named) < 0.6 * len(cells) or any(is_value(c) for c in cells):
        return False
    below = row + 1
    return below < sheet.height and sum(is_value(c) for c in sheet.row(below)) >= 2


def _dates_across(sheet: Sheet, row: int) -> bool:
    """Return whether dates or months run across a row, three of them or more."""
    cells = [c for c in sheet.row(row) if c is not None]
    if len(cells) < 3:
        return False
    dated = [c for c in cells if _date_head(c)]
    return len(dated) >= 3 and len(dated) >= len(cells) - 3


def _date_head(cell: Cell) -> bool:
    if isinstance(cell, dt.date):
        return True
    if not isinstance(cell, str) or len(cell) > 30:
        return False
    read = read_date(cell)
    return not isinstance(read, Problem) and bool(read.readings)


def _is_heading_row(sheet: Sheet, row: int, known: Known) -> bool:
    cells = [c for c in sheet.row(row) if c is not None]
    if _dates_across(sheet, row):
        return True
    if any(is_value(c) for c in cells):
        return False
    read = [read_heading(as_text(c), known) for c in cells]
    fields = {h.field for h in read if h.known}
    labels = [
        h
        for h in read
        if not h.known and h.label and (known.sources.find(h.text) or known.materials.find(h.text))
    ]
    marks = sum(read_mark(as_text(c)) is not None for c in cells)
    said = sum(1 for h in read if h.said)
    if marks > len(cells) / 3:
        return False
    if _names_across(sheet, row, known) or (
        len(fields) == 1 and _may_head_alone(sheet, row, known)
    ):
        return True
    counted = len([h for h in read if h.known]) + len(labels)
    return len(fields) >= 2 and said >= 1 and counted >= 0.4 * len(cells)


def _best_span(sheet: Sheet, row: int, known: Known, taken: int) -> _Found | None:
    """Choose the rows that make the heading: this one, with a row above or below where that says more."""
    spans: list[tuple[int, ...]] = [(row,)]
    if _may_continue(sheet, row + 1, known):
        spans.append((row, row + 1))
        if _may_continue(sheet, row + 2, known):
            spans.append((row, row + 1, row + 2))
    if row - 1 > taken and _may_group(sheet, row - 1, row):
        spans += [(row - 1, *s) for s in list(spans)]
    best: tuple[float, _Found] | None = None
    for span in spans:
        heads = _heads(sheet, span, known)
        worth = _worth(heads, known) - 0.1 * (len(span) - 1)
        if best is None or worth > best[0]:
            best = (worth, _Found(span, heads))
    return best[1] if best else None


def _worth(heads: Iterable[Head], known: Known) -> float:
    worth = 0.0
    for head in heads:
        heading = head.heading
        worth += 1.0 if heading.known else 0.0
        worth += 0.5 if heading.unit is not None or heading.percent else 0.0
        over = head.over.split(OVER)
        named = [o for o in over if known.sources.find(o) or known.materials.find(o)]
        worth += 0.8 * (len(named) - 1) if len(named) > 1 else 0.0
        label = heading.label or over[-1]
        if named or (label and (known.sources.find(label) or known.materials.find(label))):
            worth += 0.8
        elif label and head.over:
            worth += 0.6
    return worth


def _may_continue(sheet: Sheet, row: int, known: Known) -> bool:
    """Return whether a row under a heading may carry it on: short texts, none of them data."""
    if row >= sheet.height:
        return False
    cells = [c for c in sheet.row(row) if c is not None]
    if not cells or any(not isinstance(c, str) or is_value(c) or len(c) > 40 for c in cells):
        return False
    texts = [as_text(c) for c in cells]
    if any(is_total_label(t) or read_mark(t) for t in texts):
        return False
    if any(not isinstance(read_date(t), Problem) for t in texts):
        return False
    headed = [t for t in texts if read_heading(t, known).known or t.startswith("(")]
    return len(headed) >= max(1, 0.5 * len(texts))


def _may_group(sheet: Sheet, row: int, under: int) -> bool:
    """Return whether a row over a heading groups its columns, and is no title."""
    if row < 0:
        return False
    filled = [i for i, c in enumerate(sheet.row(row)) if c is not None]
    below = [i for i, c in enumerate(sheet.row(under)) if c is not None]
    cells = [sheet.columns[i].at(row) for i in filled]
    if not filled or not below or any(is_value(c) and not _date_head(c) for c in cells):
        return False
    if any(isinstance(c, str) and len(c) > 60 for c in cells):
        return False
    if len(filled) == 1:
        span = next(
            (m for m in sheet.merged if m[0] <= row + 1 <= m[2] and m[1] == filled[0] + 1), None
        )
        narrow = span is not None and span[3] > span[1] and span[3] < max(below) + 1
        return filled[0] > min(below) and (narrow or span is None)
    return len(filled) >= 2 and not (len(filled) == 2 and as_text(cells[0]).endswith(":"))


def _heads(sheet: Sheet, span: Sequence[int], known: Known) -> list[Head]:
    heads = []
    texts = [_spread(sheet, r, span[-1]) for r in span]
    for column in range(len(sheet.columns)):
        own = [t[column] for t in texts if t[column] is not None]
        parts = list(dict.fromkeys(as_text(c) for c in own))
        if not parts:
            continue
        cell = next((c for c in own if isinstance(c, dt.date)), own[-1])
        heads.append(_head(column, parts, cell, known))
    return heads


def _head(column: int, parts: list[str], cell: Cell, known: Known) -> Head:
    """Read the heading of a column from its parts, top first: "Weight" over "(lb)", a name over "totes"."""
    joined = " ".join(parts)
    if len(parts) == 1:
        return Head(column, joined, "", read_heading(joined, known), cell)
    over, own = OVER.join(parts[:-1]), parts[-1]
    named = [p for p in parts[:-1] if known.sources.find(p) or known.materials.find(p)]
    if len(named) > 1:
        return Head(column, own, over, read_heading(own, known), cell)
    top, low = read_heading(over, known), read_heading(own, known)
    if known.sources.find(over) or known.materials.find(over):
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


def _spread(sheet: Sheet, row: int, last: int) -> list[Cell]:
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


def _title_rows(sheet: Sheet, start: int, top: int) -> list[int]:
    """Return the rows right above a heading that speak of it: a few texts each, one gap allowed."""
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
        if len(cells) > 4 or not any(isinstance(c, str) for c in cells) or _looks_like_data(cells):
            break
        rows.insert(0, row)
        row -= 1
    return list(range(rows[0], top)) if rows else []


def _looks_like_data(cells: Sequence[Cell]) -> bool:
    first = as_text(cells[0])
    values = sum(is_value(c) for c in cells)
    return (
        is_total_label(first)
        or (values >= 1 and len(cells) >= 2 and not first.endswith(":") and len(cells) > 2)
        or (len(cells) == 2 and values >= 1 and isinstance(cells[0], dt.date))
    )


def _titles(
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
            if heading.known and heading.said and at + 1 < len(cells):
                pairs.append((heading.field, cells[at + 1]))
                at += 2
                continue
            inline = re.match(r"([^:]{1,30}):\s*(.+)", cells[at])
            named = read_heading(inline[1], known) if inline else Heading()
            if inline and named.known and named.said:
                pairs.append((named.field, inline[2]))
            titles.append(cells[at])
            at += 1
    return tuple(reversed(titles)), tuple(pairs)


def _side_by_side(sheet: Sheet, heads: list[Head], first: int, end: int) -> list[list[Head]]:
    """Part a heading row into tables that stand beside each other, each with a date of its own."""
    runs: list[list[Head]] = []
    for head in heads:
        adjoins = runs and all(
            _has_data(sheet, c, first, end) for c in range(runs[-1][-1].column + 1, head.column)
        )
        if adjoins:
            runs[-1].append(head)
        else:
            runs.append([head])
    if len(runs) > 1 and all(_own_date(r) and len(r) >= 2 for r in runs):
        return [part for run in runs for part in _at_second_date(run)]
    return _at_second_date(heads)


def _own_date(heads: Sequence[Head]) -> bool:
    return any(h.heading.field == "date" for h in heads)


def _at_second_date(heads: list[Head]) -> list[list[Head]]:
    starts = [i for i, h in enumerate(heads) if h.heading.field == "date" and h.heading.said]
    if len(starts) < 2:
        return [heads]
    parts = [heads[a:b] for a, b in zip([0, *starts[1:]], [*starts[1:], len(heads)], strict=True)]
    kinds = [{h.heading.field for h in p} for p in parts]
    again = all(k & {"quantity", "weight", "count", "volume", "gross"} for k in kinds)
    repeated = all(len(k & kinds[0]) >= 2 for k in kinds[1:])
    return parts if again and repeated else [heads]


def _has_data(sheet: Sheet, column: int, first: int, end: int) -> bool:
    return bool((sheet.columns[column].codes[first : min(end, first + 200)] >= 0).any())
