"""The short tables of site.toml: [target], [report], [closed], [[answer]] and [[sheet]]."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence

from divert.core.words import N_, Text
from divert.site import quantities
from divert.site.model import VERDICTS, Answer, Report
from divert.site.pictures import picture
from divert.site.quantities import Words
from divert.site.table import Table

Span = tuple[dt.date, dt.date]


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
