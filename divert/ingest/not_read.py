"""Sheets, tables, columns and rows that hold no entries: each is said and counted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from divert.core.findings import Finding, Where
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.coverage.outside import loads_outside
from divert.ingest.coverage.unplanned import Place, days_headed_down, entries_left
from divert.ingest.coverage.unread_across import unread_across
from divert.ingest.coverage.words_only import holds_only_words
from divert.ingest.entries.gathered import Gathered
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text, letter
from divert.ingest.tables.columns import Column
from divert.ingest.tables.kind_words import kind_said, may_log
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.logged import Logged
from divert.ingest.tables.overrides import rule_for
from divert.ingest.tables.process_heads import looks_like_a_process_log
from divert.ingest.tables.table import Table
from divert.ingest.turned.build import filled
from divert.ingest.turned.labels import said_of


def say_unread_numbers(sheet: Sheet, table: Table, layout: Layout, out: Gathered) -> None:
    """Say which columns of numbers were not read, so that none is left out in silence."""
    _say_sums(sheet, table, layout, out)
    aside = unread_across(layout)  # these are set aside, cell by cell
    for column in layout.unread:
        if column in aside:
            continue
        if column.field not in ("", "other") or column.content.numbers <= 0.5:
            continue
        where = _head_of(column, sheet, table)
        said = column.head.text
        over = sheet.columns[column.index].at(table.first - 1) if table.first else None
        if not said and not isinstance(over, str):
            _say_no_heading(where, out)
            continue
        message = Text(
            N_("I do not know what the numbers under “{heading}” are, so I did not read them."),
            {"heading": said or over},
        )
        if not said or _may_be_amounts(column):
            out.findings.append(Finding("query", "numbers not read", message, where, _SAY_IT, said))
        else:
            out.findings.append(Finding("note", "sheet not read", message, where, _SAY_IT, said))


_SAY_IT = Text(N_("If they are amounts, say which under [[sheet]] in site.toml."))


def _say_no_heading(where: Where, out: Gathered) -> None:
    message = Text(
        N_("Column {letter} holds numbers under no heading, so I did not read them."),
        {"letter": where.column},
    )
    out.findings.append(Finding("query", "numbers not read", message, where, _SAY_IT, ""))


def _may_be_amounts(column: Column) -> bool:
    """Return whether numbers may be loads: under a unit, a container or a known name."""
    heading = column.heading
    measured = heading.unit is not None or bool(heading.container)
    return measured or column.known.names(heading.label)


def _head_of(column: Column, sheet: Sheet, table: Table) -> Where:
    """Return the place of a column's heading, or of its first cell where it has none."""
    row = table.heading_rows[-1] if table.heading_rows else table.first
    return Where(sheet.file, sheet.name, row + 1, column.letter)


def _say_sums(sheet: Sheet, table: Table, layout: Layout, out: Gathered) -> None:
    """Say which column without a total's word was taken for one, by its numbers alone."""
    for column in layout.totals:
        text = column.head.text
        if column.says_total:
            continue
        message = Text(
            N_("“{heading}” is the sum of the other columns on every row; I took it for a total."),
            {"heading": text},
        )
        hint = Text(N_("If it is a load of its own, say so in its heading, or under [[sheet]]."))
        where = _head_of(column, sheet, table)
        out.findings.append(Finding("note", "total or subtotal", message, where, hint, text))


def skip_rows(
    sheet: Sheet,
    rows: Iterable[int],
    reason: str,
    out: Gathered,
    left: int = 0,
    right: int | None = None,
) -> int:
    """Skip some rows for one reason, blank ones as blank; returns how many."""
    count = 0
    end = None if right is None else right + 1
    for row in rows:
        cells = [c for c in sheet.row(row)[left:end] if c is not None]
        text = " | ".join(as_text(c) for c in cells)[:200]
        said = reason if cells else "blank"
        out.skipped.append(
            (sheet.file, sheet.name, row + 1, "", text, said, np.datetime64("NaT", "D"))
        )
        count += 1
    return count


