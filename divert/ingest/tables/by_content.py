"""Correct what a heading says where the cells under it say otherwise."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from divert.core.words import N_
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.problem import Problem
from divert.ingest.lexicon import bare, words
from divert.ingest.tables.claims import Reason
from divert.ingest.tables.columns import Column
from divert.ingest.tables.heading_words import listed, norm
from divert.ingest.tables.row_numbers import numbers_its_rows

_TICKED = Reason(0.8, N_("its heading is a name, and nothing but ticks stands under it"))
_NAMES = (
    "source", "material", "product", "destination", "name", "condition", "before", "fuel", "type",
)  # fmt: skip
_OF_PIECES = re.compile(
    r"\b(?:bags?|sacs?|pieces?|items?|seen|count|morceaux|vus?)\b(?!.*\((?:lbs?|kg)\))"
)
_SCORED = re.compile(r"\b(?:score|rating|grade|level|cote|note|niveau)\b")


def by_content(column: Column, kind: str) -> tuple[str, Reason | None]:
    """Return the field of a column, and why where that is not what its heading says.

    ``kind``: what the table holds. The first rule that speaks decides.
    """
    if not column.content.filled:
        ticked = _is_known_name(column) and column.cells.cells
        return ("", _TICKED) if ticked else (column.heading.field, None)
    for reason, rule in _RULES:
        field = rule(column, kind)
        if field is not None:
            return field, reason if field != column.heading.field else None
    return column.heading.field, None


def _names_over_amounts(column: Column, kind: str) -> str | None:
    field, content, unit = column.heading.field, column.content, column.heading.unit
    if field not in _NAMES:
        return None
    if content.numbers > 0.6 and content.containers < 0.5:
        if field == "condition" and column.heading.said and unit is None:
            return "other"  # "Moisture %" over numbers: a measurement, not a load
        # A name over numbers labels them: "School" over pounds.
        return "" if unit is None else "weight" if unit.dimension == "mass" else "volume"
    if content.quantities > 0.6 and _is_known_name(column) and not _names_things(column):
        return ""  # "School" over "10 lb" and "2 pails": what came from there
    return None


def _no_fate(column: Column, kind: str) -> str | None:
    content = column.content
    if column.heading.field != "before" or content.befores or _may_say_fate(column):
        return None
    return "note" if content.materials < 0.5 else "material"


def _boxes_that_receive(column: Column, kind: str) -> str | None:
    """Take "Récipient" for a container: French for one, and a recipient in English."""
    boxes = column.heading.field == "destination" and column.content.containers > 0.5
    return "container" if boxes else None


def _numbers_of_boxes(column: Column, kind: str) -> str | None:
    counted = column.heading.field == "container" and column.content.numbers > 0.6
    return "count" if counted else None


def _numbers_of_rows(column: Column, kind: str) -> str | None:
    counts = column.heading.field == "count" and not column.heading.container
    return "id" if counts and numbers_its_rows(column) else None


def _corner(column: Column, kind: str) -> str | None:
    """Take names under an amount's heading for the names: its head says what all the cells count."""
    heading, content = column.heading, column.content
    amount = heading.container if heading.field == "count" else heading.unit is not None
    measured = heading.field in ("count", "weight", "volume", "quantity")
    if not amount or not measured or content.numbers + content.fills >= 0.2:
        return None
    for name, share in (("material", content.materials), ("source", content.sources)):
        if share > 0.6:
            return name
    return None


def _days(column: Column, kind: str) -> str | None:
    field, content = column.heading.field, column.content
    if field not in ("day", "weekday"):
        return None
    if content.dates > 0.5:
        return "date"
    return "day" if content.days > 0.5 and field == "day" else "weekday"


def _amounts_under_a_day(column: Column, kind: str) -> str | None:
    content = column.content
    if column.heading.field != "date" or content.dates + content.days >= 0.2:
        return None
    if content.quantities <= 0.5:
        return None
    return "quantity" if column.heading.text and not column.heading.said else "date"


def _level_of_something_else(column: Column, kind: str) -> str | None:
    return "note" if column.heading.field == "fill" and _of_something_else(column) else None


def _scored(column: Column, kind: str) -> str | None:
    """Take "Contamination score" over 0 to 4 for no weight."""
    scored = column.heading.field == "contamination" and _SCORED.search(bare(column.head.text))
    return "other" if scored and column.content.numbers > 0.5 else None


def _pieces(column: Column, kind: str) -> str | None:
    """Take "Plastic bags seen" for no weight: pieces have none to take off."""
    pieces = column.heading.field == "removed" and _OF_PIECES.search(bare(column.head.text))
    return "other" if pieces and column.content.numbers > 0.5 else None


def _pieces_by_their_word(column: Column, kind: str) -> str | None:
    """Take "Plastic bottles" over 3 for no weight: nothing says that these are pounds."""
    heading = column.heading
    bare_count = heading.unit is None and not heading.percent and column.content.numbers > 0.5
    return "other" if heading.field == "removed" and heading.label and bare_count else None


def _no_time(column: Column, kind: str) -> str | None:
    """Take "Arrival" over a day and its hour for the day, "Which kitchen this time?" for the source."""
    if column.heading.field != "time":
        return None
    if column.content.dates > 0.6:
        return "date"
    return "source" if column.content.sources > 0.5 else None


