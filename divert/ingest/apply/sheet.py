"""A kept plan and its sheet, made into the tables to read; one that no longer fits is asked about."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from divert.core.findings import Finding, Where
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.apply.fits import Misfit, misfit
from divert.ingest.apply.tables import table_job, table_of
from divert.ingest.coverage.not_read import nothing_taken, say_no_amounts, say_not_read
from divert.ingest.coverage.outside import skip_outside
from divert.ingest.coverage.unread_numbers import say_unread_numbers
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob
from divert.ingest.entries.left_out import skip_rows
from divert.ingest.known import Known
from divert.ingest.plan.sheet_plan import LIST, NOTHING, SheetPlan, TablePlan
from divert.ingest.sheet import Sheet, as_text, letter
from divert.ingest.tables.around import outer_context
from divert.ingest.tables.table import Table
from divert.ingest.turned.plan import account, holds_all, turn_as
from divert.ingest.turned.ways import AS_IT_STANDS

CODE = "plan does not fit"


def apply_plan(
    plan: SheetPlan,
    sheet: Sheet,
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> list[TableJob]:
    """Return the tables of a sheet as its plan says; its rows are set aside where that does not fit."""
    if plan.lies == NOTHING:
        say_not_read(sheet, known, out, taken, by_rule=bool(plan.ruled))
        return []
    found, said = Gathered(), list[SheetTaken]()
    jobs: list[TableJob] | Misfit
    if plan.lies == AS_IT_STANDS:
        jobs = _tables(plan.tables, sheet, known, as_of, found, said)
    else:
        jobs = _turned(plan, sheet, known, as_of, found)
    if isinstance(jobs, Misfit):
        _set_aside(plan, sheet, jobs, out, taken)
        return []
    taken += said
    if any(t.doubted for t in plan.tables):
        return [replace(job, doubted=found) for job in jobs]
    out.add(found)
    return jobs


def _turned(
    plan: SheetPlan, sheet: Sheet, known: Known, as_of: dt.date, out: Gathered
) -> list[TableJob] | Misfit:
    turned = turn_as(plan.lies, sheet, known, outer_context(sheet, known), as_of)
    found, said = Gathered(), list[SheetTaken]()
    if turned is None:
        return _lies_otherwise(plan)
    jobs = _tables(plan.tables, turned.sheet, known, as_of, found, said)
    if isinstance(jobs, Misfit) or said or not holds_all(turned, jobs):
        return _lies_otherwise(plan)
    account(sheet, turned, found, out)
    return jobs


def _lies_otherwise(plan: SheetPlan) -> Misfit:
    message = N_("This sheet was read as {lies} when its plan was kept, and no longer lies so.")
    return Misfit(0, 0, Text(message, {"lies": Text(plan.lies)}))


def _tables(
    plans: Sequence[TablePlan],
    sheet: Sheet,
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> list[TableJob] | Misfit:
    jobs: list[TableJob] = []
    tables: list[Table] = []
    for plan in plans:
        if (found := misfit(plan, sheet)) is not None:
            return found
        table = table_of(plan, sheet)
        tables.append(table)
        if plan.holds in (NOTHING, LIST):
            say_no_amounts(sheet, table, known, out, taken, listed=plan.holds == LIST)
            continue
        job = table_job(plan, sheet, known, as_of)
        say_unread_numbers(sheet, table, job.layout, out)
        jobs.append(job)
    skip_outside(sheet, tables, known, out)
    return jobs


def _set_aside(
    plan: SheetPlan, sheet: Sheet, found: Misfit, out: Gathered, taken: list[SheetTaken]
) -> None:
    """Set aside the rows in which a sheet's plan has entries, with one question for all of them."""
    first = min((t.first - 1 for t in plan.tables), default=0) if plan.lies == AS_IT_STANDS else 0
    rows = [r for r in range(first, sheet.height) if any(c is not None for c in sheet.row(r))]
    for row in rows:
        column, cell = next((i, c) for i, c in enumerate(sheet.row(row)) if c is not None)
        text = as_text(cell)[:200]
        out.set_aside.append((sheet.file, sheet.name, row + 1, letter(column), text, CODE))
    skipped = skip_rows(sheet, sorted(set(range(sheet.height)) - set(rows)), "note", out)
    hint = Text(
        N_("Undo the change, or take this sheet's entry out of reading.toml and keep it anew with "
           "divert read --keep.")
    )  # fmt: skip
    where = Where(sheet.file, sheet.name, found.row + 1, letter(found.column))
    out.findings.append(Finding("refused", CODE, found.message, where, hint, rows=len(rows)))
    taken.append(nothing_taken(sheet, skipped, len(rows)))
