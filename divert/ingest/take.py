"""From opened files to a Reading: each sheet's tables found, read, and checked against each other."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import PurePosixPath

import numpy as np
import pandas as pd

from divert.findings import Finding, Where
from divert.ingest import checks
from divert.ingest.answers import settled
from divert.ingest.cells.date import Order
from divert.ingest.coded import join
from divert.ingest.columns import Column, columns_of, settle
from divert.ingest.context import Context, gather, kind_of, read_name
from divert.ingest.dates import evidence
from divert.ingest.entries import Counted, Gathered, Reading1, read_entries
from divert.ingest.grid import Opened
from divert.ingest.headless import guess_table
from divert.ingest.known import Known
from divert.ingest.layout import Layout, lay_out
from divert.ingest.overrides import heads_from_rule, rule_for, with_rule
from divert.ingest.overrides import kind_of as rule_kind
from divert.ingest.sheet import Sheet, as_text, by_columns, is_value
from divert.ingest.tables import Table, find_tables
from divert.ingest.when import parsed_dates
from divert.reading import SET_ASIDE_COLUMNS, SKIPPED_COLUMNS, InputFile, Reading, SheetTaken
from divert.words import N_, Text


@dataclass
class Taken:
    """What the files read so far have given."""

    out: Gathered = field(default_factory=Gathered)
    sheets: list[SheetTaken] = field(default_factory=list)
    inputs: list[InputFile] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    first_of: dict[str, str] = field(default_factory=dict)


def take_file(opened: Opened, known: Known, as_of: dt.date, taken: Taken) -> None:
    """Read one opened file's sheets."""
    taken.inputs.append(opened.input)
    taken.findings += opened.findings
    if not opened.grids:
        return
    original = taken.first_of.setdefault(opened.input.sha256, opened.input.file)
    out = Gathered() if original != opened.input.file else taken.out
    sheets: list[SheetTaken] = []
    jobs = _jobs([by_columns(g) for g in opened.grids], known, as_of, out, sheets, opened)
    order = _order_of(jobs)
    for job in jobs:
        counted = read_entries(replace(job, order=order), out)
        sheets.append(_said(job, counted))
    if out is not taken.out:
        _refuse_copy(opened, original, out, taken)
        sheets = [_as_copy(s) for s in sheets]
    taken.sheets += sheets


def _jobs(
    sheets: Sequence[Sheet],
    known: Known,
    as_of: dt.date,
    out: Gathered,
    taken: list[SheetTaken],
    opened: Opened,
) -> list[Reading1]:
    jobs: list[Reading1] = []
    for sheet in sheets:
        if sheet.hidden and sheet.height:
            out.findings.append(Finding(
                "note", "hidden sheet read", Text(N_("This sheet is hidden; I read it all the same.")),
                Where(sheet.file, sheet.name), 
                Text(N_('If it should not count, write holds = "nothing" for it under [[sheet]].')),
            ))  # fmt: skip
        jobs += _sheet_jobs(sheet, known, as_of, out, taken)
    return jobs


def _sheet_jobs(
    sheet: Sheet, known: Known, as_of: dt.date, out: Gathered, taken: list[SheetTaken]
) -> list[Reading1]:
    rule = rule_for(known.site, sheet.file, sheet.name)
    ruled = rule_kind(rule)
    sheet_context = read_name(sheet.name, known)
    if not sheet.height:
        return []
    if ruled == "nothing" or (
        not ruled and sheet_context.kind == "nothing" and not sheet_context.source
    ):
        _not_read(sheet, out, taken, by_rule=ruled == "nothing")
        return []
    tables, outside = find_tables(sheet, known)
    guessed: dict[int, list[Column]] = {}
    if not tables and rule is not None and rule.columns:
        tables = [heads_from_rule(rule, sheet, _first_record(sheet), known)]
        outside = list(range(tables[0].first))
    if not tables and (guess := guess_table(sheet, known)):
        tables, guessed[0] = [guess[0]], guess[1]
        outside = list(range(guess[0].first))
    if not tables:
        _not_read(sheet, out, taken, by_rule=False)
        return []
    outer = sheet_context.under(_file_context(sheet.file, known))
    jobs = []
    for place, table in enumerate(tables):
        context = _with_pairs(gather(table.titles, known), table, known).under(outer)
        kind = ruled or _kind(table, sheet_context, sheet.file, context)
        raw = guessed.get(place) or columns_of(sheet, table, known)
        kind = ruled or _kind_by_columns(kind, raw, table, sheet_context)
        columns = raw if place in guessed else settle(raw, kind, known)
        columns = with_rule(columns, rule, sheet, table, known)
        layout = lay_out(columns, kind, context, known)
        if not layout.groups:
            _no_amounts(sheet, table, out, taken)
            continue
        if (
            not ruled
            and table.titles
            and kind_of(table.titles[0]) == "nothing"
            and not _dated(layout)
        ):
            _no_amounts(sheet, table, out, taken)
            continue
        _unread_numbers(sheet, table, layout, out)
        parsed = parsed_dates(layout.shared.get("date"), context, known, as_of)
        jobs.append(
            Reading1(
                sheet, table, tuple(columns), layout, kind, context, known, as_of, parsed, None
            )
        )
    _outside_rows(sheet, tables, outside, out)
    return jobs


