"""A venue's own count of its rubbish: compost, trash and recycling side by side, of one day."""

from __future__ import annotations

from dataclasses import replace

from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading_words import listed, norm


def without_streams(columns: list[Column]) -> list[Column]:
    """Leave trash unread where recycling stands beside it: there it was never part of a load."""
    if not any(says_stream(c, "recycling") for c in columns):
        return columns
    return [replace(c, field="other") if says_stream(c, "trash") else c for c in columns]


def says_stream(column: Column, stream: str) -> bool:
    """Return whether a column's head names "recycling" or "trash", by one of the words for it."""
    unit = norm(column.heading.unit_text)
    text = norm(column.head.text)
    return text.removesuffix(unit).strip() in listed("headings", "streams", stream)