def _numbers_under_a_unit(column: Column, kind: str) -> str | None:
    counted = column.heading.field == "unit" and column.content.numbers > 0.6
    return "count" if counted else None


def _how_many_people(column: Column, kind: str) -> str | None:
    """Take "Volunteers" over 6 for how many, not who."""
    people = column.heading.field == "by" and kind == "activity" and column.content.numbers > 0.6
    return "people" if people else None


def _weight_refused(column: Column, kind: str) -> str | None:
    """Take "Refusé (kg)", "Rejected (lb)" for how much of it was, not whether."""
    unit = column.heading.unit
    weighed = column.heading.field == "status" and unit is not None and unit.dimension == "mass"
    return "removed" if weighed else None


def _words_for_a_total(column: Column, kind: str) -> str | None:
    if column.heading.field != "total" or kind == "sale":
        return None
    return "note" if column.content.numbers + column.content.quantities < 0.3 else None


def _numbered_weeks(column: Column, kind: str) -> str | None:
    amounts = column.heading.field == "id" and column.content.quantities > 0.5
    return "" if amounts and _is_numbered_week(column) else None


def _days_under_a_number(column: Column, kind: str) -> str | None:
    content = column.content
    dated = column.heading.field == "id" and content.dates > 0.6 and content.numbers < 0.5
    return "date" if dated else None


def _units_by_row(column: Column, kind: str) -> str | None:
    """Take lb on one row and pails on the next for the unit."""
    content = column.content
    if column.heading.field not in ("quantity", "container", "") or content.numbers >= 0.2:
        return None
    mixed = content.units >= 0.15 and content.units + content.containers > 0.8
    return "unit" if mixed else None


def _names_under_an_amount(column: Column, kind: str) -> str | None:
    content = column.content
    if column.heading.field != "quantity" or content.numbers >= 0.2 or content.quantities >= 0.3:
        return None
    shares = (
        ("material", content.materials),
        ("date", content.dates),
        ("source", content.sources),
        ("container", content.containers),
        ("unit", content.units),
    )
    return next((name for name, share in shares if share > 0.5), None)


def _money(column: Column, kind: str) -> str | None:
    amount = column.heading.field in ("quantity", "count", "total")
    return "money" if amount and column.content.moneys > 0.5 else None


def _days_under_an_amount(column: Column, kind: str) -> str | None:
    """Take "Collecté le", "Received" over whole dates for the day."""
    dated = column.heading.field == "quantity" and column.content.dates > 0.6
    return "date" if dated and _names_days(column) else None


def _fills_of_boxes(column: Column, kind: str) -> str | None:
    """Take "Totes full" over 75 % for how full they were."""
    filled = column.heading.field == "count" and column.heading.fill is not None
    return "fill" if filled and column.content.numbers < 0.5 < column.content.fills else None


def _boxes_under_a_fill(column: Column, kind: str) -> str | None:
    content = column.content
    boxes = column.heading.field == "fill" and content.fills < 0.2 and content.containers > 0.5
    return "container" if boxes else None


Rule = Callable[[Column, str], str | None]

# In this order: an earlier rule outdoes a later one.
_RULES: tuple[tuple[Reason, Rule], ...] = (
    (Reason(0.9, N_("its heading is a name, and amounts stand under it")), _names_over_amounts),
    (Reason(0.7, N_("its cells say nothing of where material went before")), _no_fate),
    (Reason(0.8, N_("its cells name containers")), _boxes_that_receive),
    (Reason(0.8, N_("numbers stand under the word for a container")), _numbers_of_boxes),
    (Reason(0.8, N_("its numbers only number the rows or the tickets")), _numbers_of_rows),
    (Reason(0.8, N_("names stand at the corner of a table, under what all its cells count")), _corner),
    (Reason(0.9, N_("its cells are dates, days or weekdays")), _days),
    (Reason(0.8, N_("amounts stand under a date")), _amounts_under_a_day),
    (Reason(0.6, N_("it tells the level of something else than a container")), _level_of_something_else),
    (Reason(0.7, N_("a score weighs nothing")), _scored),
    (Reason(0.7, N_("it counts pieces, which have no weight to take off")), _pieces),
    (Reason(0.6, N_("nothing says that these are pounds, so they may be pieces")), _pieces_by_their_word),
    (Reason(0.9, N_("its cells are dates, or the site's sources")), _no_time),
    (Reason(0.8, N_("numbers stand under the word for a unit")), _numbers_under_a_unit),
    (Reason(0.8, N_("it counts people")), _how_many_people),
    (Reason(0.8, N_("its heading names a unit of mass")), _weight_refused),
    (Reason(0.7, N_("its cells hold no numbers")), _words_for_a_total),
    (Reason(0.8, N_("its heading is one week of several")), _numbered_weeks),
    (Reason(0.9, N_("its cells are dates")), _days_under_a_number),
    (Reason(0.8, N_("its cells are units, other ones from row to row")), _units_by_row),
    (Reason(0.9, N_("its cells are names, and no amounts")), _names_under_an_amount),
    (Reason(0.9, N_("its cells are sums of money")), _money),
    (Reason(0.9, N_("its cells are dates")), _days_under_an_amount),
    (Reason(0.8, N_("its cells say how full containers were")), _fills_of_boxes),
    (Reason(0.8, N_("its cells name containers")), _boxes_under_a_fill),
)  # fmt: skip


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
