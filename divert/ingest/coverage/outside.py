"""Loads that stand in no table: over the headings, beside the columns, in words of their own.

A title, a legend or a sum beside a table tells no day together with a name and an amount; a load does.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from divert.core.findings import Where
from divert.core.words import N_, Text
from divert.ingest.cells.mark import is_total_label
from divert.ingest.coverage.unplanned import Place, is_measured, is_plain_number
from divert.ingest.coverage.unread_numbers import say_no_heading
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.left_out import set_cells_aside, skip_rows
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text, letter
from divert.ingest.tables.heading_rows import is_date_head, is_day
from divert.ingest.tables.overrides import rule_for
from divert.ingest.tables.table import Table
from divert.ingest.turned.line import measured

_ASIDE = re.compile(r"\([^)]*\)|(?<!\w)(?:19|20)\d\d(?!\w)")
_WORDS = 3  # of an amount or a day: "two blue totes", "2 March 2025"


def loads_outside(
    sheet: Sheet, tables: Sequence[Table], known: Known
) -> tuple[list[Place], list[Place]]:
    """Return the rows of cells that no table takes in and that may be loads, each at its amount, and for
    each column the first number that stands beside a table's row under no heading, and beside no word."""
    found: list[Place] = []
    bare: dict[int, Place] = {}
    for row, columns in sorted(_left_over(sheet, tables).items()):
        cells = [(i, c) for i in columns if (c := sheet.columns[i].at(row)) is not None]
        beside = [c for i, c in enumerate(sheet.row(row)) if c is not None and i not in columns]
        if (column := _load_in(cells, beside, known)) is not None:
            found.append((row, column, " | ".join(as_text(c) for _, c in cells)))
        elif beside and all(is_plain_number(c) for _, c in cells):
            for i, cell in cells:
                bare.setdefault(i, (row, i, cell))
    return found, list(bare.values())


def _left_over(sheet: Sheet, tables: Sequence[Table]) -> dict[int, list[int]]:
    """Return by row the columns whose filled cells stand in no table and in no heading."""
    heads = sorted({r for t in tables for r in t.heading_rows if r < sheet.height})
    found: dict[int, list[int]] = {}
    for index, column in enumerate(sheet.columns):
        outside = np.asarray(column.codes >= 0)
        outside[heads] = False
        for table in tables:
            if table.left <= index <= table.right:
                outside[table.first : table.end] = False
        for row in np.flatnonzero(outside).tolist():
            found.setdefault(row, []).append(index)
    return found


def _load_in(cells: Sequence[tuple[int, Cell]], beside: Sequence[Cell], known: Known) -> int | None:
    """Return the column of an amount with somebody or something named, and a day there or ``beside``."""
    texts = [c for _, c in cells if isinstance(c, str)]
    if any(sign in c for c in texts for sign in "$€£") or any(map(is_total_label, texts)):
        return None
    days = {i for i, c in cells if is_date_head(c)}
    dated = any(map(is_date_head, beside))
    named = {i for i, c in cells if isinstance(c, str) and known.names(c)}
    for i, cell in cells:
        if i in days or i in named:
            continue
        if named and (days or dated) and (is_plain_number(cell) or is_measured(cell, known)):
            return i
    told = ((i, c) for i, c in cells if isinstance(c, str) and tells_a_load(c, known))
    return next((i for i, c in told if days or dated or _tells_a_day(c)), None)


def tells_a_load(text: str, known: Known) -> bool:
    """Return whether an amount with its unit or box, and a known name, stand among a text's words."""
    if is_total_label(text) or known.names(text):
        return False
    if not (known.sources.within(text) or known.materials.within(text)):
        return False
    left = known.materials.without(known.sources.without(text))
    return any(measured(words, known) for words in _runs(left))


def _tells_a_day(text: str) -> bool:
    return any(is_day(words) and not words.isdecimal() for words in _runs(text))


def _runs(text: str) -> list[str]:
    """Return the words of a text one, two and three together; a year or a unit in brackets is none."""
    tokens = _ASIDE.sub(" ", text).split()
    return [
        " ".join(tokens[at : at + size]).rstrip(".,;:")
        for size in range(1, _WORDS + 1)
        for at in range(len(tokens) - size + 1)
    ]


def skip_outside(sheet: Sheet, tables: Sequence[Table], known: Known, out: Gathered) -> None:
    """Name the rows that stand in no table: titles and notes above, and the headings themselves.

    What may be a load there is set aside, unless [[sheet]] says where the table lies.
    """
    rule = rule_for(known.site, sheet.file, sheet.name)
    pinned = sheet.origin is not None or (rule is not None and (rule.rows or rule.headings))
    places, bare = ([], []) if pinned else loads_outside(sheet, tables, known)
    if places:
        _set_outside_aside(sheet, places, out)
    for row, column, _ in bare:
        say_no_heading(Where(sheet.file, sheet.name, row + 1, letter(column)), out)
    outside = np.ones(sheet.height, dtype=bool)
    for table in tables:
        outside[table.first : table.end] = False
        outside[[row for row in table.heading_rows if row < sheet.height]] = False
    outside[[row for row, _, _ in places]] = False
    skip_rows(sheet, np.flatnonzero(outside).tolist(), "note", out)
    for table_rows in {t.heading_rows for t in tables}:
        skip_rows(sheet, table_rows, "heading", out)


def _set_outside_aside(sheet: Sheet, places: Sequence[Place], out: Gathered) -> None:
    """Set aside what may be loads outside all tables, with one question for all of it."""
    message = Text(
        N_("“{text}” may be a load that stands in no table, so it is not counted.")
        if len(places) == 1
        else N_("“{text}” and {more} more may be loads that stand in no table; none is counted."),
        {"text": as_text(places[0][2])[:120], "more": len(places) - 1},
    )
    hint = Text(N_("If it is one, write it in a row of its own under the headings."))
    set_cells_aside(sheet, [(r, c, as_text(v)[:200]) for r, c, v in places], message, hint, out)
