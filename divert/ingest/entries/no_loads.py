"""Loads that the note beside them says are none: not counted, and said."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from divert.findings import Finding
from divert.ingest.cells.mark import says_no_load
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob, place_in, text_at
from divert.ingest.tables.columns import Column
from divert.words import N_, Text


def say_no_loads(job: TableJob, rows: npt.NDArray[np.int64], amount: Column, out: Gathered) -> None:
    """Say of each row that its note keeps it from being counted."""
    for row in rows.tolist():
        notes = [text_at(c, row) for c in job.layout.notes]
        note = next((n for n in notes if says_no_load(n)), "")
        message = Text(N_("A note says “{note}”, so the load is not counted."), {"note": note})
        hint = Text(N_("If it is a load after all, take the note out."))
        out.findings.append(
            Finding(
                "note",
                "correction",
                message,
                place_in(job, row, amount),
                hint,
                text_at(amount, row),
            )
        )