def _dated(layout: Layout) -> bool:
    return any(name in layout.shared for name in ("date", "day", "month"))


def _unread_numbers(sheet: Sheet, table: Table, layout: Layout, out: Gathered) -> None:
    """Say which columns of numbers were not read, so that none is left out in silence."""
    for column in layout.unread:
        if column.field not in ("", "other") or column.content.numbers <= 0.5:
            continue
        row = table.heading_rows[-1] + 1 if table.heading_rows else table.first + 1
        message = Text(
            N_("I do not know what the numbers under “{heading}” are, so I did not read them."),
            {"heading": column.head.text},
        )
        hint = Text(N_("If they are amounts, say which under [[sheet]] in site.toml."))
        where = Where(sheet.file, sheet.name, row, column.letter)
        out.findings.append(
            Finding("note", "sheet not read", message, where, hint, column.head.text)
        )


def _file_context(file: str, known: Known) -> Context:
    """Return what a file's name says, then the folders it lies in, nearest first."""
    path = PurePosixPath(file)
    context = read_name(path.stem.replace("_", " "), known)
    for folder in path.parent.parts[::-1]:
        context = context.under(read_name(folder, known))
    return replace(context, kind="" if context.kind == "nothing" else context.kind, day=None)


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
            context = replace(
                context,
                years=said.years or context.years,
                month=said.month or context.month,
                day=said.day or context.day,
            )
        elif field_name == "unit":
            said = read_name(f"({text})", known)
            context = replace(context, unit=said.unit or context.unit, unit_text=said.unit_text)
    return context


def _kind(table: Table, sheet: Context, file: str, context: Context) -> str:
    """Return what a table holds: by its nearest title, its sheet's name, its file's, else intake."""
    for title in table.titles:
        said = kind_of(title)
        if said and said != "nothing":
            return said
    if sheet.kind and sheet.kind != "nothing":
        return sheet.kind
    said = kind_of(PurePosixPath(file).stem.replace("_", " "))
    return said if said and said != "nothing" else "intake"


def _kind_by_columns(kind: str, columns: Sequence[Column], table: Table, sheet: Context) -> str:
    """Correct a kind that only the file's name or nothing gave, where the columns say another."""
    by_file = not sheet.kind and not any(kind_of(t) for t in table.titles)
    if (
        by_file
        and kind in ("removed", "residue", "weigh-in")
        and {c.heading.field for c in columns} >= {"source", "material"}
    ):
        return "intake"  # a whole file named for contamination may well be the intake log
    if kind != "intake" or sheet.kind == "intake":
        return kind
    raw = {c.heading.field for c in columns if c.content.filled}
    if "fuel" in raw and not raw & {"source", "material"}:
        return "fuel"
    if raw & {"hours", "people"} and not raw & {
        "material",
        "weight",
        "volume",
        "gross",
        "container",
    }:
        return "activity"
    if "money" in raw and not raw & {"material", "weight", "volume", "gross", "source"}:
        return "sale" if raw & {"product", "count"} else "activity"
    if "product" in raw and not raw & {"source", "material"}:
        return "sale" if raw & {"money", "price"} else "harvest"
    return kind


def _order_of(jobs: Iterable[Reading1]) -> Order | None:
    """Return the order that the date columns of one file show, where they all show one."""
    shown = {
        e.shown
        for j in jobs
        if j.parsed is not None and (e := evidence(j.parsed)).shown is not None
    }
    return shown.pop() if len(shown) == 1 else None


def _first_record(sheet: Sheet) -> int:
    for row in range(sheet.height):
        if any(is_value(c) for c in sheet.row(row)):
            return row
    return 0


def _skip_rows(
    sheet: Sheet,
    rows: Iterable[int],
    reason: str,
    out: Gathered,
    left: int = 0,
    right: int | None = None,
) -> int:
    count = 0
    for row in rows:
        cells = [
            c for c in sheet.row(row)[left : None if right is None else right + 1] if c is not None
        ]
        text = " | ".join(as_text(c) for c in cells)[:200]
        said = reason if cells else "blank"
        out.skipped.append(
            (sheet.file, sheet.name, row + 1, "", text, said, np.datetime64("NaT", "D"))
        )
        count += 1
    return count


def _not_read(sheet: Sheet, out: Gathered, taken: list[SheetTaken], by_rule: bool) -> None:
    rows = list(range(sheet.height))
    count = _skip_rows(sheet, rows, "sheet not read", out)
    message = (
        Text(N_("site.toml says that this sheet holds nothing to read."))
        if by_rule
        else Text(N_("I found no table of entries on this sheet, so none of it is counted."))
    )
    hint = (
        None
        if by_rule
        else Text(N_("If it holds entries, say what and where under [[sheet]] in site.toml."))
    )
    out.findings.append(
        Finding("note", "sheet not read", message, Where(sheet.file, sheet.name), hint, rows=count)
    )
    taken.append(
        SheetTaken(sheet.file, sheet.name, "nothing", None, (), count, 0, 0, count, sheet.hidden)
    )