def say_not_read(
    sheet: Sheet,
    known: Known,
    out: Gathered,
    taken: list[SheetTaken],
    by_rule: bool,
    alone: bool = False,
) -> None:
    """Skip all rows of a sheet that holds no entries, and say so where one could have been meant.

    What may well be entries is set aside, and said once. ``alone``: there is no other sheet in the
    file which it could sum up, whatever its name says.
    """
    quiet = by_rule or not (alone or may_log(sheet.name, known))
    places = [] if quiet else entries_left(sheet, known)
    rows = sorted(set(range(sheet.height)) - {row for row, _, _ in places})
    count = skip_rows(sheet, rows, "sheet not read", out)
    if places:
        _set_left_aside(sheet, places, out)
        taken.append(nothing_taken(sheet, count, len(places)))
        return
    where = Where(sheet.file, sheet.name)
    if by_rule:
        message = Text(N_("site.toml says that this sheet holds nothing to read."))
        out.findings.append(Finding("note", "sheet not read", message, where, rows=count))
    elif not holds_only_words(sheet, known, kind_said(sheet.name, known) == "nothing"):
        message = Text(N_("I found no table of entries on this sheet, so none of it is counted."))
        hint = Text(N_("If it holds entries, say what and where under [[sheet]] in site.toml."))
        out.findings.append(Finding("note", "sheet not read", message, where, hint, rows=count))
    taken.append(nothing_taken(sheet, count, 0))


def set_headed_down_aside(
    sheet: Sheet, known: Known, out: Gathered, taken: list[SheetTaken]
) -> bool:
    """Set aside the entries of a sheet whose headings run down its columns; False for any other."""
    days = days_headed_down(sheet, known)
    if not days:
        return False
    rows = {row for row, _, _ in days}
    others = [
        place for place in entries_left(sheet, known)
        if place[0] not in rows and not said_of(filled(sheet, place[0])[0].cell, known)
    ]  # fmt: skip
    entries = sorted([*days, *others], key=lambda p: p[:2])  # a log over slips
    message = Text(
        N_("The headings run down a column here, and I cannot tell for sure how the entries lie.")
    )
    hint = Text(
        N_(
            "Give each entry a column of its own beside them, or put the headings across the top and "
            "each entry in a row."
        )
    )
    set_cells_aside(sheet, [(r, c, as_text(v)) for r, c, v in entries], message, hint, out)
    left = sorted(set(range(sheet.height)) - {row for row, _, _ in entries})
    skipped = skip_rows(sheet, left, "sheet not read", out)
    taken.append(nothing_taken(sheet, skipped, len(entries)))
    return True


def _set_left_aside(sheet: Sheet, places: Sequence[Place], out: Gathered) -> None:
    """Set aside the cells that may each be an entry, and say why."""
    message = Text(
        N_("I cannot tell how the entries on this sheet lie, so none of them is counted.")
    )
    hint = Text(N_("Give them headings across the top and a row each, or write holds = \"nothing\" "
                   "for this sheet under [[sheet]] in site.toml."))  # fmt: skip
    set_cells_aside(sheet, [(r, c, as_text(v)[:200]) for r, c, v in places], message, hint, out)


def set_cells_aside(
    sheet: Sheet,
    cells: Sequence[tuple[int, int, str]],
    message: Text,
    hint: Text,
    out: Gathered,
    code: str = "quantity unreadable",
) -> None:
    """Set some cells of a sheet aside (row and column from 0, text), with one finding for all."""
    out.set_aside += [(sheet.file, sheet.name, r + 1, letter(c), t, code) for r, c, t in cells]
    row, column, text = cells[0]
    where = Where(sheet.file, sheet.name, row + 1, letter(column))
    out.findings.append(Finding("refused", code, message, where, hint, text, len(cells)))


def nothing_taken(sheet: Sheet, skipped: int, aside: int) -> SheetTaken:
    """Return how a sheet was taken of which no entry is used."""
    counts = (skipped + aside, 0, aside, skipped)
    return SheetTaken(sheet.file, sheet.name, "nothing", None, (), *counts, sheet.hidden)


