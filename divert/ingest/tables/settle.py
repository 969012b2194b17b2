"""Settle what each column of a table is: by its heading first, by what stands in it where that is open."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from divert.core.reading import Claim
from divert.core.words import N_
from divert.ingest.cells.mark import is_total_label
from divert.ingest.cells.mark import read_cell as read_mark
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import as_text
from divert.ingest.tables.apart import without_apart
from divert.ingest.tables.by_content import by_content, never_is, settle_types
from divert.ingest.tables.by_kind import field_for_kind
from divert.ingest.tables.claims import Reason, changes, first_claims
from divert.ingest.tables.columns import Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.crew import names_the_crew
from divert.ingest.tables.day_numbers import days_by_number
from divert.ingest.tables.double_amounts import gross_beside_net, rates
from divert.ingest.tables.heading import QUANTITIES
from divert.ingest.tables.heading_rows import is_date_head
from divert.ingest.tables.heading_words import listed, norm
from divert.ingest.tables.kind_words import THROWN_OUT
from divert.ingest.tables.naming_numbers import without_names
from divert.ingest.tables.opposed import two_weighings
from divert.ingest.tables.streams import without_streams


def settle(
    columns: Sequence[Column], kind: str, known: Known, context: Context
) -> tuple[list[Column], list[Claim]]:
    """Return the columns with every field settled, and why; a field that names a thing is held by one.

    ``context``: what the names around the table say.
    """
    claims = list(first_claims(columns))
    out: list[Column] = []
    for column in columns:
        field, reason = by_content(column, kind)
        out.append(column.taken_as(field))
        claims += [reason.claims(out[-1])] if reason is not None else []
    for reason, run in _PASSES:
        after = run(out, Around(kind, known, context))
        claims += changes(out, after, reason)
        out = after
    return out, claims


@dataclass(frozen=True)
class Around:
    """What is known of a table while its columns are settled: its kind, the site's names, its titles."""

    kind: str
    known: Known
    context: Context


def _days_of_loads(columns: list[Column]) -> list[Column]:
    """Take "Collected" over nothing but dates for the date where no other column tells it."""
    if any(c.field in ("date", "day") for c in columns):
        return columns
    happened = listed("headings", "happened", "words")
    days = [
        c
        for c in columns
        if norm(c.head.text) in happened and c.field in QUANTITIES and _all_days(c)
    ]
    return [replace(c, field="date") if c in days[:1] else c for c in columns]


def _all_days(column: Column) -> bool:
    """Return whether days stand in a column, notes under it aside, some of them no part of a whole."""
    cells = [c for c in column.cells.cells if as_text(c) and read_mark(as_text(c)) is None]
    told = [c for c in cells if is_date_head(c)]
    parts = [
        c
        for c in told
        if isinstance(c, str) and re.fullmatch(r"([1-7])/([2-8])", c) and c[0] < c[2]
    ]
    return len(told) >= 0.75 * len(cells) and len(told) > len(parts)


def _taken_out(columns: list[Column], kind: str) -> list[Column]:
    """On a sheet of what was taken out, the amount taken out is the quantity."""
    if kind not in THROWN_OUT:
        return columns
    taken = [
        c for c in columns if c.field in ("removed", "contamination") and not c.heading.percent
    ]
    sums = [c for c in taken if is_total_label(c.head.text)]
    if len(sums) < len(taken):  # "Total removed (lb)" beside its parts
        columns = [replace(c, field="total") if c in sums else c for c in columns]
        taken = [c for c in taken if c not in sums]
    if not taken:
        return columns
    first = taken[0]
    parts = [*taken, *(c for c in columns if c not in taken and _is_another_part(c, first))]
    parts = (
        parts
        if len(parts) > 1 and all(c.heading.unit == first.heading.unit for c in parts)
        else [first]
    )
    out = []
    for column in columns:
        if column in parts:
            massive = first.heading.unit and first.heading.unit.dimension == "mass"
            heading = column.heading
            if len(parts) > 1:
                heading = replace(heading, label=f"{parts.index(column) + 1}")
            head = replace(column.head, heading=heading)
            column = replace(column, head=head, field="weight" if massive else "quantity")
        elif column.field in QUANTITIES and first.heading.unit is not None:
            column = replace(column, field="other")
        out.append(column)
    return out


