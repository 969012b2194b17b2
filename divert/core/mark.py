"""The mark by which this tool knows its own output again, so that a report is never read as data.

- A workbook carries the custom document property :data:`MARK` (XlsxWriter:
  ``workbook.set_custom_property(MARK, "evidence")``). It outlives renaming and saving again.
- A CSV table starts with one of the headings in :data:`TABLES`, whole and in order, so that the
  file stays plain for every reader; or with the comment line that :func:`first_line` makes.
- Either may instead hold that comment's text in the first cell of any of its sheets.

The starter workbook is for entering data and carries no mark.
"""

from __future__ import annotations

from collections.abc import Iterable

MARK = "divert-mark"

# Headings of the CSV tables this tool writes, each the whole first row. The first is the ledger's
# (the same as divert.core.ledger.COLUMNS, written out here because importing that brings pandas).
TABLES: tuple[tuple[str, ...], ...] = (
    (
        "kind", "date", "source", "material", "condition", "container", "count", "fill",
        "volume_m3", "mass_kg", "removed_kg", "basis", "before", "name", "amount", "unit",
        "currency", "destination", "file", "sheet", "row", "note",
    ),
    ("figure", "value"),  # divert figures --csv
    ("number", "set", "figure", "value"),  # the same with --as-issued
    (
        "folder", "name", "group", "received_kg", "diverted_kg", "low_kg", "high_kg",
        "entries_used", "entries_set_aside", "files_unread", "failed",
    ),  # divert together --csv
)  # fmt: skip


def first_line(what: str) -> str:
    """Return the comment that may open a CSV file, e.g. ``# divert-mark: ledger`` (no line end)."""
    return f"# {MARK}: {what}"


def marked_rows(rows: Iterable[Iterable[object]]) -> bool:
    """Say whether a sheet's first row is one that only this tool writes."""
    for row in rows:
        cells = list(row)
        first = cells[0] if cells else None
        if isinstance(first, str) and first.lstrip("# ").startswith(MARK):
            return True
        return any(tuple(cells[: len(table)]) == table for table in TABLES)
    return False
