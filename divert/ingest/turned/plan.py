"""Which sheets are turned into a table, and what of them is no part of it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

import numpy as np

from divert.core.words import N_, Text
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob
from divert.ingest.entries.left_out import set_cells_aside, skip_rows
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, letter
from divert.ingest.tables.context import Context
from divert.ingest.turned.back import put_back
from divert.ingest.turned.build import Turned
from divert.ingest.turned.calendar import as_calendars
from divert.ingest.turned.diary import as_diary
from divert.ingest.turned.on_side import on_its_side
from divert.ingest.turned.slips import as_slips
from divert.ingest.turned.ways import CALENDAR, DIARY, ON_ITS_SIDE, SLIPS

_WIDEST = 800  # columns; two years of days


def turn(
    sheet: Sheet, known: Known, outer: Context, as_of: dt.date, told: str | None = None
) -> tuple[str, Turned] | None:
    """Return how a sheet lies that is plainly no table, and it as an ordinary one; else None.

    ``outer``: what the names of the sheet and of its file say; ``told``: how a person says it lies.
    """
    for lies in (told,) if told else (ON_ITS_SIDE, SLIPS, CALENDAR):
        if turned := turn_as(lies, sheet, known, outer, as_of):
            return lies, turned
    return None


def turn_as(lies: str, sheet: Sheet, known: Known, outer: Context, as_of: dt.date) -> Turned | None:
    """Return a sheet turned into a table as one that lies in a given way; None where it does not."""
    if lies == DIARY:
        return as_diary(sheet, known, outer)
    if len(sheet.columns) > _WIDEST:
        return None
    if lies == ON_ITS_SIDE:
        return on_its_side(sheet, known)
    if lies == SLIPS:
        return as_slips(sheet, known)
    return as_calendars(sheet, known, outer, as_of)


def holds_all(turned: Turned, jobs: Sequence[TableJob]) -> bool:
    """Return whether the tables found in a turned sheet take in each of its entries."""
    rows = {r for job in jobs for r in range(job.table.first, job.table.end)}
    return bool(jobs) and set(turned.entries) <= rows


def account(sheet: Sheet, turned: Turned, found: Gathered, out: Gathered) -> None:
    """Add what planning a turned sheet found, and name what of the user's sheet is no part of it."""
    put_back(found, turned.sheet, out)
    for row, column, text, reason in turned.left:
        if column is None:
            skip_rows(sheet, [row], reason, out)
        else:
            where = (sheet.file, sheet.name, row + 1, letter(column))
            out.skipped.append((*where, text, reason, np.datetime64("NaT", "D")))
    if turned.doubtful:
        message = Text(N_("I cannot tell for sure what came here, so it is not counted."))
        hint = Text(
            N_("Write one amount with its unit, and source and material as site.toml names them.")
        )
        for place in turned.doubtful:
            set_cells_aside(sheet, [place], message, hint, out)
    skip_rows(sheet, sorted(set(range(sheet.height)) - turned.spoken), "note", out)