def _is_another_part(column: Column, first: Column) -> bool:
    """Return whether "Overs (lb)" beside "Plastic (lb)" was taken out too: rubbish, in the same unit."""
    rubbish = norm(column.heading.label) in listed("headings", "taken_out", "words")
    return column.field in QUANTITIES and rubbish and column.heading.unit == first.heading.unit


def _free_text(columns: list[Column]) -> list[Column]:
    """Where no column holds amounts, take the one that says "3 totes food scraps" for the quantity."""
    if any(
        c.field in QUANTITIES or (c.field == "" and c.content.quantities > 0.5) for c in columns
    ):
        return columns
    open_ = [
        c
        for c in columns
        if c.field in ("material", "product", "note", "other", "container", "")
        and c.content.quantities > 0.5
        and c.content.numbers < 0.5
    ]
    best = _likeliest(open_, "quantity")
    if best is None or (best.field == "container" and best.content.containers > 0.5):
        return columns
    return [replace(c, field="quantity") if c is best else c for c in columns]


_ONE = (
    "date",
    "source",
    "material",
    "container",
    "condition",
    "before",
    "destination",
    "product",
    "name",
    "unit",
    "fuel",
    "kind",
    "currency",
    "day",
    "month",
    "year",
)


def _one_each(columns: list[Column], kind: str) -> list[Column]:
    """Where two columns claim one field, keep the likelier; fit the fields to the kind of sheet."""
    have = {c.field for c in columns}
    columns = [c.taken_as(field_for_kind(c, kind, have)) for c in columns]
    for field in _ONE:
        rivals = [c for c in columns if c.field == field]
        if len(rivals) < 2:
            continue
        keep = max(
            rivals,
            key=lambda c: (
                _fit(c),
                not _gives_way(c),
                c.heading.said and not c.heading.label,
                -c.index,
            ),
        )
        columns = [
            replace(c, field="other") if c.field == field and c is not keep else c for c in columns
        ]
    return columns


_NAMED = ("source", "material", "container")


def _gives_way(column: Column) -> bool:
    """Return whether a head's own words stand back beside another: "Timestamp", or "Who" beside "Where"."""
    return any(
        norm(column.head.text) in listed("headings", w, "words") for w in ("recorded", "persons")
    )


def _fit(column: Column) -> float:
    content, field = column.content, column.field
    share = content.of(field) if field in (*_NAMED, "date", "before", "unit") else 1.0
    share += {"date": 0.2 * content.days, "unit": content.containers}.get(field, 0.0)
    return round(share, 1) + (0.01 if content.filled else 0.0)


def _missing(columns: list[Column], kind: str) -> list[Column]:
    """Take a column with no known heading to be what stands in it, where nothing else is that.

    Known names outdo a heading such as "Who" with none of them under it.
    """
    for field in ("date", "source", "material", "container", "unit"):
        target = "product" if field == "material" and kind in ("harvest", "sale") else field
        holder = next((c for c in columns if c.field == target), None)
        if holder is not None and not (target in ("source", "material") and never_is(holder)):
            continue
        open_ = [
            c
            for c in columns
            if c.field in ("", "other", "destination", "note")
            and c.content.filled
            and not (c.field == "note" and c.heading.said)
        ]
        best = _likeliest(open_, field)
        held = holder is not None and not holder.heading.label  # not "What happened"
        plainly = 0.8 if field == "unit" or held else 0.5
        least = plainly if best is None or best.field in ("", "other") else 0.8
        if best is None or best.content.of(field) < least:
            continue
        columns = [
            replace(c, field=target if c is best else "other") if c in (best, holder) else c
            for c in columns
        ]
    return columns


def _likeliest(columns: Sequence[Column], field: str) -> Column | None:
    return max(columns, key=lambda c: c.content.of(field), default=None)


_AVERAGE = re.compile(r"\b(?:avg|average|mean|moyenne|moy)\b")


