"""[[sheet]] of site.toml: what a sheet holds and how it lies, where that would be guessed wrong."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from divert.core import units
from divert.core.names import plain
from divert.core.words import N_, Text
from divert.site import quantities
from divert.site.built_in import fields
from divert.site.model import HOLDS, LIES, SheetRule
from divert.site.quantities import Words
from divert.site.table import Table, nearest

_LETTERS = r"[A-Za-z]{1,3}"
_MEASURED = {"weight": "mass", "gross": "mass", "tare": "mass", "volume": "volume"}
_UNITS = {
    "mass": Text(N_('A weight is in a unit of mass, such as "lb" or "kg".')),
    "volume": Text(N_('A volume is in a unit of volume, such as "gal", "yd3" or "L".')),
}


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
    ignored = table.texts("ignore")
    if not all(re.fullmatch(_LETTERS, letter) for _, letter in columns):
        wanted = Text(N_('Write column letters: { date = "A", weight = "F" }.'))
        raise table.wrong("columns", wanted)
    if not all(re.fullmatch(_LETTERS, letter) for letter in ignored):
        raise table.wrong("ignore", Text(N_('Write column letters: ["G", "H"].')))
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
        ignore=tuple(letter.upper() for letter in ignored),
        source=table.maybe_text("source"),
        material=table.maybe_text("material"),
        container=table.maybe_text("container"),
        year=table.maybe_whole("year", 1990, 2100),
        month=table.maybe_whole("month", 1, 12),
        headings=_headings(table),
        rows=_rows(table),
        dates=table.choice("dates", ("month first", "day first"), "") or None,
        lies=table.choice("lies", LIES, "") or None,
    )


def _headings(table: Table) -> tuple[int, ...]:
    """Return the rows of the heading, written as 3 or [2, 3]: one to three, one under the other."""
    value = table.values.get("headings", [])
    rows = [value] if type(value) is int else value
    whole = (
        isinstance(rows, list) and len(rows) <= 3 and all(type(r) is int and r > 0 for r in rows)
    )
    if not whole or rows != list(range(rows[0], rows[0] + len(rows)) if rows else []):
        raise table.wrong(
            "headings", Text(N_("Write the row of the heading, 3, or its rows, [2, 3]."))
        )
    return tuple(rows)


def _rows(table: Table) -> tuple[int, int | None] | None:
    text = table.text("rows")
    said = re.fullmatch(r"([1-9]\d{0,6}):([1-9]\d{0,6})?", text)
    if text and (said is None or (said[2] and int(said[2]) < int(said[1]))):
        wanted = Text(
            N_('Write the first and the last row of data, "4:120", or "4:" for all below.')
        )
        raise table.wrong("rows", wanted)
    return (int(said[1]), int(said[2]) if said[2] else None) if said else None


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
