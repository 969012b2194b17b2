"""How a table was understood, for a person to see and correct: a turned one by the user's own cells."""

from __future__ import annotations

from dataclasses import replace

from divert.core.reading import SheetTaken
from divert.ingest.entries.gathered import Counted
from divert.ingest.entries.job import TableJob
from divert.ingest.sheet import Origin, column_of, letter
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group

_Amount = tuple[Group, str, Column]


def taken_as(job: TableJob, counted: Counted) -> SheetTaken:
    """Return how a table was understood, for a person to see and correct."""
    amounts = _amounts(job)
    taken = SheetTaken(
        job.sheet.file,
        job.sheet.name,
        job.kind,
        job.table.heading_rows[-1] + 1 if job.table.heading_rows else None,
        tuple(
            (c.letter, _heading(c), _with_unit(c, _spoken(job, c, amounts))) for c in job.columns
        ),
        counted.used + counted.set_aside + counted.skipped,
        counted.used,
        counted.set_aside,
        counted.skipped,
        job.sheet.hidden,
        why=job.claims,
    )
    return taken if job.sheet.origin is None else _told_back(taken, job, job.sheet.origin)


def _heading(column: Column) -> str:
    return f"{column.head.over} / {column.head.text}" if column.head.over else column.head.text


def _amounts(job: TableJob) -> dict[int, list[_Amount]]:
    """Return the groups, fields and columns of amounts by the place of each column."""
    at: dict[int, list[_Amount]] = {}
    for group in job.layout.groups:
        for name, members in group.columns.items():
            for column in members:
                at.setdefault(column.index, []).append((group, name, column))
    return at


def _spoken(job: TableJob, column: Column, amounts: dict[int, list[_Amount]]) -> str:
    """Return what a column was taken for, with what its head says of its loads; "" where not read."""
    layout = job.layout
    if column.field in ("note", "total") and column in (*layout.notes, *layout.totals):
        return "note" if column in layout.notes else "total (not counted)"
    for group, name, member in amounts.get(column.index, ()):
        if column is not member and column != member:
            continue
        label = group.label
        if label.container and name == "count":
            return f"count: {label.container}"
        said = (label.source, label.material, label.container, label.other.lstrip("#"))
        told = ", ".join(filter(None, said))
        return f"{name}: {told}" if told and layout.wide else name
    return next((name for name, c in layout.shared.items() if c.index == column.index), "")


def _with_unit(column: Column, spoken: str) -> str:
    unit = column.heading.unit_text or ("%" if column.heading.percent else "")
    return (f"{spoken} ({unit})" if unit and spoken else spoken) or "not read"


def _told_back(taken: SheetTaken, job: TableJob, origin: Origin) -> SheetTaken:
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
        cells=_cells_beside(job, origin),
    )


def _cells_beside(job: TableJob, origin: Origin) -> dict[str, dict[str, str]]:
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
