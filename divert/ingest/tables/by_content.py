"""What stands under a heading against what the heading says: of two roles, the likelier is taken."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace

from divert.core.words import N_
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.problem import Problem
from divert.ingest.lexicon import bare, words
from divert.ingest.tables.claims import Reason
from divert.ingest.tables.columns import Column
from divert.ingest.tables.day_numbers import may_be_days
from divert.ingest.tables.heading_words import listed, norm

_MOST, _FEW = 0.5, 0.3  # of the cells under a heading
_NAMES = (
    "source", "material", "product", "destination", "name", "condition", "before", "fuel", "type",
)  # fmt: skip
_AMOUNTS = ("count", "weight", "volume", "quantity")
_CELLS = Reason(0.9, N_("most of its cells say it"))
_TICKED = Reason(0.8, N_("its heading is a name, and nothing but ticks stands under it"))


def by_content(column: Column, kind: str) -> tuple[str, Reason | None]:
    """Return the field of a column, and why where that is not what its heading says.

    ``kind``: what the table holds. Of the roles that its cells speak for, that with most cells wins.
    """
    said = column.heading.field
    if not column.content.filled:
        ticked = _is_known_name(column) and column.cells.cells
        return ("", _TICKED) if ticked else (said, None)
    for reason, rule in _RULES:
        field = rule(column, kind)
        if field is not None:
            return field, reason if field != said else None
    moves = [m for m in _MOVES if said in m.of and m.applies(column)]
    best = max(moves, key=lambda m: m.share(column), default=None)
    return (said, None) if best is None else (best.to or best.holds, _CELLS)


@dataclass(frozen=True)
class _Move:
    """From what a heading says (``of``) to what most cells under it are (``holds``).

    ``to``: the field they then are, where it is another; ``but``: of these there are few.
    """

    of: tuple[str, ...]
    holds: str
    to: str = ""
    but: tuple[str, ...] = ()
    where: Callable[[Column], bool] = lambda _: True

    def share(self, column: Column) -> float:
        return column.content.of(self.holds)

    def applies(self, column: Column) -> bool:
        few = all(column.content.of(field) < _FEW for field in self.but)
        return self.share(column) > _MOST and few and self.where(column)


def _names_days(column: Column) -> bool:
    """Return whether most dates are whole, with the month's word or the year: 3/4 may be a part."""
    reads = [r for c in column.cells.cells if not isinstance(r := read_date(c), Problem)]
    sure = [any(d.year or r.sure for _, d in r.readings) for r in reads]
    return sum(sure) > _MOST * len(reads)


def _measures(column: Column) -> bool:
    """Return whether a head says what all its cells count: "Pails", "Food scraps (lb)"."""
    heading = column.heading
    return bool(heading.container) if heading.field == "count" else heading.unit is not None


def _counts_fills(column: Column) -> bool:
    return column.heading.fill is not None


_NO_NUMBERS = ("number", "quantity")
_MOVES = (
    _Move(
        ("destination", "fill"), "container", but=("fill",)
    ),  # "Récipient", a recipient in English
    _Move(("material",), "container", but=("material",)),  # "What it came in"
    _Move(("container", "unit"), "number", "count"),
    *(
        _Move(_AMOUNTS, name, but=("number", "fill"), where=_measures)
        for name in ("material", "source")
    ),
    _Move(("day", "weekday", "time"), "date"),
    _Move(("time",), "source"),
    _Move(("id",), "date", but=("number",)),
    *(
        _Move(("quantity",), f, but=_NO_NUMBERS)
        for f in ("material", "source", "container", "unit")
    ),
    _Move(("quantity",), "date", but=("number",), where=_names_days),
    _Move(("quantity", "count", "total"), "money"),
    _Move(("count",), "fill", but=("number",), where=_counts_fills),
)


def _names_over_amounts(column: Column, kind: str) -> str | None:
    """Take a name over numbers for what labels them: "School" over pounds."""
    field, content, unit = column.heading.field, column.content, column.heading.unit
    if field not in _NAMES:
        return None
    if content.numbers > _MOST and content.containers < _MOST:
        if field == "condition" and column.heading.said and unit is None:
            return "other"  # "Moisture %" over numbers: a measurement, not a load
        return "" if unit is None else "weight" if unit.dimension == "mass" else "volume"
    named = content.sources + content.materials > _FEW
    if content.quantities > _MOST and _is_known_name(column) and not named:
        return ""  # over "10 lb" and "2 pails": what came from there
    return None


def _words_for_an_amount(column: Column, kind: str) -> str | None:
    """Take "Dropped off by" over nothing but words for no amount: what they are others may tell."""
    content, heading = column.content, column.heading
    words_ = content.filled > 1 and not (content.numbers or content.quantities or content.dates)
    named = max(content.materials, content.containers, content.units, content.fills) > 0
    label = heading.field == "quantity" and heading.unit is None and heading.label
    return "other" if label and words_ and not named else None


def _weekdays(column: Column, kind: str) -> str | None:
    """Take "Day" over dates for the date, and over neither them nor days of the month for the weekday.

    Over other numbers, as in "kilos à ce jour", it is neither.
    """
    content = column.content
    if column.heading.field != "day" or content.days >= _MOST or may_be_days(column):
        return None
    if content.numbers > _MOST:
        return "running"
    return "date" if content.dates >= _MOST else "weekday"  # one date of two: the other is a remark


