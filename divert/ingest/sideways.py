"""Headings that run down a column over entries nobody could tell apart for sure.

Tables on their side and slips are read (divert.ingest.turned); of what cannot be, each entry is set
aside, and said once.
"""

from __future__ import annotations

import numpy as np

from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.entries.gathered import Gathered
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.might_hold import Place, might_be_entries, set_cells_aside
from divert.ingest.not_read import nothing_taken, skip_rows
from divert.ingest.sheet import Sheet, as_text
from divert.ingest.tables.heading import QUANTITIES
from divert.ingest.tables.heading_rows import is_day
from divert.ingest.tables.headings import read_heading
from divert.ingest.turned.build import filled
from divert.ingest.turned.forms import head_of
from divert.ingest.turned.labels import forms_again, said_of

_LEAST = 3  # different headings down a column
_FIRST = 200  # texts that must look like it
_MOST = 0.7  # of what stands in the column must be headings


def set_sideways_aside(sheet: Sheet, known: Known, out: Gathered, taken: list[SheetTaken]) -> bool:
    """Set aside the entries of a sheet whose headings run down its columns; False for any other."""
    entries = _days_beside(sheet, known) or [
        (r, c, sheet.columns[c].at(r)) for r, c in forms_again(sheet, known)
    ]
    if not entries:
        return False
    days = {row for row, _, _ in entries}
    others = [
        p for p in might_be_entries(sheet, known)
        if p[0] not in days and not said_of(filled(sheet, p[0])[0].cell, known)
    ]  # fmt: skip
    entries = sorted([*entries, *others], key=lambda p: p[:2])  # a log over slips
    message = Text(
        N_("The headings run down a column here, and I cannot tell for sure how the entries lie.")
    )
    hint = Text(
        N_(
            "Give each entry a column of its own beside them, or put the headings across the top and "
            "each entry in a row."
        )
    )
    set_cells_aside(sheet, [(r, c, as_text(v)) for r, c, v in entries], message, hint, out)
    left = sorted(set(range(sheet.height)) - {row for row, _, _ in entries})
    skipped = skip_rows(sheet, left, "sheet not read", out)
    taken.append(nothing_taken(sheet, skipped, len(entries)))
    return True


def _days_beside(sheet: Sheet, known: Known) -> list[Place]:
    """Return what stands beside the headings of days, where most of a first column is headings."""
    column = next((i for i, c in enumerate(sheet.columns) if c.cells), None)
    if column is None:
        return []
    first = sheet.columns[column]
    is_text = np.array([isinstance(c, str) for c in first.cells] + [False])[first.codes]
    if is_text.sum() < _MOST * (first.codes >= 0).sum():  # a log, as most sheets are
        return []
    lines = np.flatnonzero(is_text).tolist()
    early = [read_heading(_label(first.at(r)), known).said for r in lines[:_FIRST]]
    if sum(early) < _MOST * len(early) / 2:  # a long sheet of anything else is left early
        return []
    heads = {r: read_heading(_label(first.at(r)), known) for r in lines}
    fields = {r: h.field for r, h in heads.items() if h.said}
    own = int((first.codes >= 0).sum())
    amounts = set(fields.values()) & set(QUANTITIES)
    if "date" not in fields.values() or not amounts or len(set(fields.values())) < _LEAST:
        return []
    if len(fields) < _MOST * own:
        return []
    entries = [
        (row, c, sheet.columns[c].at(row))
        for row, field in fields.items() if field == "date"
        for c in range(column + 1, len(sheet.columns))
        if (cell := sheet.columns[c].at(row)) is not None
        and not head_of(cell, known).known
    ]  # fmt: skip
    dated = any(is_day(v) for _, _, v in entries)
    return entries if dated else []  # "Date | the day of delivery": instructions


def _label(cell: Cell) -> str:
    return str(cell).rstrip(": ")
