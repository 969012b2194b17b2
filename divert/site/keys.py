"""The tables of site.toml and the keys of each: what is not here is a mistake."""

from __future__ import annotations

KEYS: dict[str, tuple[str, ...]] = {
    "site": (
        "name", "country", "started", "units", "ton", "gallon", "dates", "year_starts", "language",
        "currency", "logo", "colour", "scale_accuracy", "permit_limit", "disposed_holds_removed",
    ),
    "landfill": ("name", "climate", "kind", "covered", "gas_captured", "gwp", "fee", "from"),
    "container": ("name", "also", "volume", "tare", "usual_fill", "condition", "from"),
    "material": ("name", "also", "like", "before", "condition", "density", "proof", "required_by_law",
                 "from"),
    "source": ("name", "also", "before", "proof", "required_by_law", "from"),
    "sponsor": ("name", "supplies", "funds", "email", "from"),
    "bed": ("name", "kind", "size", "worms"),
    "grant": ("name", "number", "from", "to", "share"),
    "target": (),  # its keys are years
    "report": (
        "prepared_by", "reviewed_by", "activities", "picture", "picture_says", "quote",
        "contact", "name_sources", "share_notes",
        "equivalence",
    ),
    "closed": ("weeks",),
    "answer": ("about", "reason", "verdict", "by", "on"),
    "sheet": (
        "file", "sheet", "holds", "columns", "units", "ignore", "source", "material", "container",
        "year", "month", "headings", "rows", "dates", "lies",
    ),
}  # fmt: skip
PLAIN = ("site", "target", "report", "closed")  # written once, as [site]
LISTED = ("container", "material", "source", "sponsor", "bed", "grant", "answer", "sheet")
# [landfill] may stand once, or as [[landfill]] with the day each took effect
