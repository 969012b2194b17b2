"""Several amounts on one row that speak of one load: no load may be counted twice.

A truck is weighed full and empty, a guess stands beside the scale's figure, a goal or last year's
weight beside this one's, a total beside its parts. What is plain is settled here; columns that could
be anything are left unread, and said.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from divert.ingest.cells.container import singular
from divert.ingest.lexicon import bare
from divert.ingest.tables.columns import Column
from divert.ingest.tables.labels import Label
from divert.ingest.tables.naming_numbers import climbs
from divert.ingest.tables.numbers import Sums, adds_up, is_sum, middle, numbers_of

MASSES = ("weight", "gross", "quantity", "volume")
_CORRECTED = re.compile(
    r"\b(?:corrected|revised|final|adjusted|corrigee?s?|revisee?s?|definitif)\b"
)
_ESTIMATED = re.compile(
    r"\b(?:est|estimated?|estimation|approx\w*|guess\w*|estimee?|env|environ)\b"
)


_WHOLE = re.compile(r"\b(?:total|whole|tout)\b")
_NET = re.compile(r"\b(?:net|nette)\b")


def gross_beside_net(columns: list[Column]) -> list[Column]:
    """Take "Total weight" beside "Net weight" for the gross: the net is a part of it."""
    weights = [c for c in columns if c.field in ("weight", "total") and c.heading.unit is not None]
    whole = [c for c in weights if _WHOLE.search(bare(c.head.text)) and _weighs(c)]
    net = [c for c in weights if _NET.search(bare(c.head.text)) and _weighs(c)]
    if len(whole) != 1 or len(net) != 1 or whole[0] is net[0]:
        return columns
    return [replace(c, field="gross") if c is whole[0] else c for c in columns]


def _weighs(column: Column) -> bool:
    massive = column.heading.unit is None or column.heading.unit.dimension == "mass"
    return massive and column.content.numbers > 0.6


_EACH = re.compile(r"(?:\b(?:per|par|for each|pour chaque)\b|/)\s*(\w+)\W*$")
_BY_ONE = re.compile(r"\b(?:each|apiece|chacune?|par personne)\W*$")
_OF_ONE = {"mass": "each", "volume": "size"}  # what a count is multiplied by


def rates(columns: list[Column]) -> list[Column]:
    """Take "Yards per trip" beside "Trips" for what one trip brought, which is no amount of the row's."""
    counts = [c for c in columns if c.field == "count" and c.content.numbers > 0.6]
    out = []
    for column in columns:
        per = _EACH.search(bare(column.head.text)) if column.field in MASSES else None
        if _BY_ONE.search(bare(column.head.text)) and any(_same_boxes(column, c) for c in columns):
            column = replace(column, field="running")  # "Sacks each" beside "Sacks"
        by_one = column.field in MASSES and _BY_ONE.search(bare(column.head.text)) is not None
        counted = next((c for c in columns if per and c is not column and _counts(c, per[1])), None)
        counted = counts[0] if by_one and len(counts) == 1 else counted  # "Trips | m³ each"
        if by_one and counted is None:
            column = replace(column, field="each")  # of how many, no column says
        if counted is not None:
            unit = column.heading.unit
            of_one = _OF_ONE.get(unit.dimension, "") if unit and counted.field == "count" else ""
            head = replace(column.head, heading=replace(column.heading, label="", container=""))
            column = replace(column, field=of_one or "running", head=head)
        out.append(column)
    return out


def _same_boxes(column: Column, other: Column) -> bool:
    """Return whether numbers stand in another column that names the same containers."""
    if other is column or other.content.numbers <= 0.6:
        return False
    boxes = (c.known.containers.take(bare(c.head.text), 0) for c in (column, other))
    one, two = (box and box[0] for box in boxes)
    return one is not None and one == two


def _counts(column: Column, what: str) -> bool:
    """Return whether numbers stand under a head for several of a thing: "Trips", "# of trips"."""
    said = re.findall(r"[^\W\d_]+", bare(column.head.text))
    one = singular(what)
    return column.content.numbers > 0.6 and any(w != one and singular(w) == one for w in said)


def is_corrected(column: Column) -> bool:
    """Return whether a column's head says that its amounts were put right afterwards."""
    return _CORRECTED.search(bare(column.head.text)) is not None


def is_estimate(column: Column) -> bool:
    """Return whether a column's head says that its amounts were guessed."""
    return _ESTIMATED.search(bare(column.head.text)) is not None


