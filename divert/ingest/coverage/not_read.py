"""Sheets and tables that hold no entries that could be read: what may be some is set aside."""

from __future__ import annotations

from collections.abc import Sequence

from divert.core.findings import Finding, Where
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.coverage.unplanned import Place, days_headed_down, entries_left
from divert.ingest.coverage.words_only import holds_only_words
from divert.ingest.entries.gathered import Gathered
from divert.ingest.entries.left_out import set_cells_aside, skip_rows
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, as_text
from divert.ingest.tables.kind_words import kind_said, may_log
from divert.ingest.tables.logged import Logged
from divert.ingest.tables.process_heads import looks_like_a_process_log
from divert.ingest.tables.table import Table
from divert.ingest.turned.build import filled
from divert.ingest.turned.labels import said_of


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
    places = zip(loads.rows, loads.shown, strict=True)
    cells = [(r, index, as_text(sheet.columns[index].at(r))) for r, index in places]
    code = "quantity unreadable" if loads.amounts else "no quantity"
    set_cells_aside(sheet, cells, message, hint, out, code)
