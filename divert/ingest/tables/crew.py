"""Columns of the crew's own names: who logged a load, and not whose it was."""

from __future__ import annotations

from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading_words import listed, norm


def names_the_crew(column: Column) -> bool:
    """Return whether "Who" stands over names that are no known source's."""
    person = norm(column.head.text) in listed("headings", "persons", "words")
    never = column.content.filled > 0 and column.content.sources == 0
    return column.field == "source" and person and never
