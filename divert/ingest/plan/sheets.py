"""The plans of a file's sheets: the one that is kept, else the one its cells propose."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict

from divert.core.findings import Finding, Where
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.apply.sheet import apply_plan
from divert.ingest.entries.gathered import Gathered
from divert.ingest.known import Known
from divert.ingest.one_sheet import left_out_if_it_fails
from divert.ingest.plan.from_tables import table_plan
from divert.ingest.plan.propose import Proposed, propose
from divert.ingest.plan.sheet_plan import SheetPlan
from divert.ingest.sheet import Distinct, Sheet
from divert.ingest.sheets_held import SheetsHeld
from divert.ingest.tables.overrides import rule_for
from divert.ingest.work import spend

Kept = Mapping[tuple[str, str], SheetPlan]


def plan_sheets(
    sheets: Sequence[Sheet],
    kept: Kept,
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
    held: SheetsHeld | None = None,
) -> list[Proposed]:
    """Return what each sheet of a file is read with; blank sheets are left out.

    ``kept``: the plans that were kept, by file and sheet. What a [[sheet]] of site.toml says outdoes
    them: a plan made before that was written, or changed, is not used. ``held``: what this process
    took sheets for before; a sheet whose reading follows from the same is not gone through again.
    """
    found: list[Proposed] = []
    for sheet in sheets:
        if not sheet.height:
            continue
        with left_out_if_it_fails(sheet.file, sheet.name, out, taken, found):
            spend(sum(map(_to_plan, sheet.columns)))
            plan = kept.get((sheet.file, sheet.name))
            before = held.of(sheet, known, plan) if held is not None else None
            if before is not None:
                proposed, told, said = before.proposed, before.out, before.taken
            else:
                beside = [other for other in sheets if other is not sheet]
                told, said = Gathered(), list[SheetTaken]()
                proposed = _proposed(sheet, beside, plan, known, as_of, told, said)
                if held is not None:
                    held.keep(sheet, known, plan, proposed, told, said)
            out.add(told)
            taken += said
            found.append(proposed)
    return found


def _proposed(
    sheet: Sheet,
    beside: Sequence[Sheet],
    plan: SheetPlan | None,
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> Proposed:
    if sheet.hidden:
        _say_hidden(sheet, out)
    if plan is not None and plan.ruled == fingerprint(known, sheet):
        jobs = apply_plan(plan, sheet, known, as_of, out, taken)
        return Proposed(sheet, plan.lies, jobs, kept=plan)
    return propose(sheet, beside, known, as_of, out, taken)


def sheet_plan(proposed: Proposed, known: Known) -> SheetPlan | None:
    """Return the plan of a sheet, None where something in it is open."""
    if proposed.kept is not None:
        return proposed.kept
    if proposed.open:
        return None
    tables = [table_plan(job) for job in proposed.jobs] + proposed.passed
    tables.sort(key=lambda t: (t.first, len(t.left), t.left))
    sheet = proposed.sheet
    ruled = fingerprint(known, sheet)
    return SheetPlan(sheet.file, sheet.name, proposed.lies, ruled, tuple(tables))


def fingerprint(known: Known, sheet: Sheet) -> str:
    """Return a short fingerprint of the [[sheet]] that site.toml has for a sheet, "" where it has none."""
    rule = rule_for(known.site, sheet.file, sheet.name)
    if rule is None:
        return ""
    said = {
        key: value for key, value in asdict(rule).items() if value
    }  # what later versions add is not
    return hashlib.sha256(json.dumps(said, sort_keys=True).encode()).hexdigest()[:12]


def _say_hidden(sheet: Sheet, out: Gathered) -> None:
    out.findings.append(Finding(
        "note", "hidden sheet read", Text(N_("This sheet is hidden; I read it all the same.")),
        Where(sheet.file, sheet.name), 
        Text(N_('If it should not count, write holds = "nothing" for it under [[sheet]].')),
    ))  # fmt: skip


def _to_plan(column: Distinct) -> int:
    """Return the work to plan a column: some of its different cells are read in many ways."""
    return 400 + 40 * min(len(column.cells), 100) + 2 * len(column.cells)
