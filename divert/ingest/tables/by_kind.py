"""Fit a column's field to what the sheet holds: a 'material' on a fuel sheet is a fuel."""

from __future__ import annotations

from collections.abc import Set

from divert.ingest.tables.columns import Column


def field_for_kind(column: Column, kind: str, have: Set[str]) -> str:
    """Return the field that a column's field means on a sheet of this kind; ``have``: all fields."""
    field = column.field
    if kind == "activity":
        return (
            {"material": "name", "product": "name", "source": "by", "quantity": "quantity"}.get(
                field, field
            )
            if "name" not in have or field != "source"
            else "other"
        )
    if kind == "fuel":
        return {"material": "fuel", "product": "fuel", "name": "fuel", "source": "note"}.get(
            field, field
        )
    if kind == "sale":
        if field == "total" and "money" not in have:
            return "money"
        if field == "quantity" and column.heading.unit is None:
            return "count"
    if kind in ("sale", "harvest"):
        if field in ("material", "name", "type") and "product" not in have:
            return "product"
        if field == "source" and kind == "harvest":
            return "other"
        return (
            "destination" if field in ("source", "before") and "destination" not in have else field
        )
    if field == "product":
        return "material" if "material" not in have else "other"
    if field == "name":
        if column.content.materials > max(0.5, column.content.sources):
            return "material" if "material" not in have else "other"
        return "source" if "source" not in have else "by"
    if field in ("people", "hours", "money"):
        return "other"
    if field == "fuel":
        return "material" if "material" not in have else "other"
    if field == "before" and kind != "intake":
        return "destination"
    return field
