"""Columns of numbers that were not read, or were taken for sums by their numbers alone: each is said."""

from __future__ import annotations

from divert.core.findings import Finding, Where
from divert.core.words import N_, Text
from divert.ingest.coverage.unread_across import unread_across
from divert.ingest.entries.gathered import Gathered
from divert.ingest.sheet import Sheet
from divert.ingest.tables.columns import Column
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.table import Table


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
            say_no_heading(where, out)
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


def say_no_heading(where: Where, out: Gathered) -> None:
    """Ask what the numbers of a column without a heading are, at the place of the first."""
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
