"""Numbers of a text file that a comma for thousands has cut in two: 1,250 in a row one cell too long."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from divert.ingest.amounts.column import PROBLEM, PROBLEMS, VALUE
from divert.ingest.amounts.measured import Measured
from divert.ingest.arrays import Bools, no_rows
from divert.ingest.entries.job import TableJob
from divert.ingest.sheet import as_text
from divert.ingest.tables.groups import Group

_SPLIT = PROBLEMS.index("split number")


def refuse_split_numbers(job: TableJob, measured: Sequence[Measured]) -> None:
    """Refuse the amounts that may be the thousands of a number, the rest of it in the next cell.

    ``measured``: the amounts of each group of the table, in its order.
    """
    long = _too_long(job)
    if not long.any():
        return
    for group, amounts in zip(job.layout.groups, measured, strict=True):
        _refuse(job, group, amounts, long)


def _refuse(job: TableJob, group: Group, amounts: Measured, long: Bools) -> None:
    by_index = {c.index: c for c in job.columns}
    for column in group.members:
        after = by_index.get(column.index + 1)
        if after is None:
            continue
        for row in np.flatnonzero(long & (amounts.state == VALUE)).tolist():
            head, rest = as_text(column.cells.at(row)), as_text(after.cells.at(row))
            if re.fullmatch(r"[1-9]\d{0,2}", head) and re.match(r"\d{3}(?!\d)", rest):
                amounts.state[row], amounts.problem[row] = PROBLEM, _SPLIT
                amounts.where[row] = column.index


def _too_long(job: TableJob) -> Bools:
    """Return the rows of a text file that go on behind the last heading."""
    size = job.table.end - job.table.first
    last = max((h.column for h in job.table.heads), default=-1)
    behind = [c for c in job.columns if c.index > last]
    if job.sheet.name or last < 0 or not behind:
        return no_rows(size)
    long = np.logical_or.reduce([c.cells.codes >= 0 for c in behind])
    return np.asarray(long)
