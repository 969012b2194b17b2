"""The short tables of site.toml: [target], [report], [closed], [[answer]] and [[sheet]]."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Collection, Sequence

from divert.core import units
from divert.core.names import plain
from divert.core.words import N_, Text
from divert.site import quantities
from divert.site.built_in import fields
from divert.site.model import HOLDS, VERDICTS, Answer, Report, SheetRule
from divert.site.pictures import picture
from divert.site.quantities import Words
from divert.site.table import Table, nearest

Span = tuple[dt.date, dt.date]

_MEASURED = {"weight": "mass", "gross": "mass", "tare": "mass", "volume": "volume"}
_UNITS = {
    "mass": Text(N_('A weight is in a unit of mass, such as "lb" or "kg".')),
    "volume": Text(N_('A volume is in a unit of volume, such as "gal", "yd3" or "L".')),
}


def targets(tables: Sequence[Table], words: Words) -> tuple[tuple[int, float], ...]:
    """Return (reporting year, kg) in order of year."""
    found: list[tuple[int, float]] = []
    for table in tables:
        for key in table.values:
            if not re.fullmatch(r"(19|20|21)\d\d", key):
                raise table.wrong(
                    key, Text(N_('Write a reporting year and a mass: 2025 = "12 short ton".'))
                )
            kg = quantities.mass(table, key, words)
            if kg is not None:
                found.append((int(key), kg))
    return tuple(sorted(found))


def report(tables: Sequence[Table]) -> Report:
    """Return the words and choices for the reports."""
    if not tables:
        return Report()
    (table,) = tables
    return Report(
        prepared_by=table.text("prepared_by"),
        reviewed_by=table.text("reviewed_by"),
        activities=table.texts("activities"),
        picture=picture(table, "picture"),
        picture_says=table.text("picture_says"),
        quote=table.text("quote"),
        contact=table.text("contact"),
        name_sources=table.flag("name_sources", True),
        share_notes=table.flag("share_notes", False),
        equivalence=table.flag("equivalence", False),
    )


def closed(tables: Sequence[Table]) -> tuple[Span, ...]:
    """Return the closed spans of days, both ends included."""
    return tuple(_span(table, text) for table in tables for text in table.texts("weeks"))


def _span(table: Table, text: str) -> Span:
    ends = [part.strip() for part in text.split("/")]
    wanted = Text(N_('Write the first and the last day: "2024-12-23/2025-01-05".'))
    try:
        first, last = (dt.date.fromisoformat(end) for end in ends)
    except ValueError:
        raise table.wrong("weeks", wanted, text) from None
    if first > last:
        raise table.wrong("weeks", wanted, text)
    return first, last


def answers(tables: Sequence[Table]) -> tuple[Answer, ...]:
    """Return the answers that settle queries."""
    return tuple(
        Answer(
            about=table.required_text("about", "log 2024.xlsx!Jan!F14"),
            reason=table.required_text("reason", "two carts were joined, the count is right"),
            by=table.text("by"),
            on=table.day("on"),
            verdict=table.choice("verdict", VERDICTS, ""),
        )
        for table in tables
    )


def sheet_rules(
    tables: Sequence[Table], words: Words, boxes: Collection[str] = ()
) -> tuple[SheetRule, ...]:
    """Return what site.toml says of sheets that would be guessed wrong.

    ``boxes``: the containers' spellings, plain: a quantity may be counted in one.
    """
    rules = tuple(_sheet_rule(table, words, boxes) for table in tables)
    seen: dict[tuple[str, str | None], Table] = {}
    for rule, table in zip(rules, tables, strict=True):
        first = seen.setdefault((rule.file, rule.sheet), table)
        if first is not table:
            what = Text(
                N_("this sheet already has an entry on line {line}; join the two."),
                {"line": str(first.line())},
            )
            raise table.says("file", what)
    return rules


def _sheet_rule(table: Table, words: Words, boxes: Collection[str]) -> SheetRule:
    columns = _pairs(table, "columns")
    for _, letter in columns:
        if not re.fullmatch(r"[A-Za-z]{1,3}", letter):
            raise table.wrong(
                "columns", Text(N_('Write column letters: { date = "A", weight = "F" }.'))
            )
    _one_field_each(table, columns)
    unit_words = _pairs(table, "units")
    for field, word in unit_words:
        if field != "quantity" or plain(word) not in boxes:  # a quantity may count containers
            _check_unit(table, field, word, words)
    return SheetRule(
        file=table.required_text("file", "log 2024.xlsx"),
        sheet=table.maybe_text("sheet"),
        holds=table.choice("holds", HOLDS, "") or None,
        columns=tuple((field, letter.upper()) for field, letter in columns),
        units=unit_words,
    )


def _pairs(table: Table, key: str) -> tuple[tuple[str, str], ...]:
    value = table.values.get(key, {})
    if not isinstance(value, dict) or not all(isinstance(part, str) for part in value.values()):
        example = '{ date = "A", weight = "F" }' if key == "columns" else '{ weight = "lb" }'
        raise table.wrong(key, Text(N_("Write it as {example}."), {"example": example}))
    known = fields()
    for field in value:
        if field not in known:
            close = nearest(field, known)
            if close:
                wanted = Text(
                    N_('There is no field "{field}"; did you mean "{near}"?'),
                    {"field": field, "near": close},
                )
            else:
                wanted = Text(
                    N_('There is no field "{field}". The fields are {known}.'),
                    {"field": field, "known": ", ".join(known)},
                )
            raise table.wrong(key, wanted)
    return tuple((field, part.strip()) for field, part in value.items())


def _one_field_each(table: Table, columns: Sequence[tuple[str, str]]) -> None:
    taken: dict[str, str] = {}
    for field, letter in columns:
        first = taken.setdefault(letter.upper(), field)
        if first != field:
            wanted = Text(
                N_("Column {letter} is given as {first} and as {second}; it can hold only one."),
                {"letter": letter.upper(), "first": first, "second": field},
            )
            raise table.wrong("columns", wanted)


def _check_unit(table: Table, field: str, word: str, words: Words) -> None:
    if word in ("%", "share"):
        return
    try:
        _, kind = units.unit_factor(word, ton=words.ton, gallon=words.gallon)
    except units.UnknownUnit:
        wanted = Text(N_('Write a unit such as "lb", "kg", "gal", "yd3" or "L".'))
        raise table.wrong("units", quantities.unknown_unit(word, wanted)) from None
    measured = _MEASURED.get(field, kind)
    if kind != measured:
        raise table.wrong("units", _UNITS[measured])
