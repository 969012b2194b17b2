"""Correct what a heading says where the cells under it say otherwise."""

from __future__ import annotations

import re
from dataclasses import replace

from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.problem import Problem
from divert.ingest.lexicon import bare, words
from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading_words import listed, norm
from divert.ingest.tables.row_numbers import numbers_its_rows

_OF_PIECES = re.compile(
    r"\b(?:bags?|sacs?|pieces?|items?|seen|count|morceaux|vus?)\b(?!.*\((?:lbs?|kg)\))"
)
_SCORED = re.compile(r"\b(?:score|rating|grade|level|cote|note|niveau)\b")


def by_content(column: Column, kind: str) -> str:
    """Return the field of a column, its heading's unless the cells say otherwise."""
    field, content = column.heading.field, column.content
    if not content.filled:
        ticked = _is_known_name(column) and column.cells.cells
        return "" if ticked else field  # ticks under a source's name
    if field in (
        "source",
        "material",
        "product",
        "destination",
        "name",
        "condition",
        "before",
        "fuel",
        "type",
    ):
        if content.numbers > 0.6 and content.containers < 0.5:
            if field == "condition" and column.heading.said and column.heading.unit is None:
                return "other"  # "Moisture %" over numbers: a measurement, not a load
            unit = column.heading.unit  # a name over numbers labels them: "School" over pounds
            return "" if unit is None else "weight" if unit.dimension == "mass" else "volume"
        if content.quantities > 0.6 and _is_known_name(column) and not _names_things(column):
            return ""  # "School" over "10 lb" and "2 pails": what came from there
        if field == "before" and content.befores == 0 and not _may_say_fate(column):
            return "note" if content.materials < 0.5 else "material"
    if field == "destination" and content.containers > 0.5:
        return "container"  # "Récipient" is French for one, and a recipient in English
    if field == "container" and content.numbers > 0.6:
        return "count"
    if field == "count" and not column.heading.container and numbers_its_rows(column):
        return "id"
    if _is_corner(column):
        for name, share in (("material", content.materials), ("source", content.sources)):
            if share > 0.6:
                return name
    if field in ("day", "weekday"):
        if content.dates > 0.5:
            return "date"
        return "day" if content.days > 0.5 and field == "day" else "weekday"
    if field == "date" and content.dates + content.days < 0.2 and content.quantities > 0.5:
        return "quantity" if column.heading.text and not column.heading.said else "date"
    if field == "fill" and _of_something_else(column):
        return "note"
    if (
        field == "contamination"
        and _SCORED.search(bare(column.head.text))
        and content.numbers > 0.5
    ):
        return "other"  # "Contamination score" over 0 to 4 weighs nothing
    if field == "removed" and _OF_PIECES.search(bare(column.head.text)) and content.numbers > 0.5:
        return "other"  # "Plastic bags seen": pieces have no weight to take off
    if field == "unit" and content.numbers > 0.6:
        return "count"
    if field == "by" and kind == "activity" and content.numbers > 0.6:
        return "people"  # "Volunteers" over 6: how many, not who
    unit = column.heading.unit
    if field == "status" and unit is not None and unit.dimension == "mass":
        return "removed"  # "Refusé (kg)", "Rejected (lb)": how much of it, not whether
    if field == "total" and kind == "sale":
        return "total"
    if field == "total" and content.numbers + content.quantities < 0.3:
        return "note"
    if field == "id" and content.quantities > 0.5 and _is_numbered_week(column):
        return ""
    if field == "id" and content.dates > 0.6 and content.numbers < 0.5:
        return "date"
    mixed = content.units >= 0.15 and content.units + content.containers > 0.8
    if field in ("quantity", "container", "") and content.numbers < 0.2 and mixed:
        return "unit"  # lb on one row, pails on the next
    if field == "quantity" and content.numbers < 0.2 and content.quantities < 0.3:
        for name, share in (
            ("material", content.materials),
            ("date", content.dates),
            ("source", content.sources),
            ("container", content.containers),
            ("unit", content.units),
        ):
            if share > 0.5:
                return name
    if field in ("quantity", "count", "total") and content.moneys > 0.5:
        return "money"
    if field == "quantity" and content.dates > 0.6 and _names_days(column):
        return "date"  # "Collecté le", "Received"
    if (
        field == "count"
        and column.heading.fill is not None
        and content.numbers < 0.5 < content.fills
    ):
        return "fill"  # "Totes full" over 75 %
    if field == "fill" and content.fills < 0.2 and content.containers > 0.5:
        return "container"
    return field


def _names_days(column: Column) -> bool:
    """Return whether most cells are a whole date, with its month's word or its year: 3/4 may be a part."""
    cells = column.cells.cells
    reads = [read_date(c) for c in cells]
    sure = [
        not isinstance(r, Problem) and any(d.year or r.sure for _, d in r.readings) for r in reads
    ]
    return sum(sure) > 0.6 * len(cells)


def _of_something_else(column: Column) -> bool:
    """Return whether a level is none of a container's: "Niveau scolaire" over 1 to 6."""
    label, content = bare(column.heading.label), column.content
    of_a_box = content.containers > 0.5 or column.known.containers.take(label, 0) is not None
    strange = content.numbers > 0.6 and not of_a_box and not column.heading.percent
    return label.isalpha() and label not in words("fills")["parts"] and strange


def _is_corner(column: Column) -> bool:
    """Return whether names stand where an amount is headed: at the corner of a wide table its head
    says what all its cells count or weigh."""
    heading, content = column.heading, column.content
    amount = heading.container if heading.field == "count" else heading.unit is not None
    measured = heading.field in ("count", "weight", "volume", "quantity")
    return bool(amount) and measured and content.numbers + content.fills < 0.2


def _is_numbered_week(column: Column) -> bool:
    """Return whether a head is one week of several: "Wk 1", over what came in it."""
    words_, _, number = norm(column.head.text).rpartition(" ")
    return words_ in listed("headings", "weeks", "words") and number.isdecimal()


def _is_known_name(column: Column) -> bool:
    return column.known.names(column.head.text)


def _names_things(column: Column) -> bool:
    return column.content.sources + column.content.materials > 0.2


def settle_types(columns: list[Column]) -> list[Column]:
    """Settle "Type" columns by what stands in them, else by what is missing."""
    have = {c.field for c in columns}
    out = []
    for column in columns:
        if column.field != "type":
            out.append(column)
            continue
        content = column.content
        shares = {
            "material": content.materials,
            "container": content.containers,
            "kind": content.kinds,
            "source": content.sources,
            "unit": content.units,
        }
        best = max(shares, key=lambda k: shares[k])
        field = best if shares[best] >= 0.5 else "material"
        if field in have or (field == "material" and shares[best] < 0.5 and "product" in have):
            field = next((f for f in ("material", "container") if f not in have), "note")
        have.add(field)
        out.append(replace(column, field=field))
    return out


def _may_say_fate(column: Column) -> bool:
    """Return whether words we do not know may say where material went: they are never claimed then.

    Under "Before" alone, numbers and long texts say something else.
    """
    texts = [c for c in column.cells.cells if isinstance(c, str)]
    words = all(len(t) <= 40 and not any(c.isdigit() for c in t) for t in texts)
    return column.content.materials < 0.5 and (words or " " in column.head.text.strip())
