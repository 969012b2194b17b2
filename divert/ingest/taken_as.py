"""How a table was understood, for a person to see and correct."""

from __future__ import annotations

from divert.core.reading import SheetTaken
from divert.ingest.entries.gathered import Counted
from divert.ingest.entries.job import TableJob
from divert.ingest.turned.told import told_back


def taken_as(job: TableJob, counted: Counted) -> SheetTaken:
    """Return how a table was understood, for a person to see and correct."""
    layout = job.layout
    columns: list[tuple[str, str, str]] = []
    spoken: dict[int, str] = {c.index: name for name, c in layout.shared.items()}
    for group in layout.groups:
        label = ", ".join(
            t
            for t in (
                group.label.source,
                group.label.material,
                group.label.container,
                group.label.other.lstrip("#"),
            )
            if t
        )
        for name, members in group.columns.items():
            for column in members:
                spoken[column.index] = f"{name}: {label}" if label and layout.wide else name
                if group.label.container and name == "count":
                    spoken[column.index] = f"count: {label}"
    spoken |= {c.index: "total (not counted)" for c in layout.totals}
    spoken |= {c.index: "note" for c in layout.notes}
    for column in job.columns:
        taken_as = spoken.get(column.index, "not read")
        unit = column.heading.unit_text or ("%" if column.heading.percent else "")
        if unit and taken_as != "not read":
            taken_as = f"{taken_as} ({unit})"
        heading = (
            f"{column.head.over} / {column.head.text}" if column.head.over else column.head.text
        )
        columns.append((column.letter, heading, taken_as))
    seen = counted.used + counted.set_aside + counted.skipped
    row = job.table.heading_rows[-1] + 1 if job.table.heading_rows else None
    taken = SheetTaken(
        job.sheet.file,
        job.sheet.name,
        job.kind,
        row,
        tuple(columns),
        seen,
        counted.used,
        counted.set_aside,
        counted.skipped,
        job.sheet.hidden,
        why=job.claims,
    )
    return taken if job.sheet.origin is None else told_back(taken, job, job.sheet.origin)