def say_no_amounts(
    sheet: Sheet,
    table: Table,
    known: Known,
    out: Gathered,
    taken: list[SheetTaken],
    listed: bool = False,
    loads: Logged | None = None,
) -> None:
    """Skip all rows of a table without a column of amounts, and say so.

    ``listed``: the table's title says that it holds no entries. Rows that may well be some otherwise
    are set aside, and ``loads``, those that plainly are.
    """
    rows = range(table.first, table.end)
    places = [] if listed or loads else entries_left(sheet, known, rows)
    aside = set(loads.rows) if loads else {row for row, _, _ in places}
    count = skip_rows(
        sheet, sorted(set(rows) - aside), "sheet not read", out, table.left, table.right
    )
    if loads:
        _set_loads_aside(sheet, loads, out)
    elif places:
        _set_left_aside(sheet, places, out)
    elif count:
        where = Where(
            sheet.file, sheet.name, table.heading_rows[0] + 1 if table.heading_rows else None
        )
        message = Text(
            N_("This table has no column of amounts that I know; none of it is counted.")
        )
        hint = Text(N_("If it holds entries, say which columns under [[sheet]] in site.toml."))
        if listed:
            message = Text(N_("This table looks like a list, not a log; none of it is counted."))
        elif looks_like_a_process_log(table.heads):
            hint = Text(
                N_("If it is a log of piles (temperature, moisture, turning), write [[sheet]] with "
                   'holds = "process" for it in site.toml.')
            )  # fmt: skip
        out.findings.append(Finding(
            "note", "sheet not read", message, where, hint, rows=count,
        ))  # fmt: skip
    taken.append(nothing_taken(sheet, count, len(aside)))


def _set_loads_aside(sheet: Sheet, loads: Logged, out: Gathered) -> None:
    """Set aside loads whose amounts are not told, or stand under a heading that nobody knows."""
    message = Text(N_("No column here says how much came, so none of these loads is counted."))
    hint = Text(N_("Add a column with a weight, or with a count of containers."))
    if loads.amounts:
        message = Text(
            N_(
                "I do not know what the numbers under “{heading}” are, so none of these loads is counted."
            ),
            {"heading": loads.column.head.text},
        )
        hint = Text(
            N_(
                "Say it in the heading, such as Weight (lb) or Totes, or under [[sheet]] in site.toml."
            )
        )
    index = loads.column.index
    cells = [(r, index, as_text(sheet.columns[index].at(r))) for r in loads.rows]
    code = "quantity unreadable" if loads.amounts else "no quantity"
    set_cells_aside(sheet, cells, message, hint, out, code)


def _set_outside_aside(sheet: Sheet, places: Sequence[Place], out: Gathered) -> None:
    """Set aside what may be loads outside all tables, with one question for all of it."""
    message = Text(
        N_("“{text}” may be a load that stands in no table, so it is not counted.")
        if len(places) == 1
        else N_("“{text}” and {more} more may be loads that stand in no table; none is counted."),
        {"text": as_text(places[0][2])[:120], "more": len(places) - 1},
    )
    hint = Text(N_("If it is one, write it in a row of its own under the headings."))
    set_cells_aside(sheet, [(r, c, as_text(v)[:200]) for r, c, v in places], message, hint, out)


def skip_outside(sheet: Sheet, tables: Sequence[Table], known: Known, out: Gathered) -> None:
    """Name the rows that stand in no table: titles and notes above, and the headings themselves.

    What may be a load there is set aside, unless [[sheet]] says where the table lies.
    """
    rule = rule_for(known.site, sheet.file, sheet.name)
    pinned = sheet.origin is not None or (rule is not None and (rule.rows or rule.headings))
    places, bare = ([], []) if pinned else loads_outside(sheet, tables, known)
    if places:
        _set_outside_aside(sheet, places, out)
    for row, column, _ in bare:
        _say_no_heading(Where(sheet.file, sheet.name, row + 1, letter(column)), out)
    outside = np.ones(sheet.height, dtype=bool)
    for table in tables:
        outside[table.first : table.end] = False
        outside[[row for row in table.heading_rows if row < sheet.height]] = False
    outside[[row for row, _, _ in places]] = False
    skip_rows(sheet, np.flatnonzero(outside).tolist(), "note", out)
    for table_rows in {t.heading_rows for t in tables}:
        skip_rows(sheet, table_rows, "heading", out)
