"""What a sheet is taken for where no plan of it is kept: its tables, and how their columns are taken."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from divert.core.reading import SheetTaken
from divert.ingest.coverage.not_read import say_no_amounts, say_not_read, set_headed_down_aside
from divert.ingest.coverage.outside import skip_outside
from divert.ingest.coverage.unread_numbers import say_unread_numbers
from divert.ingest.days.when import parsed_dates
from divert.ingest.entries.doubted import plain_logs
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob
from divert.ingest.known import Known
from divert.ingest.plan.sheet_plan import LIST, NOTHING, SheetPlan, TablePlan
from divert.ingest.sheet import Sheet, is_value, letter
from divert.ingest.tables.around import file_context
from divert.ingest.tables.borrowed import heads_itself, with_borrowed_heads
from divert.ingest.tables.claims import BY_CELLS, BY_RULE, changes, kind_claims, laid_out_claims
from divert.ingest.tables.columns import Column, columns_of
from divert.ingest.tables.context import Context, gather, read_name
from divert.ingest.tables.find import find_tables
from divert.ingest.tables.headless import guess_table
from divert.ingest.tables.kind_words import kind_said
from divert.ingest.tables.kinds import kind_by_columns, kind_of_table
from divert.ingest.tables.layout import Layout, lay_out
from divert.ingest.tables.lists import is_a_list
from divert.ingest.tables.logged import logged_loads
from divert.ingest.tables.overrides import kind_of as rule_kind
from divert.ingest.tables.overrides import rule_for, with_rule, with_units_across, without_ignored
from divert.ingest.tables.ruled_tables import (
    dates_of,
    heads_from_rule,
    said_by_rule,
    tables_by_rule,
)
from divert.ingest.tables.settle import settle
from divert.ingest.tables.table import Table
from divert.ingest.turned.build import Turned
from divert.ingest.turned.calendar_grid import is_calendar
from divert.ingest.turned.plan import account, holds_all, turn, turn_as
from divert.ingest.turned.ways import AS_IT_STANDS, DIARY, TURNED
from divert.site.model import SheetRule


@dataclass
class Proposed:
    """What a sheet was taken for: how it lies, the tables to read, and those that hold no entries.

    ``open``: cells were set aside because nobody can tell how they lie, so there is no plan to keep.
    ``kept``: the plan that was followed, where one was kept. ``by_others``: what other sheets of the
    workbook say may count too.
    """

    sheet: Sheet
    lies: str = AS_IT_STANDS
    jobs: list[TableJob] = field(default_factory=list)
    passed: list[TablePlan] = field(default_factory=list)
    open: bool = False
    kept: SheetPlan | None = None
    by_others: bool = False


def propose(
    sheet: Sheet,
    beside: Sequence[Sheet],
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> Proposed:
    """Return what a sheet is taken for; ``beside``: the other sheets of its workbook.

    What planning finds, and the rows of the sheet that stand in no table, go to ``out``.
    """
    rule = rule_for(known.site, sheet.file, sheet.name)
    ruled = rule_kind(rule)
    sheet_context = read_name(sheet.name, known)
    if ruled == "nothing":
        return _nothing(sheet, known, out, taken, by_rule=True)
    if not ruled and sheet_context.kind == "nothing" and not sheet_context.source:
        found, others = Gathered(), list[SheetTaken]()
        named = replace(sheet_context, kind="")
        proposed = _by_its_cells(sheet, (), named, rule, known, as_of, found, others)
        logs = plain_logs(proposed.jobs, found)
        if not logs or others:
            return _nothing(sheet, known, out, taken, alone=bool(sheet.name) and not beside)
        return replace(proposed, jobs=logs)
    return _by_its_cells(sheet, beside, sheet_context, rule, known, as_of, out, taken)


def _nothing(
    sheet: Sheet,
    known: Known,
    out: Gathered,
    taken: list[SheetTaken],
    by_rule: bool = False,
    alone: bool = False,
) -> Proposed:
    before = len(out.set_aside)
    say_not_read(sheet, known, out, taken, by_rule, alone)
    return Proposed(sheet, NOTHING, open=len(out.set_aside) > before)


def _by_its_cells(
    sheet: Sheet,
    beside: Sequence[Sheet],
    sheet_context: Context,
    rule: SheetRule | None,
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> Proposed:
    pinned = bool(rule and (rule.columns or rule.headings or rule.rows))
    lies = rule.lies if rule else None
    may_turn = sheet.origin is None and (lies in TURNED or not (lies or pinned))
    outer = sheet_context.under(file_context(sheet.file, known))
    if may_turn and (turned := turn(sheet, known, outer, as_of, lies)):
        proposed = _turned(*turned, sheet, known, as_of, out, taken)
        if proposed is not None:
            return proposed
    if may_turn and is_calendar(sheet):  # its numbers are days, and no amounts
        return _nothing(sheet, known, out, taken)
    if rule is None and sheet.origin is None and set_headed_down_aside(sheet, known, out, taken):
        return Proposed(sheet, NOTHING, open=True)
    tables, guessed, by_others = _tables(sheet, beside, rule, known)
    if not tables:
        diary = turn_as(DIARY, sheet, known, outer, as_of) if may_turn else None
        read = diary and _turned(DIARY, diary, sheet, known, as_of, out, taken)
        return read or _nothing(sheet, known, out, taken)
    proposed = Proposed(sheet, by_others=by_others)
    before = len(out.set_aside)
    for table in tables:
        job = _settled(sheet, table, guessed, sheet_context, outer, rule, known, as_of)
        _take_table(job, rule, proposed, out, taken)
    proposed.open = len(out.set_aside) > before
    skip_outside(sheet, tables, known, out)
    return proposed


def _tables(
    sheet: Sheet, beside: Sequence[Sheet], rule: SheetRule | None, known: Known
) -> tuple[list[Table], list[Column], bool]:
    """Return a sheet's tables, the columns of one that is told by its cells alone, and whether the
    sheets beside it were asked for headings."""
    tables = tables_by_rule(find_tables(sheet, known), rule, sheet, known)
    if not tables and rule is not None and rule.columns:
        tables = [heads_from_rule(rule, sheet, _first_record(sheet), known)]
    if not tables and (guess := guess_table(sheet, known)):
        own = heads_itself(sheet, guess[0].first)
        headed = None if own else with_borrowed_heads(*guess, beside, known)
        return [headed or guess[0]], guess[1] if headed is None else [], True
    return tables, [], False


def _take_table(
    job: TableJob,
    rule: SheetRule | None,
    proposed: Proposed,
    out: Gathered,
    taken: list[SheetTaken],
) -> None:
    """Take a settled table for one to read, or say that it holds no entries."""
    sheet, table, layout, known = job.sheet, job.table, job.layout, job.known
    listed = job.kind == "nothing" or kind_said(next(iter(table.titles), ""), known) == "nothing"
    if layout.groups and job.kind != "nothing":
        listed = not rule_kind(rule) and (
            (listed and not _dated(layout))
            or is_a_list(job.columns, layout, table, job.context, sheet.name)
        )
    if listed or not layout.groups:
        loads = None if listed else logged_loads(job.columns, table, job.kind, known)
        say_no_amounts(sheet, table, known, out, taken, listed, loads)
        proposed.passed.append(_passed(table, listed, sheet))
        return
    say_unread_numbers(sheet, table, layout, out)
    parsed = parsed_dates(layout.shared.get("date"), job.context, known, job.as_of)
    proposed.jobs.append(replace(job, parsed=parsed))


def _settled(
    sheet: Sheet,
    table: Table,
    guessed: Sequence[Column],
    sheet_context: Context,
    outer: Context,
    rule: SheetRule | None,
    known: Known,
    as_of: dt.date,
) -> TableJob:
    """Settle what a table holds, how its columns are taken and which make one load, and say why."""
    context = _with_pairs(gather(table.titles, known), table, known).under(outer)
    context = said_by_rule(context, rule, known)
    raw = without_ignored(list(guessed) or columns_of(sheet, table, known), rule)
    named = kind_of_table(table, sheet_context, sheet.file, known)
    kind = rule_kind(rule) or kind_by_columns(named, raw, table, sheet_context, context, known)
    claims = list(kind_claims(rule_kind(rule), named, kind, table, sheet_context, known))
    columns, why = (
        (raw, [BY_CELLS.claims(c) for c in raw]) if guessed else settle(raw, kind, known, context)
    )
    ruled = with_rule(columns, rule, sheet, table, known)
    claims += [*why, *changes(columns, ruled, BY_RULE)]
    context = _with_corner(context, ruled, known)
    layout = lay_out(ruled, kind, context, known)
    if (measured := with_units_across(ruled, layout.columns, rule, known)) is not None:
        claims += changes(ruled, measured, BY_RULE)
        ruled = measured
        layout = lay_out(ruled, kind, context, known)
    claims += laid_out_claims(ruled, layout.columns)
    return TableJob(
        sheet, table, layout.columns, layout, kind, context, known, as_of, None, None,
        dates=dates_of(rule), claims=tuple(claims),
    )  # fmt: skip


def _passed(table: Table, listed: bool, sheet: Sheet) -> TablePlan:
    return TablePlan(
        LIST if listed else NOTHING,
        table.first + 1,
        None if table.end == sheet.height else table.end,
        letter(table.left),
        letter(table.right),
        tuple(r + 1 for r in table.heading_rows),
    )


def _turned(
    lies: str,
    turned: Turned,
    sheet: Sheet,
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> Proposed | None:
    """Return the tables of a turned sheet; none where they do not take in all of its entries."""
    found, others = Gathered(), list[SheetTaken]()
    proposed = propose(turned.sheet, (), known, as_of, found, others)
    if others or not holds_all(turned, proposed.jobs):
        return None
    account(sheet, turned, found, out)
    return replace(proposed, lies=lies)


def _dated(layout: Layout) -> bool:
    return any(name in layout.shared for name in ("date", "day", "month"))


def _with_pairs(context: Context, table: Table, known: Known) -> Context:
    """Lay "Source: X" and the like, written over a table, over what its titles say."""
    for field_name, text in table.pairs:
        if field_name == "source":
            context = replace(context, source=known.sources.find(text) or text)
        elif field_name == "material":
            context = replace(context, material=known.materials.find(text) or text)
        elif field_name == "container":
            context = replace(context, container=known.containers.find(text) or text)
        elif field_name in ("month", "year", "date", "day"):
            said = read_name(text, known)
            day = Context(years=said.years, span=said.span, month=said.month, day=said.day)
            context = day.under(context)
        elif field_name == "unit":
            said = read_name(f"({text})", known)
            context = replace(context, unit=said.unit or context.unit, unit_text=said.unit_text)
    return context


def _with_corner(context: Context, columns: Sequence[Column], known: Known) -> Context:
    """Take what heads a column of names ("Pails", "Food scraps (lb)") for what all its cells say."""
    for column in columns:
        heading = column.heading
        if column.field not in ("source", "material") or heading.field == column.field:
            continue
        about = known.materials.find(heading.label) if column.field == "source" else None
        context = replace(
            context,
            container=context.container or heading.container,
            material=context.material or about or "",
            unit=context.unit or heading.unit,
            unit_text=context.unit_text or heading.unit_text,
        )
    return context


def _first_record(sheet: Sheet) -> int:
    for row in range(sheet.height):
        if any(is_value(c) for c in sheet.row(row)):
            return row
    return 0