def _no_amounts(sheet: Sheet, table: Table, out: Gathered, taken: list[SheetTaken]) -> None:
    rows = range(table.first, table.end)
    count = _skip_rows(sheet, rows, "sheet not read", out, table.left, table.right)
    if count:
        where = Where(
            sheet.file, sheet.name, table.heading_rows[0] + 1 if table.heading_rows else None
        )
        out.findings.append(Finding(
            "note", "sheet not read",
            Text(N_("This table has no column of amounts that I know; none of it is counted.")),
            where,
            Text(N_("If it holds entries, say which columns under [[sheet]] in site.toml.")), rows=count,
        ))  # fmt: skip
    taken.append(
        SheetTaken(sheet.file, sheet.name, "nothing", None, (), count, 0, 0, count, sheet.hidden)
    )


def _outside_rows(
    sheet: Sheet, tables: Sequence[Table], outside: Iterable[int], out: Gathered
) -> None:
    """Name the rows that stand in no table: titles and notes above, and the headings themselves."""
    headings = {r for t in tables for r in t.heading_rows}
    inside = {r for t in tables for r in range(t.first, t.end)}
    above = [r for r in range(sheet.height) if r not in headings and r not in inside]
    _skip_rows(sheet, above, "note", out)
    for table_rows in {t.heading_rows for t in tables}:
        _skip_rows(sheet, table_rows, "heading", out)


def _said(job: Reading1, counted: Counted) -> SheetTaken:
    """Return how a table was understood, for a person to see and correct."""
    layout = job.layout
    columns: list[tuple[str, str, str]] = []
    spoken: dict[int, str] = {c.index: name for name, c in layout.shared.items()}
    for group in layout.groups:
        label = ", ".join(
            t
            for t in (
                group.label.source,
                group.label.material,
                group.label.container,
                group.label.other.lstrip("#"),
            )
            if t
        )
        for name, members in group.columns.items():
            for column in members:
                spoken[column.index] = f"{name}: {label}" if label and layout.wide else name
                if group.label.container and name == "count":
                    spoken[column.index] = f"count: {label}"
    spoken |= {c.index: "total (not counted)" for c in layout.totals}
    spoken |= {c.index: "note" for c in layout.notes}
    for column in job.columns:
        taken_as = spoken.get(column.index, "not read")
        unit = column.heading.unit_text or ("%" if column.heading.percent else "")
        if unit and taken_as != "not read":
            taken_as = f"{taken_as} ({unit})"
        heading = (
            f"{column.head.over} / {column.head.text}" if column.head.over else column.head.text
        )
        columns.append((column.letter, heading, taken_as))
    seen = counted.used + counted.set_aside + counted.skipped
    row = job.table.heading_rows[-1] + 1 if job.table.heading_rows else None
    return SheetTaken(
        job.sheet.file,
        job.sheet.name,
        job.kind,
        row,
        tuple(columns),
        seen,
        counted.used,
        counted.set_aside,
        counted.skipped,
        job.sheet.hidden,
    )


def _refuse_copy(opened: Opened, original: str, out: Gathered, taken: Taken) -> None:
    """Set aside every entry of a file that is, byte for byte, one already read."""
    copied = join(out.parts)
    rows = list(
        zip(
            copied["file"],
            copied["sheet"],
            copied["row"],
            copied["column"],
            copied["found"],
            strict=True,
        )
    )
    code = "exact copy of a file"
    taken.out.set_aside += [
        (str(f), _text(s), int(r), _text(c), str(t), code) for f, s, r, c, t in rows
    ]
    taken.out.set_aside += [(*row[:5], code) for row in out.set_aside]
    taken.out.skipped += out.skipped
    taken.findings.append(Finding(
        "refused", code,
        Text(N_("This file is an exact copy of “{file}”; it is counted once."), {"file": original}),
        Where(opened.input.file), Text(N_("Delete one of the two.")), rows=len(rows) + len(out.set_aside),
    ))  # fmt: skip


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""


def _as_copy(sheet: SheetTaken) -> SheetTaken:
    return replace(sheet, used=0, set_aside=sheet.used + sheet.set_aside)


def finish(taken: Taken, known: Known, as_of: dt.date) -> Reading:
    """Join what the files gave and check it as a whole."""
    out = taken.out
    entries = join(out.parts)
    entries, cancelled, unmatched, findings = checks.corrections(entries)
    set_aside = pd.DataFrame([*out.set_aside, *unmatched], columns=list(SET_ASIDE_COLUMNS))
    skipped = pd.DataFrame([*out.skipped, *cancelled], columns=list(SKIPPED_COLUMNS))
    skipped["date"] = pd.to_datetime(skipped["date"]).astype("datetime64[s]")
    sheets = checks.recount(taken.sheets, entries, set_aside, skipped)
    every = [
        *taken.findings,
        *out.findings,
        *findings,
        *checks.asked(out, known.site),
        *checks.queries(entries, skipped, known.site),
    ]
    return Reading(
        entries, set_aside, skipped, settled(every, known.site), tuple(sheets), tuple(taken.inputs)
    )
