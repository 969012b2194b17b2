"""What ``[[sheet]]`` in site.toml says of where a table lies, and of what its rows leave unsaid."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from divert.ingest.cells.date import ORDERS, Order
from divert.ingest.known import Known
from divert.ingest.sheet import Sheet, column_of
from divert.ingest.tables.context import Context
from divert.ingest.tables.headings import read_heading
from divert.ingest.tables.heads import heads_of
from divert.ingest.tables.table import Head, Table
from divert.ingest.tables.titles import rows_of_titles, titles_of
from divert.site.model import SheetRule


def tables_by_rule(
    tables: Sequence[Table], rule: SheetRule | None, sheet: Sheet, known: Known
) -> list[Table]:
    """Return the tables of a sheet, with the heading and the rows that a rule gives."""
    if rule is None or not (rule.headings or rule.rows):
        return list(tables)
    if rule.headings:
        tables = _headed_at([r - 1 for r in rule.headings if r <= sheet.height], sheet, known)
    first, last = rule.rows or (1, None)
    clipped = [
        replace(t, first=max(t.first, first - 1), end=min(t.end, last or sheet.height))
        for t in tables
    ]
    return [
        replace(t, repeats=frozenset(r for r in t.repeats if t.first <= r < t.end))
        for t in clipped
        if t.first < t.end
    ]


def _headed_at(rows: Sequence[int], sheet: Sheet, known: Known) -> list[Table]:
    """Return the one table whose heading stands in some rows, down to the end of the sheet."""
    heads = heads_of(sheet, rows, known) if rows else []
    if not heads:
        return []
    titles, pairs = titles_of(sheet, rows_of_titles(sheet, 0, rows[0], known), known)
    return [
        Table(
            tuple(heads),
            rows[-1] + 1,
            sheet.height,
            titles,
            pairs,
            tuple(rows),
            left=heads[0].column,
            right=heads[-1].column,
        )
    ]


def heads_from_rule(rule: SheetRule, sheet: Sheet, first: int, known: Known) -> Table:
    """Return the table of a sheet whose headings cannot be found, from the rule's columns alone."""
    heads = []
    for field, letter in rule.columns:
        index = column_of(letter)
        if index < len(sheet.columns):
            text = sheet.columns[index].at(first - 1) if first else None
            heading = replace(
                read_heading(str(text or ""), known), field=field, label="", said=True
            )
            heads.append(Head(index, str(text or ""), "", heading))
    heads.sort(key=lambda h: h.column)
    left = heads[0].column if heads else 0
    right = heads[-1].column if heads else 0
    return Table(tuple(heads), first, sheet.height, left=left, right=right)


def said_by_rule(context: Context, rule: SheetRule | None, known: Known) -> Context:
    """Return what is said once for a whole table, with what a rule says of it over all else."""
    if rule is None:
        return context
    if rule.year is not None:
        context = replace(context, years=(rule.year,), span=None)
    if rule.month is not None:
        context = replace(context, month=rule.month, day=None)
    return replace(
        context,
        source=_name(rule.source, known.sources.find) or context.source,
        material=_name(rule.material, known.materials.find) or context.material,
        container=_name(rule.container, known.containers.find) or context.container,
    )


def _name(text: str | None, find: Callable[[str], str | None]) -> str:
    return (find(text) or text) if text else ""


def dates_of(rule: SheetRule | None) -> Order | None:
    """Return the order that a rule gives the text dates of its sheet."""
    said = rule.dates if rule is not None else None
    return next((order for order in ORDERS if order == said), None)
