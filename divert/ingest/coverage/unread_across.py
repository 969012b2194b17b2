"""Amounts across a table under a name that nobody knows: set aside and asked about, not passed over."""

from __future__ import annotations

import numpy as np

from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.ingest.arrays import Bools
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob, place_in, text_at
from divert.ingest.tables.columns import IGNORE, Column
from divert.ingest.tables.double_amounts import FAR
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.numbers import middle
from divert.ingest.tables.questions import LONG

CODE = "not explained"


def unread_across(layout: Layout) -> list[Column]:
    """Return the columns of numbers beside sources or materials across that say nothing known.

    Where a total that says so is the sum of the others alone, what it leaves out is no load.
    """
    asked = [c for c in layout.unread if len(c.head.text) > LONG and c.content.numbers > 0.5]
    asked = [c for c in asked if c.field != IGNORE]
    named = [g for g in layout.groups if g.label.source or g.label.material]
    if len(named) < 2:
        return asked
    running = layout.shared.get("running")
    usual = max((middle(g.first) for g in named), default=0.0)
    columns = [
        c
        for c in (*layout.unread, *([running] if running is not None else []))
        if middle(c) <= FAR * usual and c.head.text and c.content.numbers > 0.5 and _may_name(c)
    ]
    return [] if not columns or layout.added_up else list(dict.fromkeys([*columns, *asked]))


def _may_name(column: Column) -> bool:
    """Return whether a head may be a name: none of its words is known, or some are not."""
    heading = column.heading
    return column.field in ("", "running") and (not heading.field or bool(heading.label))


def set_unread_across_aside(job: TableJob, open_rows: Bools, out: Gathered) -> None:
    """Set aside each amount under such a name, with one question for each column."""
    if job.kind != "intake":
        return
    for column in unread_across(job.layout):
        rows = np.flatnonzero((column.cells.codes >= 0) & open_rows).tolist()
        if not rows:
            continue
        place = place_in(job, rows[0], column)
        file, sheet, first = job.sheet.file, job.sheet.name, job.table.first + 1
        out.set_aside += [
            (file, sheet, row + first, column.letter, text_at(column, row), CODE) for row in rows
        ]
        out.findings.append(
            Finding(
                "refused", CODE,
                Text(
                    N_("I do not know what “{heading}” names, so the amounts under it are not counted."),
                    {"heading": column.head.text},
                ),
                place,
                Text(
                    N_("If it is a source or a material, add it to site.toml; if it measures something "
                       "else, say so under [[sheet]] there."),
                ),
                text_at(column, rows[0]), len(rows), f"{file}!{sheet}!{column.letter}",
            )
        )  # fmt: skip