def not_loads(
    quantities: Sequence[Column], labels: dict[int, Label], others: Sequence[Column]
) -> set[int]:
    """Return the columns that stand beside a plain amount and are none of a load by their headings.

    Unknown words are left over in them ("Goal", "CO2e saved"); and where the ``others`` name source
    or material, row by row: "Pails left", "Weight of tote", "Tray" beside a count of containers.
    """
    masses = [c for c in quantities if c.field in MASSES]
    plain = [c for c in masses if labels[c.index].empty]
    out = {c.index for c in masses if plain and _unknown(labels[c.index])}
    tall = any(c.field in ("source", "material") and c.content.filled for c in others)
    told = any(c.field == "material" and c.content.filled for c in others)
    if told and any(map(_plain_label, labels.values())):
        out |= {c.index for c in masses if labels[c.index].material}  # "Straw (lb)" beside a load
    named = any(label.source or label.material for label in labels.values())
    amounts = [c for c in quantities if c.field in (*MASSES, "count")]
    odd = [c for c in amounts if _is_odd(c, labels[c.index])]
    counts = [c for c in amounts if c.field == "count" and c not in odd]
    if len(counts) > 1:  # "Pails | Bags used": the bags are no loads of their own
        odd += [c for c in counts if _USED.search(bare(c.head.text))]
    if not tall or named or len(odd) == len(amounts):
        return out
    return out | {c.index for c in odd}


def _plain_label(label: Label) -> bool:
    return replace(label, container="", size_m3=None).empty


_WEIGHT = re.compile(r"\b(?:weight|weighed|poids|pese)\b")
# Containers that stay empty, or come back so.
_EMPTIES = re.compile(
    r"\b(?:left|left behind|out|swapped|exchanged|returned|empty|empties|clean|issued|needed|lent"
    r"|laisse|echange|rendu|vide|propre|prete|remis)(?:e?s?)\b"
)


_USED = re.compile(r"\b(?:used|utilise(?:e?s?))\b")


def _is_odd(column: Column, label: Label) -> bool:
    """Return whether a heading says something else than how much of a load there was."""
    text, heading = bare(column.head.text), column.heading
    if column.field == "count":
        if _EMPTIES.search(text) or _unknown(label):
            return True
        one = text.strip(" .:?") == bare(heading.container)  # "Tray", "Voyage": which it was
        return one and not column.known.containers.is_own(heading.container)
    if heading.money is not None or (label.container and heading.said):
        return True  # "$/ton", "Weight of tote (lb)"
    return _unknown(label) and not _WEIGHT.search(text)


def _unknown(label: Label) -> bool:
    return bool(label.other) and not label.other.startswith("#")


FAR = 10  # times what any known source's column holds


def strangers(quantities: Sequence[Column], labels: dict[int, Label]) -> set[int]:
    """Return unknown columns among sources across that are none: numbers that rise by the row, lie far
    above all others', or have a unit of another kind."""
    known = [c for c in quantities if labels[c.index].source or labels[c.index].material]
    usual = [m for c in known if (m := middle(c))]
    if len(usual) < 2:
        return set()
    kinds = {c.heading.unit.dimension for c in known if c.heading.unit}
    out = set()
    for column in quantities:
        unit = column.heading.unit
        other = unit is not None and unit.dimension not in (kinds or {"mass"})
        far = middle(column) > FAR * max(usual)
        if _unknown(labels[column.index]) and (other or far or climbs(column)):
            out.add(column.index)
    return out


def sums_across(quantities: Sequence[Column], labels: dict[int, Label]) -> set[int]:
    """Return the columns that equal a sum on every row, totals by any name: of all the others, or of
    those before them since the last such sum."""
    if len(quantities) < 3 or len({c.field for c in quantities}) > 1:
        return set()
    values = [numbers_of(c) for c in quantities]
    every, since, start = Sums().of(values), Sums(), 0
    found: set[int] = set()
    for place, (column, own) in enumerate(zip(quantities, values, strict=True)):
        label = labels[column.index]
        if _unknown(label) or label.other[1:].isdecimal():
            if is_sum(own, every.less(own)):
                return {column.index}
            if place - start >= 2 and is_sum(own, since, 3):
                found.add(column.index)
                since, start = Sums(), place + 1
                continue
        since.of([own])
    return found


def parts_of_total(
    quantities: Sequence[Column], totals: Sequence[Column], labels: dict[int, Label]
) -> dict[int, Label]:
    """Return the labels with "lb | lb | lb" told apart, where a total beside them says that they add up.

    Without a total they may as well be one load weighed again.
    """
    plain = [c for c in quantities if c.field in MASSES and labels[c.index].empty]
    plain = [
        c for c in plain if (c.field, c.heading.unit) == (plain[0].field, plain[0].heading.unit)
    ]
    if len(plain) < 2:
        return labels
    values = [numbers_of(c) for c in plain]
    if any(adds_up(numbers_of(total), values, 1) for total in totals):
        return labels | {c.index: Label(other=f"#{n}") for n, c in enumerate(plain, 1)}
    return labels
