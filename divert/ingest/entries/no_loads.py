"""Loads that a word beside them says are none: void, not ours, entered twice. Not counted, and said."""

from __future__ import annotations

import numpy as np

from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.ingest.amounts.column import VALUE
from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Bools, Days, Objects, no_rows
from divert.ingest.cells import mark
from divert.ingest.coded import Coded
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob, place_in, text_at
from divert.ingest.tables.columns import Column

_AMOUNTS = ("mass_kg", "gross_kg", "volume_m3", "count")


def no_loads(
    said: Objects, amounts: Measured, days: Days, source: Coded, material: Coded, open_rows: Bools
) -> Bools:
    """Return the rows that are no loads by what is said of them.

    A load "entered twice" must stand there twice: of rows that say the same one is left, and a row
    that nothing repeats counts. A negative amount is a correction, whatever its note says.
    """
    if not any(said):
        return no_rows(len(said))
    filled = open_rows & (amounts.state != 0)
    negative = np.logical_or.reduce([getattr(amounts, name) < 0 for name in _AMOUNTS])
    out = filled & np.isin(said, ("void", "no load")) & ~negative
    twice = np.flatnonzero(filled & (said == "twice") & ~negative)
    if not len(twice):
        return np.asarray(out)
    alike: dict[tuple[object, ...], list[int]] = {}
    for row in np.flatnonzero(filled & (amounts.state == VALUE) & ~out).tolist():
        numbers = (float(getattr(amounts, name)[row]) for name in _AMOUNTS)
        key = (days[row], source.codes[row], material.codes[row], amounts.container[row])
        alike.setdefault((*key, *(f"{n:.9g}" for n in numbers)), []).append(row)
    for rows in alike.values():
        marked = [row for row in rows if said[row] == "twice"]
        out[marked if len(marked) < len(rows) else marked[1:]] = True
    return np.asarray(out)


def say_no_loads(
    job: TableJob, rows: Bools, said: Objects, amounts: Measured, amount: Column, out: Gathered
) -> None:
    """Say of each row with an amount what keeps it from being counted."""
    hint = Text(N_("If it is a load after all, take the note out."))
    for row in np.flatnonzero(rows & (amounts.state == VALUE)).tolist():
        note = _word(job, row, str(said[row]))
        message = Text(N_("A note says “{note}”, so the load is not counted."), {"note": note})
        where = place_in(job, row, amount)
        out.findings.append(
            Finding("note", "correction", message, where, hint, text_at(amount, row))
        )


def _word(job: TableJob, row: int, said: str) -> str:
    """Return the words that say it, of a note or of the status."""
    status = job.layout.shared.get("status")
    texts = [text_at(c, row) for c in (*job.layout.notes, *([status] if status else []))]
    return next((t for t in texts if t and mark.of_a_load(t) == said), "")