def _totals(columns: list[Column]) -> list[Column]:
    """Take "Total (lb)" for the quantity itself where the table has no other."""
    totals = [c for c in columns if c.field == "total" and c.content.filled]
    others = [
        c
        for c in columns
        if (c.field in QUANTITIES and c.field != "each")
        or (c.field == "" and c.head.text and max(c.content.numbers, c.content.quantities) > 0.6)
    ]
    if any(c.head.number is not None or isinstance(c.head.cell, dt.date) for c in columns):
        return columns  # a total of the days across
    if any(_AVERAGE.search(bare(c.head.text)) for c in totals):
        return columns  # "Avg per pail (lb)"
    counts = all(c.field == "count" for c in others)
    if len(totals) != 1 or (
        others and not (counts and totals[0].heading.unit is not None and len(others) == 1)
    ):
        return columns
    total = totals[0]
    dimension = total.heading.unit.dimension if total.heading.unit else ""
    field = {"mass": "weight", "volume": "volume"}.get(dimension, "quantity")
    return [replace(c, field=field) if c is total else c for c in columns]


def _crew(columns: list[Column], source: str) -> list[Column]:
    """Take "Who" for who logged it, where a name around the table says the source."""
    return [replace(c, field="by") if source and names_the_crew(c) else c for c in columns]


def _what_happened(columns: list[Column], context: Context) -> list[Column]:
    """Take "What happened" for notes where something else says what came, and none of its cells does."""
    labels = [c.heading.label for c in columns if c.field in QUANTITIES and c.heading.label]

    def told(column: Column) -> bool:
        known = column.known.sources if column.field == "source" else column.known.materials
        return bool(getattr(context, column.field)) or any(map(known.find, labels))

    return [
        replace(c, field="note")
        if c.field in ("source", "material") and c.heading.label and never_is(c) and told(c)
        else c
        for c in columns
    ]


Pass = Callable[[list[Column], Around], list[Column]]

# In this order: each works on what those before have settled.
_PASSES: tuple[tuple[Reason, Pass], ...] = (
    (Reason(0.8, N_("nothing but days stand under a word for what happened")),
     lambda c, _: _days_of_loads(c)),
    (Reason(0.8, N_("whole numbers from 1 to 31 stand under a word for days")),
     lambda c, _: days_by_number(c)),
    (Reason(0.7, N_("what stands in it, or what the table lacks, says which type it tells")),
     lambda c, _: settle_types(c)),
    (Reason(0.7, N_("its numbers name what they stand beside, and others say how much came")),
     lambda c, _: without_names(c)),
    (Reason(0.7, N_("on such a sheet it means this, or another column says it more plainly")),
     lambda c, a: _one_each(c, a.kind)),
    (Reason(0.8, N_("what stands in it, and no other column tells that")),
     lambda c, a: _missing(c, a.kind)),
    (Reason(0.6, N_("the names around the table say the source, and none of these is a known one")),
     lambda c, a: _crew(c, a.context.source)),
    (Reason(0.6, N_("the names around the table say it, and none of these words is a known name")),
     lambda c, a: _what_happened(c, a.context)),
    (Reason(0.8, N_("its head says that it is of one of what another column counts")),
     lambda c, _: rates(c)),
    (Reason(0.8, N_("the whole weight beside the net")), lambda c, _: gross_beside_net(c)),
    (Reason(0.8, N_("two weighings of each load: opposite words, and one always above the other")),
     lambda c, _: two_weighings(c)),
    (Reason(0.7, N_("rubbish beside recycling: a count of its own")),
     lambda c, _: without_streams(c)),
    (Reason(0.8, N_("a total adds this rubbish to the load, or there was more of it")),
     lambda c, _: without_apart(c)),
    (Reason(0.7, N_("the total is the only amount of the table")), lambda c, _: _totals(c)),
    (Reason(0.7, N_("on a sheet of what was taken out, that is the amount")),
     lambda c, a: _taken_out(c, a.kind)),
    (Reason(0.6, N_("its words tell amounts, and no other column does")),
     lambda c, _: _free_text(c)),
)  # fmt: skip
