"""Words for what became of a load, and answers to a form's questions, that nothing explains."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_
from divert.ingest.cells.mark import read_cell as read_mark
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.coverage.everyday import is_understood
from divert.ingest.coverage.notes import is_answered, speaks_against
from divert.ingest.entries.job import text_at
from divert.ingest.entries.status import answer_of, is_asked, reads_status
from divert.ingest.grid import Cell
from divert.ingest.sheet import as_text


def answers_no(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows where a question that nobody knows is answered otherwise than on most others."""
    job = seen.job
    if job.kind != "intake":
        return
    for column in (*job.layout.unread, *job.layout.notes):
        if not is_answered(column):
            continue
        filled = (column.cells.codes >= 0) & seen.rows.open
        no = filled & column.cells.rows_where(_says_no)
        yes = filled & ~no
        # Under "Sent back" it is an answer of yes that speaks against a load.
        against = speaks_against(column.head.text.rstrip(" ?"))
        rows = yes if against or yes.sum() < no.sum() else no
        if rows.any() and yes.any():
            yield seen.doubt(
                f"{column.letter} answers",
                N_("“{heading}” is answered otherwise here than on most rows: this may be no load."),
                N_("If it says nothing of that, take it for nothing, under [[sheet]]: "
                       'ignore = ["{letter}"].'),
                rows=rows,
                column=column,
            )  # fmt: skip


def _says_no(cell: Cell) -> bool:
    text = as_text(cell)
    answer = answer_of(text)
    return (answer is not None and not answer[0]) or read_mark(text) == "nothing"


def strange_statuses(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows whose word for what became of them is none that lets a load in: "to come"."""
    job = seen.job
    column = job.layout.shared.get("status")
    if column is None or job.kind != "intake":
        return
    read, asks = reads_status(column.head.text), is_asked(column.head.text)
    for code, cell in enumerate(column.cells.cells):
        text = as_text(cell)
        if read(cell) or speaks_against(text) or (not asks and is_understood(text, job.known)):
            continue
        rows = (column.cells.codes == code) & seen.rows.open
        if rows.any():
            said = text_at(column, int(np.flatnonzero(rows)[0]))
            yield seen.doubt(
                said,
                N_("I do not know what “{status}” says of a load."),
                N_("Write received, or rejected, or cancelled; or delete the row."),
                rows=rows,
                column=column,
                status=said,
            )  # fmt: skip
