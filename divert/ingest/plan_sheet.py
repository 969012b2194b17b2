"""What to do with a sheet: its tables, what each holds, and how its columns are taken."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from pathlib import PurePosixPath

from divert.core.findings import Finding, Where
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.days.when import parsed_dates
from divert.ingest.entries.doubted import plain_logs
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.job import TableJob
from divert.ingest.known import Known
from divert.ingest.not_read import say_no_amounts, say_not_read, say_unread_numbers, skip_outside
from divert.ingest.sheet import Sheet, is_value
from divert.ingest.sideways import set_sideways_aside
from divert.ingest.tables.borrowed import with_borrowed_heads
from divert.ingest.tables.columns import Column, columns_of
from divert.ingest.tables.context import Context, gather, read_name
from divert.ingest.tables.find import find_tables
from divert.ingest.tables.headless import guess_table
from divert.ingest.tables.kind_words import kind_said
from divert.ingest.tables.kinds import kind_by_columns, kind_of_table
from divert.ingest.tables.layout import Layout, lay_out
from divert.ingest.tables.lists import is_a_list
from divert.ingest.tables.logged import logged_loads
from divert.ingest.tables.overrides import heads_from_rule, rule_for, with_rule
from divert.ingest.tables.overrides import kind_of as rule_kind
from divert.ingest.tables.settle import settle
from divert.ingest.tables.table import Table
from divert.ingest.turned.build import Turned
from divert.ingest.turned.calendar_grid import is_calendar
from divert.ingest.turned.diary import as_diary
from divert.ingest.turned.plan import account, holds_all, turn
from divert.site.model import SheetRule


def plan_sheets(
    sheets: Sequence[Sheet],
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> list[TableJob]:
    """Return the tables of a file's sheets, each with all it is read with."""
    jobs: list[TableJob] = []
    for sheet in sheets:
        if sheet.hidden and sheet.height:
            out.findings.append(Finding(
                "note", "hidden sheet read", Text(N_("This sheet is hidden; I read it all the same.")),
                Where(sheet.file, sheet.name), 
                Text(N_('If it should not count, write holds = "nothing" for it under [[sheet]].')),
            ))  # fmt: skip
        beside = [other for other in sheets if other is not sheet]
        jobs += _sheet_jobs(sheet, beside, known, as_of, out, taken)
    return jobs


def _sheet_jobs(
    sheet: Sheet,
    beside: Sequence[Sheet],
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> list[TableJob]:
    rule = rule_for(known.site, sheet.file, sheet.name)
    ruled = rule_kind(rule)
    sheet_context = read_name(sheet.name, known)
    if not sheet.height:
        return []
    if ruled == "nothing":
        say_not_read(sheet, known, out, taken, by_rule=True)
        return []
    if not ruled and sheet_context.kind == "nothing" and not sheet_context.source:
        found, others = Gathered(), list[SheetTaken]()
        named = replace(sheet_context, kind="")
        jobs = _table_jobs(sheet, (), named, rule, known, as_of, found, others)
        logs = plain_logs(jobs, found)
        if not logs or others:
            say_not_read(sheet, known, out, taken, by_rule=False)
            return []
        return logs
    return _table_jobs(sheet, beside, sheet_context, rule, known, as_of, out, taken)


def _table_jobs(
    sheet: Sheet,
    beside: Sequence[Sheet],
    sheet_context: Context,
    rule: SheetRule | None,
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> list[TableJob]:
    ruled = rule_kind(rule)
    may_turn = sheet.origin is None and not (rule and rule.columns)
    outer = sheet_context.under(_file_context(sheet.file, known))
    if may_turn and (turned := turn(sheet, known, outer, as_of)):
        jobs = _turned_jobs(turned, sheet, known, as_of, out, taken)
        if jobs:
            return jobs
    if may_turn and is_calendar(sheet):  # its numbers are days, and no amounts
        say_not_read(sheet, known, out, taken, by_rule=False)
        return []
    if rule is None and sheet.origin is None and set_sideways_aside(sheet, known, out, taken):
        return []
    tables, outside = find_tables(sheet, known)
    guessed: dict[int, list[Column]] = {}
    if not tables and rule is not None and rule.columns:
        tables = [heads_from_rule(rule, sheet, _first_record(sheet), known)]
        outside = list(range(tables[0].first))
    if not tables and (guess := guess_table(sheet, known)):
        outside = list(range(guess[0].first))
        headed = with_borrowed_heads(*guess, beside, known)
        tables = [headed or guess[0]]
        if headed is None:
            guessed[0] = guess[1]
    if not tables:
        diary = as_diary(sheet, known, outer) if may_turn else None
        if diary and (jobs := _turned_jobs(diary, sheet, known, as_of, out, taken)):
            return jobs
        say_not_read(sheet, known, out, taken, by_rule=False)
        return []
    jobs = list[TableJob]()
    for place, table in enumerate(tables):
        context = _with_pairs(gather(table.titles, known), table, known).under(outer)
        kind = ruled or kind_of_table(table, sheet_context, sheet.file, known)
        raw = guessed.get(place) or columns_of(sheet, table, known)
        kind = ruled or kind_by_columns(kind, raw, table, sheet_context, context, known)
        columns = raw if place in guessed else settle(raw, kind, known, context.source)
        columns = with_rule(columns, rule, sheet, table, known)
        context = _with_corner(context, columns, known)
        layout = lay_out(columns, kind, context, known)
        listed = kind == "nothing" or kind_said(next(iter(table.titles), ""), known) == "nothing"
        if layout.groups and kind != "nothing":
            listed = not ruled and (
                (listed and not _dated(layout))
                or is_a_list(columns, layout, table, context, sheet.name)
            )
        if listed or not layout.groups:
            loads = None if listed else logged_loads(columns, table, kind, known)
            say_no_amounts(sheet, table, known, out, taken, listed, loads)
            continue
        say_unread_numbers(sheet, table, layout, out)
        parsed = parsed_dates(layout.shared.get("date"), context, known, as_of)
        jobs.append(
            TableJob(
                sheet, table, tuple(columns), layout, kind, context, known, as_of, parsed, None
            )
        )
    skip_outside(sheet, tables, outside, out)
    return jobs


def _turned_jobs(
    turned: Turned,
    sheet: Sheet,
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
) -> list[TableJob]:
    """Return the tables of a turned sheet; none where they do not take in all of its entries."""
    found, others = Gathered(), list[SheetTaken]()
    jobs = _sheet_jobs(turned.sheet, (), known, as_of, found, others)
    if others or not holds_all(turned, jobs):
        return []
    account(sheet, turned, found, out)
    return jobs


def _dated(layout: Layout) -> bool:
    return any(name in layout.shared for name in ("date", "day", "month"))


def _file_context(file: str, known: Known) -> Context:
    """Return what a file's name says, then the folders it lies in, nearest first."""
    path = PurePosixPath(file)
    context = read_name(path.stem.replace("_", " "), known)
    for folder in path.parent.parts[::-1]:
        context = context.under(read_name(folder, known))
    return replace(context, kind="" if context.kind == "nothing" else context.kind)


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
