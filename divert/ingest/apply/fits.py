"""Whether a kept plan still fits its sheet: the same headings in the same places, and no new numbers."""

from __future__ import annotations

import re
from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.ingest.lexicon import bare
from divert.ingest.plan.sheet_plan import ColumnPlan, TablePlan
from divert.ingest.sheet import Sheet, as_text, column_of, is_value, letter
from divert.ingest.tables.heads import spread

_SAMPLE = 200  # distinct cells of a new column that are looked at


@dataclass(frozen=True)
class Misfit:
    """The cell (row and column from 0) at which a sheet is no longer what its plan was made for."""

    row: int
    column: int
    message: Text


def misfit(plan: TablePlan, sheet: Sheet) -> Misfit | None:
    """Return where a table no longer fits its plan, or None where it does."""
    rows = [r - 1 for r in plan.headings]
    if rows and rows[-1] >= sheet.height:
        return Misfit(rows[-1], column_of(plan.left), _gone(plan.headings[-1]))
    printed = [spread(sheet, r, rows[-1]) for r in rows]
    for column in plan.columns:
        index = column_of(column.at)
        texts = [as_text(p[index]) for p in printed if index < len(p) and p[index] is not None]
        if rows and not _says(column, texts):
            return Misfit(rows[-1], index, _changed(column, texts))
    return _new_numbers(plan, sheet)


def _says(column: ColumnPlan, texts: list[str]) -> bool:
    """Return whether the cells over a column say what they said, in whatever capitals and spaces.

    A day of the month stands for itself with or without the day of the week beside it.
    """
    now = _letters("".join(dict.fromkeys(texts)))
    before = _letters(column.heading)
    numbered = before.isdecimal() and re.fullmatch(rf"\D*{before}\D*", now) is not None
    return numbered or now in (before, _letters(column.over + column.heading))


def _letters(text: str) -> str:
    return "".join(c for c in bare(text) if c.isalnum() or c in "%$€£#")


def _changed(column: ColumnPlan, texts: list[str]) -> Text:
    return Text(
        N_("The heading of column {letter} was “{before}” when the plan of this sheet was kept, and "
           "is “{now}”."),
        {"letter": column.at, "before": column.heading, "now": " ".join(texts)},
    )  # fmt: skip


def _gone(row: int) -> Text:
    return Text(N_("The sheet has no heading in row {row} any more."), {"row": row})


def _new_numbers(plan: TablePlan, sheet: Sheet) -> Misfit | None:
    """Return the first column beside a planned table that holds numbers its plan does not know of."""
    if not plan.columns:
        return None
    known = {c.at for c in plan.columns}
    right = column_of(plan.right)
    end = sheet.height if plan.last is None else plan.last
    beside = range(right + 1, right + 2) if plan.last is None else ()
    for index in (*range(column_of(plan.left), right + 1), *beside):
        if letter(index) in known or index >= len(sheet.columns):
            continue
        cells = sheet.columns[index].part(plan.first - 1, end)
        if any(is_value(c) for c in cells.cells[:_SAMPLE]):
            message = Text(
                N_(
                    "Column {letter} holds numbers and was empty when the plan of this sheet was kept."
                ),
                {"letter": letter(index)},
            )
            return Misfit(
                plan.headings[-1] - 1 if plan.headings else plan.first - 1, index, message
            )
    return None
