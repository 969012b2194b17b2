"""Words for what became of a load, and answers to a form's questions, that nothing explains."""

from __future__ import annotations

import re
from collections.abc import Iterator

import numpy as np

from divert.core.names import plain
from divert.core.words import N_, Text
from divert.ingest.cells import mark
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.coverage.everyday import is_understood
from divert.ingest.entries.job import text_at
from divert.ingest.known import row_kinds
from divert.ingest.lexicon import bare, words
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import IGNORE

_ANSWERS = {"yes": True, "y": True, "oui": True, "o": True, "no": False, "n": False, "non": False}


def answers_no(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows where a question that nobody knows is answered otherwise than on most others."""
    job = seen.job
    if job.kind != "intake":
        return
    for column in job.layout.unread:
        if not column.head.text.rstrip().endswith("?") or column.field == IGNORE:
            continue
        first = [
            re.split(r"[^\w]+", bare(as_text(c)).strip(), maxsplit=1)[0] for c in column.cells.cells
        ]
        if not first or not all(f in _ANSWERS for f in first):
            continue
        said = np.array([*(_ANSWERS[f] for f in first), False], dtype=bool)[column.cells.codes]
        filled = (column.cells.codes >= 0) & seen.rows.open
        yes, no = filled & said, filled & ~said
        rows = no if yes.sum() >= no.sum() else yes
        if rows.any() and yes.any():
            yield Doubt(
                rows,
                f"{column.letter} answers",
                Text(
                    N_("“{heading}” is answered otherwise here than on most rows: this may be no load."),
                    {"heading": column.head.text},
                ),
                Text(
                    N_("If it says nothing of that, take it for nothing, under [[sheet]]: "
                       'ignore = ["{letter}"].'),
                    {"letter": column.letter},
                ),
                column,
            )  # fmt: skip


def strange_statuses(seen: Seen) -> Iterator[Doubt]:
    """Doubt the rows whose word for what became of them is none that lets a load in: "to come"."""
    job = seen.job
    column = job.layout.shared.get("status")
    if column is None or job.kind != "intake":
        return
    accepted = {plain(w) for w in words("marks")["accepted"]} | set(row_kinds())
    for code, cell in enumerate(column.cells.cells):
        text = as_text(cell)
        told = plain(text) in accepted or mark.read_start(text) or mark.of_a_load(text)
        if not isinstance(cell, str) or told or is_understood(text, job.known):
            continue
        rows = (column.cells.codes == code) & seen.rows.open
        if rows.any():
            said = text_at(column, int(np.flatnonzero(rows)[0]))
            yield Doubt(
                np.asarray(rows),
                said,
                Text(N_("I do not know what “{status}” says of a load."), {"status": said}),
                Text(N_("Write received, or rejected, or cancelled; or delete the row.")),
                column,
            )  # fmt: skip
