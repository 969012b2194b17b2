"""Find the tables of a sheet: heading rows (one to three of them), titles above, tables side by side.

A heading row holds only text, and names at least two fields, or a date and the names of sources or
materials, or dates and months running across. What repeats an earlier heading is not a new table.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from divert.ingest.cells.mark import is_total_label
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Sheet, as_text
from divert.ingest.tables.heading_rows import heading_rows, heads_anew
from divert.ingest.tables.heads import heads_of, may_continue, may_group
from divert.ingest.tables.month_across import days_across, weekdays_across
from divert.ingest.tables.side_by_side import side_by_side
from divert.ingest.tables.table import OVER, Head, Table
from divert.ingest.tables.titles import rows_of_titles, titles_of


@dataclass
class _Found:
    """A heading found, before the tables are cut."""

    rows: tuple[int, ...]
    heads: list[Head]
    repeats: set[int] = field(default_factory=set)
    again: list[int] = field(default_factory=list)


def find_tables(sheet: Sheet, known: Known) -> list[Table]:
    """Return the tables of a sheet, from the top."""
    found = _headings(sheet, known)
    tables: list[Table] = []
    last_end = 0
    for place, one in enumerate(found):
        above = found[place - 1].heads if place else ()
        title_rows = rows_of_titles(sheet, last_end, one.rows[0], known, above)
        end = sheet.height
        if place + 1 < len(found):
            following = found[place + 1].rows[0]
            end = following - len(
                rows_of_titles(sheet, one.rows[-1] + 1, following, known, one.heads)
            )
        titles, pairs = titles_of(sheet, title_rows, known)
        left_of = 0
        for heads in side_by_side(sheet, one.heads, one.rows[-1] + 1, end):
            left = _left(sheet, heads[0].column, left_of, one.rows[-1] + 1, end)
            left_of = heads[-1].column + 1
            tables.append(
                Table(
                    tuple(heads),
                    one.rows[-1] + 1,
                    end,
                    titles,
                    pairs,
                    one.rows,
                    frozenset(r for r in one.repeats if r < end),
                    left,
                    heads[-1].column,
                )
            )
        last_end = end
    return tables


def _left(sheet: Sheet, column: int, least: int, first: int, end: int) -> int:
    """Return the first column of a table: data that stands beside its first heading has none."""
    while column > least and (sheet.columns[column - 1].codes[first:end] >= 0).any():
        column -= 1
    return column


def _headings(sheet: Sheet, known: Known) -> list[_Found]:
    found: list[_Found] = []
    taken = -1
    for row in heading_rows(sheet, known):
        cells = sheet.row(row)
        anew = not found or days_across(cells) or heads_anew(cells, _fields(found[-1]), known)
        anew = anew or _plain(cells) == _plain(sheet.row(found[-1].rows[-1]))
        if row <= taken or not anew:
            continue
        printed = any(
            _plain(sheet.row(row)) == _plain(sheet.row(f.rows[-1]))
            for f in found
            if len(f.rows) == 1
        )
        one = (
            _Found((row,), heads_of(sheet, (row,), known))  # it takes in no row of entries above it
            if printed
            else _best_span(sheet, row, known, taken)
        )
        if one is None:
            continue
        same = next((f for f in found if _same_heads(f, one)), None)
        if (
            same is not None
            and found[-1] is same
            and not _between_is_title(sheet, taken, one, known)
        ):
            same.repeats.update(one.rows)
        else:
            found.append(one)
        taken = max(one.rows)
    return found


def _fields(found: _Found) -> dict[int, str]:
    return {h.column: h.heading.field for h in found.heads if h.heading.known}


def _same_heads(first: _Found, second: _Found) -> bool:
    return [(h.column, bare(h.text), bare(h.over)) for h in first.heads] == [
        (h.column, bare(h.text), bare(h.over)) for h in second.heads
    ]


def _plain(cells: Iterable[Cell]) -> list[str]:
    return [
        bare(as_text(c)) for c in cells
    ]  # a heading typed again, in capitals or without accents


def _between_is_title(sheet: Sheet, after: int, below: _Found, known: Known) -> bool:
    """Return whether a titled new table begins, rather than a heading printed once more."""
    return any(
        (not is_total_label(text) or known.names(text)) and not _page_words(text)
        for r in rows_of_titles(sheet, after + 1, below.rows[0], known, below.heads)
        for text in [as_text(next(c for c in sheet.row(r) if c is not None))]
    )


def _page_words(text: str) -> bool:
    return re.match(r"(?i)page\b|\(?cont|suite|continued", text) is not None


def _best_span(sheet: Sheet, row: int, known: Known, taken: int) -> _Found | None:
    """Choose the rows that make the heading: this one, with a row above or below where that says more."""
    spans: list[tuple[int, ...]] = [(row,)]
    if days_across(sheet.row(row)) and weekdays_across(sheet, row + 1):
        spans = [(row, row + 1)]
    elif may_continue(sheet, row + 1, known):
        spans.append((row, row + 1))
        if may_continue(sheet, row + 2, known):
            spans.append((row, row + 1, row + 2))
    plain = list(spans)
    if row - 1 > taken and may_group(sheet, row - 1, row, known):
        spans += [(row - 1, *s) for s in plain]
        if row - 2 > taken and may_group(sheet, row - 2, row - 1, known):
            spans += [(row - 2, row - 1, *s) for s in plain]
    best: tuple[float, _Found] | None = None
    for span in spans:
        heads = heads_of(sheet, span, known)
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
        named = [o for o in over if known.names(o)]
        worth += 0.8 * (len(named) - 1) if len(named) > 1 else 0.0
        label = heading.label or over[-1]
        if named or (label and known.names(label)):
            worth += 0.8
            worth += 0.4 if named and label and label not in over else 0.0
        elif label and head.over:
            worth += 0.6
    return worth
