"""The plans of a file's sheets: the one that is kept, else the one its cells propose."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

from divert.core.findings import Finding, Where
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.apply.sheet import apply_plan
from divert.ingest.entries.gathered import Gathered
from divert.ingest.known import Known
from divert.ingest.plan.from_tables import table_plan
from divert.ingest.plan.propose import Proposed, propose
from divert.ingest.plan.sheet_plan import SheetPlan
from divert.ingest.sheet import Sheet
from divert.ingest.tables.overrides import rule_for

Kept = Mapping[tuple[str, str], SheetPlan]


def plan_sheets(
    sheets: Sequence[Sheet],
    kept: Kept,
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> list[Proposed]:
    """Return what each sheet of a file is read with; blank sheets are left out.

    ``kept``: the plans that were kept, by file and sheet. One of a sheet that site.toml has a
    [[sheet]] for is not used: what is written there outdoes it.
    """
    found: list[Proposed] = []
    for sheet in sheets:
        if not sheet.height:
            continue
        if sheet.hidden:
            _say_hidden(sheet, out)
        plan = kept.get((sheet.file, sheet.name))
        if plan is not None and rule_for(known.site, sheet.file, sheet.name) is None:
            jobs = apply_plan(plan, sheet, known, as_of, out, taken)
            found.append(Proposed(sheet, plan.lies, jobs, kept=plan))
            continue
        beside = [other for other in sheets if other is not sheet]
        found.append(propose(sheet, beside, known, as_of, out, taken))
    return found


def sheet_plan(proposed: Proposed) -> SheetPlan | None:
    """Return the plan of a sheet, None where something in it is open."""
    if proposed.kept is not None:
        return proposed.kept
    if proposed.open:
        return None
    tables = [table_plan(job) for job in proposed.jobs] + proposed.passed
    tables.sort(key=lambda t: (t.first, len(t.left), t.left))
    return SheetPlan(proposed.sheet.file, proposed.sheet.name, proposed.lies, tuple(tables))


def _say_hidden(sheet: Sheet, out: Gathered) -> None:
    out.findings.append(Finding(
        "note", "hidden sheet read", Text(N_("This sheet is hidden; I read it all the same.")),
        Where(sheet.file, sheet.name), 
        Text(N_('If it should not count, write holds = "nothing" for it under [[sheet]].')),
    ))  # fmt: skip
