"""What a table holds (intake, harvest, fuel ...): by its titles, its sheet, its file, its columns."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePosixPath

from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.kind_words import kind_of
from divert.ingest.tables.table import Table


def kind_of_table(table: Table, sheet: Context, file: str, context: Context) -> str:
    """Return what a table holds: by its nearest title, its sheet's name, its file's, else intake."""
    for title in table.titles:
        said = kind_of(title)
        if said and said != "nothing":
            return said
    if sheet.kind and sheet.kind != "nothing":
        return sheet.kind
    said = kind_of(PurePosixPath(file).stem.replace("_", " "))
    return said if said and said != "nothing" else "intake"


def kind_by_columns(kind: str, columns: Sequence[Column], table: Table, sheet: Context) -> str:
    """Correct a kind that only the file's name or nothing gave, where the columns say another."""
    by_file = not sheet.kind and not any(kind_of(t) for t in table.titles)
    if (
        by_file
        and kind in ("removed", "residue", "weigh-in")
        and {c.heading.field for c in columns} >= {"source", "material"}
    ):
        return "intake"  # a whole file named for contamination may well be the intake log
    if kind != "intake" or sheet.kind == "intake":
        return kind
    raw = {c.heading.field for c in columns if c.content.filled}
    if "fuel" in raw and not raw & {"source", "material"}:
        return "fuel"
    if raw & {"hours", "people"} and not raw & {
        "material",
        "weight",
        "volume",
        "gross",
        "container",
    }:
        return "activity"
    if "money" in raw and not raw & {"material", "weight", "volume", "gross", "source"}:
        return "sale" if raw & {"product", "count"} else "activity"
    if "product" in raw and not raw & {"source", "material"}:
        return "sale" if raw & {"money", "price"} else "harvest"
    return kind
