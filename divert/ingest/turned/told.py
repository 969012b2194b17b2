"""How a turned sheet was understood, told by the cells of the user's own."""

from __future__ import annotations

from dataclasses import replace

from divert.core.reading import SheetTaken
from divert.ingest.entries.job import TableJob
from divert.ingest.sheet import Origin, column_of, letter


def told_back(taken: SheetTaken, job: TableJob, origin: Origin) -> SheetTaken:
    """Return how a turned table was taken, its headings and entries named by the user's cells."""
    row = taken.heading_row
    columns = tuple(
        (_cell(origin, (row or 1) - 1, column_of(at)), heading, said)
        for at, heading, said in taken.columns
    )
    return replace(
        taken,
        heading_row=None if row is None else int(origin.rows[row - 1, 0]) + 1,
        columns=columns if origin.heads != "none" else (),
        how=origin.how,
        why=tuple(
            replace(c, column=c.column and _cell(origin, (row or 1) - 1, column_of(c.column)))
            for c in taken.why
            if origin.heads != "none" or not c.column
        ),
        cells=_cells(job, origin),
    )


def _cells(job: TableJob, origin: Origin) -> dict[str, dict[str, str]]:
    """Return, by the cell of each amount, the cells of what else its entry says."""
    shared = {name: column.index for name, column in job.layout.shared.items()}
    out: dict[str, dict[str, str]] = {}
    for row in range(job.table.first, job.table.end):
        for group in job.layout.groups:
            own = shared | {name: columns[0].index for name, columns in group.columns.items()}
            beside = {name: _cell(origin, row, index) for name, index in own.items()}
            out |= {_cell(origin, row, c.index): beside for c in group.members}
    return out


def _cell(origin: Origin, row: int, column: int) -> str:
    return f"{letter(int(origin.columns[row, column]))}{int(origin.rows[row, column]) + 1}"
