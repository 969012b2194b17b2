"""One table's rows as entries, set-aside rows and skipped rows: every row accounted for once."""

from __future__ import annotations

import numpy as np

from divert.ingest import carry
from divert.ingest.amounts import totals
from divert.ingest.amounts.alike import measure_all
from divert.ingest.amounts.meant import Meant
from divert.ingest.amounts.measure import decimal_comma
from divert.ingest.amounts.removed import charge_once, refuse_more_than_came
from divert.ingest.arrays import NAT, Bools
from divert.ingest.cells.unit import Unit
from divert.ingest.coverage.cover import doubted_rows, doubts_of, say_doubts
from divert.ingest.coverage.doubt import Seen
from divert.ingest.coverage.totals_apart import totals_apart
from divert.ingest.coverage.unread_across import set_unread_across_aside
from divert.ingest.days.when import when
from divert.ingest.entries.gathered import Counted, Gathered, rows_skipped
from divert.ingest.entries.group import group_entries
from divert.ingest.entries.job import TableJob
from divert.ingest.entries.leftover import leftover_rows, total_cells
from divert.ingest.entries.restated import Loads, restated, say_restated
from divert.ingest.entries.row_facts import RowFacts
from divert.ingest.entries.split_numbers import refuse_split_numbers
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.numbers import adds_up, numbers_of
from divert.ingest.tables.rows import classify
from divert.ingest.work import spend

_PER_GROUP, _PER_LOAD = 500, 10  # work to read a group of columns, and one of its loads


def read_entries(job: TableJob, out: Gathered, loads: Loads | None = None) -> Counted:
    """Read one table into what is gathered; returns how many entries became what.

    ``loads``: those read already, where this table may only sum them.
    """
    groups = len(job.layout.groups)
    spend(
        groups * (_PER_GROUP + (_PER_LOAD if groups > 1 else 1) * (job.table.end - job.table.first))
    )
    before = (sum(p.size for p in out.parts), len(out.set_aside), len(out.skipped))
    rows = classify(job.columns, job.table, job.context, job.known)
    merged = _merged(job)
    dated = when(
        job.layout.shared, job.parsed, rows, merged, job.context, job.known, job.as_of,
        job.order, job.dates,
    )  # fmt: skip
    shared = RowFacts(job, rows, dated, merged)
    comma = decimal_comma([c for g in job.layout.groups for c in g.members], job.known)
    meant = Meant(job.known, comma, job.context, _table_unit(job.layout))
    measured = measure_all(job.layout, meant)
    refuse_split_numbers(job, measured)
    charge_once(job.layout, measured)
    refuse_more_than_came(measured)
    summed = totals.arithmetic(rows, dated, job.layout, measured)
    rows.reason[summed] = "total or subtotal"
    if loads is not None:
        found = restated(job, rows, dated, shared, measured, loads)
        rows.reason[found.sums] = "total or subtotal"
        for rows_of, said in ((found.doubtful, "no sum"), (found.beside, "month beside its days")):
            dated.days[rows_of], dated.problem[rows_of] = NAT, said
        say_restated(job, found, out)
    rows.settle()
    answered = np.zeros(len(rows.reason), dtype=bool)
    seen = Seen(job, rows, dated, measured)
    doubts = doubts_of(seen)
    doubted = doubted_rows(doubts, job.layout.groups, len(answered))
    for group, amounts, doubtful in zip(job.layout.groups, measured, doubted, strict=True):
        answered |= group_entries(job, group, amounts, rows, dated, shared, doubtful, out)
    say_doubts(job, doubts, measured, out)
    out.findings += totals_apart(seen, doubted)
    set_unread_across_aside(job, rows.open, out)
    leftover_rows(job, rows, dated, shared, answered, out)
    total_cells(job, rows, out)
    used, aside, skipped = before
    return Counted(
        sum(p.size for p in out.parts) - used,
        len(out.set_aside) - aside,
        rows_skipped(out.skipped[skipped:]),
    )


def _merged(job: TableJob) -> dict[str, Bools]:
    size = job.table.end - job.table.first
    return {
        name: carry.merged_rows(job.sheet.merged, c.index, job.table.first, size)
        for name, c in job.layout.shared.items()
    }


def _table_unit(layout: Layout) -> Unit | None:
    """Return the unit of mass that the table's other headings name, where they all name one.

    Without one, the unit of a total that sums the amounts beside it is theirs.
    """
    columns = [
        c
        for g in layout.groups
        for f, cs in g.columns.items()
        if f in ("weight", "gross", "each", "quantity")
        for c in cs
    ]
    told = [u for c in columns if (u := c.heading.unit) is not None]
    units = {u.name: u for u in told if u.dimension == "mass"}
    parts = [g.first for g in layout.groups if g.first.field == "quantity"]
    if not told and len(parts) > 1:
        totals = [t for t in layout.totals if t.heading.unit is not None]
        values = [numbers_of(c) for c in parts] if totals else []
        units = {t.heading.unit_text: u for t in totals if (u := t.heading.unit) is not None
                 and adds_up(numbers_of(t), values, 1)}  # fmt: skip
    return next(iter(units.values())) if len(units) == 1 else None
