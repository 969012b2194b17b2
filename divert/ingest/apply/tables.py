"""A table's plan and its sheet's cells, made into everything the table is read with."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace

from divert.core.reading import Claim
from divert.core.words import Text
from divert.ingest.cells.unit import read_cell
from divert.ingest.days.when import parsed_dates
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob
from divert.ingest.known import Known
from divert.ingest.plan.sheet_plan import ColumnPlan, LoadPlan, Says, TablePlan
from divert.ingest.sheet import Sheet, column_of
from divert.ingest.tables.claims import BY_PLAN
from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.groups import Group
from divert.ingest.tables.heading import Heading
from divert.ingest.tables.labels import Label
from divert.ingest.tables.layout import layout_of
from divert.ingest.tables.table import Head, Table, printed_again


def table_job(plan: TablePlan, sheet: Sheet, known: Known, as_of: dt.date) -> TableJob:
    """Return everything a table is read with, from its plan and the cells it names."""
    table = table_of(plan, sheet)
    columns = tuple(
        _column(c, sheet, table, known)
        for c in plan.columns
        if column_of(c.at) < len(sheet.columns)
    )
    context = _context(plan.says, known)
    by_letter = {c.letter: c for c in columns}
    groups = [g for one in plan.loads if (g := _group(one, by_letter)).columns]
    layout = layout_of(columns, groups)
    return TableJob(
        sheet,
        table,
        columns,
        layout,
        plan.holds,
        context,
        known,
        as_of,
        parsed_dates(layout.shared.get("date"), context, known, as_of),
        order=None,
        doubted=Gathered() if plan.doubted else None,
        dates=plan.dates,
        claims=(
            Claim("", plan.holds, BY_PLAN.weight, Text(BY_PLAN.message)),
            *(BY_PLAN.claims(c) for c in columns),
        ),
    )


def table_of(plan: TablePlan, sheet: Sheet) -> Table:
    """Return where a planned table lies in a sheet."""
    first = plan.first - 1
    end = sheet.height if plan.last is None else min(plan.last, sheet.height)
    rows = tuple(r - 1 for r in plan.headings)
    heads = tuple(
        Head(column_of(c.at), c.heading, c.over, Heading()) for c in plan.columns if c.heading
    )
    table = Table(
        heads if rows else (),
        first,
        end,
        plan.titles,
        (),
        rows,
        frozenset(r - 1 for r in plan.repeats),
        column_of(plan.left),
        column_of(plan.right),
    )
    return replace(table, repeats=table.repeats | printed_again(sheet, table))


def _column(plan: ColumnPlan, sheet: Sheet, table: Table, known: Known) -> Column:
    heading = Heading(
        text=plan.heading,
        field="" if plan.by_sum else plan.role,
        unit=read_cell(plan.unit, known.trade.meaning) if plan.unit else None,
        unit_text=plan.unit,
        percent=plan.percent,
        money=plan.money or None,
        label=plan.label,
        container=plan.container,
        size_m3=plan.size_m3,
        unsized=plan.unsized,
        fill=plan.fill,
    )
    index = column_of(plan.at)
    cells = sheet.columns[index].part(table.first, table.end)
    return Column(index, Head(index, plan.heading, plan.over, heading), plan.role, cells, known)


def _group(plan: LoadPlan, columns: Mapping[str, Column]) -> Group:
    label = Label(
        plan.source,
        plan.material,
        plan.container,
        plan.size_m3,
        plan.day,
        plan.weekday,
        plan.number,
        plan.year,
        plan.other,
        plan.ambiguous,
        plan.by_site,
    )
    own: dict[str, list[Column]] = {}
    for at in plan.columns:
        if at in columns:
            own.setdefault(columns[at].field, []).append(columns[at])
    return Group(label, own, tuple(columns[at] for at in plan.only_where_blank if at in columns))


def _context(says: Says, known: Known) -> Context:
    return Context(
        years=says.years,
        span=says.span,
        month=says.month,
        day=says.day,
        source=says.source,
        material=says.material,
        container=says.container,
        unit=read_cell(says.unit, known.trade.meaning) if says.unit else None,
        unit_text=says.unit,
    )