def _level_of_something_else(column: Column, kind: str) -> str | None:
    if column.heading.field != "fill" or not _of_something_else(column):
        return None
    unit = column.heading.unit  # "Level after (m³)" is an amount, or what stood in a box by then
    return "volume" if unit is not None and unit.dimension == "volume" else "note"


_OF_PIECES = re.compile(
    r"\b(?:bags?|sacs?|pieces?|items?|seen|count|morceaux|vus?)\b(?!.*\((?:lbs?|kg)\))"
)
_SCORED = re.compile(r"\b(?:score|rating|grade|level|cote|note|niveau)\b")


def _no_weight(column: Column, kind: str) -> str | None:
    """Take "Contamination score", "Bags seen" and "Plastic bottles" over 3 for no weight to take off."""
    heading, text = column.heading, bare(column.head.text)
    scored = heading.field == "contamination" and _SCORED.search(text)
    unsized = heading.unit is None and not heading.percent and heading.label
    pieces = heading.field == "removed" and (_OF_PIECES.search(text) or unsized)
    return "other" if (scored or pieces) and column.content.numbers > _MOST else None


def _how_many_people(column: Column, kind: str) -> str | None:
    """Take "Volunteers" over 6 for how many, not who."""
    people = column.heading.field == "by" and kind == "activity" and column.content.numbers > _MOST
    return "people" if people else None


def _weight_refused(column: Column, kind: str) -> str | None:
    """Take "Refusé (kg)", "Rejected (lb)" for how much of it was, not whether."""
    unit = column.heading.unit
    weighed = column.heading.field == "status" and unit is not None and unit.dimension == "mass"
    return "removed" if weighed else None


def _words_for_a_total(column: Column, kind: str) -> str | None:
    if column.heading.field != "total" or kind == "sale":
        return None
    return "note" if column.content.numbers + column.content.quantities < _FEW else None


def _numbered_weeks(column: Column, kind: str) -> str | None:
    """Take one week of several, "Wk 1", for what came in it."""
    words_, _, number = norm(column.head.text).rpartition(" ")
    week = words_ in listed("headings", "weeks", "words") and number.isdecimal()
    amounts = column.heading.field == "id" and column.content.quantities > _MOST
    return "" if amounts and week else None


def _units_by_row(column: Column, kind: str) -> str | None:
    """Take lb on one row and pails on the next for the unit."""
    content = column.content
    if column.heading.field not in ("quantity", "container", "") or content.numbers >= _FEW:
        return None
    mixed = content.units >= 0.15 and content.units + content.containers > 0.8
    return "unit" if mixed else None


Rule = Callable[[Column, str], str | None]

# What shares of cells alone do not tell; the first that speaks decides, before any share does.
_RULES: tuple[tuple[Reason, Rule], ...] = (
    (Reason(0.9, N_("its heading is a name, and amounts stand under it")), _names_over_amounts),
    (Reason(0.7, N_("its cells hold no numbers")), _words_for_an_amount),
    (Reason(0.9, N_("its cells are dates, days or weekdays")), _weekdays),
    (Reason(0.6, N_("it tells the level of something else than a container")), _level_of_something_else),
    (Reason(0.7, N_("it counts pieces, which have no weight to take off")), _no_weight),
    (Reason(0.8, N_("it counts people")), _how_many_people),
    (Reason(0.8, N_("its heading names a unit of mass")), _weight_refused),
    (Reason(0.7, N_("its cells hold no numbers")), _words_for_a_total),
    (Reason(0.8, N_("its heading is one week of several")), _numbered_weeks),
    (Reason(0.8, N_("its cells are units, other ones from row to row")), _units_by_row),
)  # fmt: skip


def _of_something_else(column: Column) -> bool:
    """Return whether a level is none of a container's: "Niveau scolaire" over 1 to 6."""
    label, content = bare(column.heading.label), column.content
    of_a_box = content.containers > 0.5 or column.known.containers.take(label, 0) is not None
    shares = column.heading.percent or content.fills > 0.6  # "Avg fullness" over 75 %
    strange = content.numbers > 0.6 and not of_a_box and not shares
    return label.isalpha() and label not in words("fills")["parts"] and strange


def _is_known_name(column: Column) -> bool:
    return column.known.names(column.head.text)


def never_is(column: Column) -> bool:
    """Return whether no name that a column holds is known to be what its heading says: "What happened"."""
    return column.content.of(column.field) == 0


_TYPES = ("material", "container", "kind", "source", "unit")


def settle_types(columns: list[Column]) -> list[Column]:
    """Settle "Type" columns by what stands in them, else by what is missing."""
    have = {c.field for c in columns if c.field not in ("source", "material") or not never_is(c)}
    out = []
    for column in columns:
        if column.field != "type":
            out.append(column)
            continue
        best = max(_TYPES, key=column.content.of)
        told = column.content.of(best) >= _MOST
        field = best if told else "material"
        if field in have or (field == "material" and not told and "product" in have):
            field = next((f for f in ("material", "container") if f not in have), "note")
        have.add(field)
        out.append(replace(column, field=field))
    return out
