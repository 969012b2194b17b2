"""The fields that [[sheet]] may point at a column."""

FIELDS = (
    "date", "source", "material", "condition", "container", "count", "fill", "volume", "weight",
    "gross", "tare", "quantity", "removed", "before", "product", "destination", "name", "amount",
    "unit", "currency", "note",
)  # fmt: skip
