"""How a table was understood, for a person to see and correct."""

from __future__ import annotations

from divert.core.reading import SheetTaken
from divert.ingest.entries.gathered import Counted
from divert.ingest.entries.job import TableJob
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.turned.told import told_back

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
    return taken if job.sheet.origin is None else told_back(taken, job, job.sheet.origin)


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
