"""What the names of a sheet, of its file and of the folders it lies in say of all its tables."""

from __future__ import annotations

from dataclasses import replace
from pathlib import PurePosixPath

from divert.ingest.known import Known
from divert.ingest.sheet import Sheet
from divert.ingest.tables.context import Context, read_name


def outer_context(sheet: Sheet, known: Known) -> Context:
    """Return what a sheet's name says, and for what it leaves open its file's and its folders'."""
    return read_name(sheet.name, known).under(file_context(sheet.file, known))


def file_context(file: str, known: Known) -> Context:
    """Return what a file's name says, then the folders it lies in, nearest first."""
    path = PurePosixPath(file)
    context = read_name(path.stem.replace("_", " "), known)
    for folder in path.parent.parts[::-1]:
        context = context.under(read_name(folder, known))
    own = known.containers.is_own(context.container)  # "kitchen pickups 2025" counts no pickups
    return replace(
        context,
        kind="" if context.kind == "nothing" else context.kind,
        container=context.container if own else "",
    )
