"""What ``[[sheet]]`` in site.toml says of a sheet: it outdoes every guess."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from dataclasses import replace

from divert.core.findings import Finding, Where
from divert.core.words import N_, Text
from divert.ingest.cells import unit
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import Sheet, column_of
from divert.ingest.tables.columns import IGNORE, Column
from divert.ingest.tables.heading import Heading
from divert.ingest.tables.process_heads import with_measures
from divert.ingest.tables.table import Head, Table
from divert.site.model import SheetRule, Site

KIND = {
    "weigh-ins": "weigh-in",
    "sales": "sale",
    "feedings": "moved",  # what beds are fed was received before: listed, never counted again
    "process": "activity",  # measurements of a pile: dated numbers with a name, read as activities are
    "tests": "nothing",  # weighings of a known weight: no load at all
}  # the word that site.toml writes -> the ledger's


def rule_for(site: Site, file: str, sheet: str) -> SheetRule | None:
    """Return the rule for a sheet, one that names the sheet before one for all the file's sheets."""
    named = [r for r in site.sheets if _same(r.file, file)]
    exact = [r for r in named if r.sheet is not None and bare(r.sheet) == bare(sheet)]
    general = [r for r in named if r.sheet is None]
    return next(iter([*exact, *general]), None)


def _same(written: str, file: str) -> bool:
    written, file = bare(written).replace("\\", "/"), bare(file)
    return written == file or ("/" not in written and file.rsplit("/", 1)[-1] == written)


def kind_of(rule: SheetRule | None) -> str:
    """Return the kind of entries a rule says the sheet holds, "" where it does not say."""
    holds = rule.holds if rule is not None else None
    return KIND.get(holds, holds) if holds else ""


def with_rule(
    columns: Sequence[Column], rule: SheetRule | None, sheet: Sheet, table: Table, known: Known
) -> list[Column]:
    """Return the columns as the rule says; those it does not name keep what they were taken to be."""
    out = list(columns)
    if rule is None:
        return out
    out += [replace(c, field=IGNORE) for c in ignored_columns(sheet, table, rule, known)]
    pointed = {column_of(letter): field for field, letter in rule.columns}
    for index in pointed:
        if index >= len(sheet.columns):
            continue
        if not any(c.index == index for c in out):
            cells = sheet.columns[index].part(table.first, table.end)
            out.append(Column(index, Head(index, "", "", Heading()), "", cells, known))
    out.sort(key=lambda c: c.index)
    taken = set(pointed.values())
    units = dict(rule.units)
    done = []
    for column in out:
        field = pointed.get(column.index, column.field)
        if field == IGNORE:
            done.append(column)
            continue
        if column.index not in pointed and field in taken:
            field = "other"  # the rule points elsewhere for this
        column = replace(column, field=field)
        if column.index in pointed:
            column = replace(column, head=replace(column.head, heading=_plain(column, field)))
        if field in units:
            heading = _in_unit(column, units[field], known)
            counts = bool(heading.container) and field == "quantity"
            column = replace(
                column,
                field="count" if counts else field,
                head=replace(column.head, heading=heading),
            )
        done.append(column)
    return with_measures(done, pointed) if rule.holds == "process" else done


def without_ignored(columns: Sequence[Column], rule: SheetRule | None) -> list[Column]:
    """Return the columns less those that a rule takes for nothing: they settle nothing of the others."""
    ignored = rule.ignore if rule is not None else ()
    return [c for c in columns if c.letter not in ignored]


def ignored_columns(sheet: Sheet, table: Table, rule: SheetRule, known: Known) -> list[Column]:
    """Return the columns of a table that a rule takes for nothing."""
    heads = {h.column: h for h in table.heads}
    places = [i for letter in rule.ignore if (i := column_of(letter)) < len(sheet.columns)]
    return [
        Column(
            i, heads.get(i) or Head(i, "", "", Heading()), IGNORE,
            sheet.columns[i].part(table.first, table.end), known,
        )
        for i in places
    ]  # fmt: skip


def with_units_across(
    columns: Sequence[Column], layout: Sequence[Column], rule: SheetRule | None, known: Known
) -> list[Column] | None:
    """Return the columns with a rule's unit of a quantity laid on those that run across a wide table.

    ``layout``: the columns as they were laid out, only then is it known which run across. None where
    the rule says nothing of them.
    """
    words = dict(rule.units) if rule is not None else {}
    word = words.get("quantity")
    settled = {c.index: c.field for c in layout}
    across = {c.index for c in columns if c.field == "" and settled.get(c.index) == "quantity"}
    if word is None or not across:
        return None
    out = []
    for column in columns:
        if column.index in across:
            heading = replace(_in_unit(column, word, known), field=column.heading.field)
            field = "count" if heading.container and heading.unit is None else "quantity"
            column = replace(column, field=field, head=replace(column.head, heading=heading))
        out.append(column)
    return out


def _plain(column: Column, field: str) -> Heading:
    """Return the heading of a column that a rule points at: its field, and no label of its own."""
    heading = column.heading
    return replace(
        heading,
        field=field,
        label="",
        said=True,
        container=heading.container if field == "count" else "",
    )


def _in_unit(column: Column, word: str, known: Known) -> Heading:
    if word in ("%", "share"):
        return replace(column.heading, percent=word == "%", unit=None, unit_text=word)
    box = known.containers.find(word)
    if box:
        return replace(column.heading, field="count", container=box, unit=None, unit_text="")
    found = unit.read_cell(word, known.trade.meaning)
    return replace(column.heading, unit=found, unit_text=word, percent=False, unsized=False)


def naming_nothing(site: Site, sheets: Iterable[tuple[str, str]]) -> list[Finding]:
    """Return a note for each ``[[sheet]]`` whose file or sheet is none of the (file, sheet) read."""
    pairs = list(sheets)
    findings = []
    for rule in site.sheets:
        files = [file for file, _ in pairs if _same(rule.file, file)]
        if not files:
            message = Text(
                N_("[[sheet]] in site.toml names “{file}”, which is not in the folder."),
                {"file": rule.file},
            )
            findings.append(_nothing(message, rule.file, [f for f, _ in pairs], Where(rule.file)))
        elif (
            rule.sheet is not None
            and (names := [s for f, s in pairs if f in files])
            and bare(rule.sheet) not in map(bare, names)
        ):
            message = Text(
                N_("[[sheet]] in site.toml names the sheet “{sheet}”, which is not in this file."),
                {"sheet": rule.sheet},
            )
            findings.append(_nothing(message, rule.sheet, names, Where(files[0])))
    return findings


def _nothing(message: Text, written: str, known: Sequence[str], where: Where) -> Finding:
    near = difflib.get_close_matches(written, sorted({*known} - {""}), n=1, cutoff=0.5)
    hint = Text(N_("Did you mean “{name}”?"), {"name": near[0]}) if near else None
    return Finding("note", "sheet not read", message, where, hint)
