"""What a proposed table is read with, written down as a plan."""

from __future__ import annotations

from collections.abc import Iterable

from divert.ingest.cells.date import Order
from divert.ingest.cells.unit import Unit, read_cell
from divert.ingest.days.order import order_followed
from divert.ingest.entries.job import TableJob
from divert.ingest.known import Known
from divert.ingest.plan.sheet_plan import ColumnPlan, LoadPlan, Says, TablePlan
from divert.ingest.sheet import letter
from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.groups import Group
from divert.ingest.tables.heading import QUANTITIES
from divert.ingest.tables.table import printed_again


def table_plan(job: TableJob) -> TablePlan:
    """Return the plan of a table that was found, one that ends with its sheet open to grow."""
    table, layout = job.table, job.layout
    return TablePlan(
        holds=job.kind,
        first=table.first + 1,
        last=None if table.end == job.sheet.height else table.end,
        left=letter(table.left),
        right=letter(table.right),
        headings=_from_one(table.heading_rows),
        repeats=_from_one(sorted(table.repeats - printed_again(job.sheet, table))),
        titles=table.titles,
        says=_says(job.context, job.known),
        dates=_order(job),
        columns=tuple(_column(c, job.known) for c in job.columns),
        loads=tuple(_load(g) for g in layout.groups),
        doubted=job.doubted is not None,
    )


def _from_one(rows: Iterable[int]) -> tuple[int, ...]:
    return tuple(r + 1 for r in rows)


def _order(job: TableJob) -> Order | None:
    """Return the order that the text dates follow, where any of them could be read in two."""
    if job.dates:
        return job.dates
    if job.parsed is None or not job.parsed.ambiguous.any():
        return None
    return order_followed(job.parsed, job.known.site, job.as_of, job.context, job.order)


def _says(context: Context, known: Known) -> Says:
    return Says(
        context.source,
        context.material,
        context.container,
        word_of(context.unit, context.unit_text, known),
        context.years,
        context.month,
        context.day,
        context.span,
    )


def word_of(unit: Unit | None, word: str, known: Known) -> str:
    """Return the word that reads back as a unit: the one that was written, else its own name."""
    if unit is None:
        return word
    read = read_cell(word, known.trade.meaning)
    same = read is not None and (read.factor, read.asked) == (unit.factor, unit.asked)
    return word if same else unit.name


def _column(column: Column, known: Known) -> ColumnPlan:
    heading = column.heading
    return ColumnPlan(
        at=column.letter,
        heading=column.head.text,
        over=column.head.over,
        role=column.field,
        unit=word_of(heading.unit, heading.unit_text, known),
        percent=heading.percent,
        money=heading.money or "",
        label=heading.label if _is_open(column, known) else "",
        container=heading.container,
        size_m3=heading.size_m3,
        fill=heading.fill,
        unsized=heading.unsized,
        by_sum=column.field == "total" and not column.says_total,
    )


def _is_open(column: Column, known: Known) -> bool:
    """Return whether what is left of a heading, beside what the plan says of it, may raise a question."""
    told = column.heading.said or known.names(column.heading.label)
    return column.field in ("", "other", "running") or (column.field in QUANTITIES and not told)


def _load(group: Group) -> LoadPlan:
    label = group.label
    return LoadPlan(
        tuple(c.letter for c in group.members),
        tuple(c.letter for c in group.only_where_blank),
        label.source,
        label.material,
        label.container,
        label.size_m3,
        label.day,
        label.weekday,
        label.number,
        label.year,
        label.other,
        label.ambiguous,
        label.by_site,
    )
