"""How a table lies: one entry a row, or one for each filled cell across.

Every table is taken as shared columns and groups of quantity columns. A tall table has one group; a
wide one has a group for each material, source, container or date across, each with what its heads
say once for all its cells.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from divert.ingest.cells.date import Day
from divert.ingest.cells.date import read_cell as read_date
from divert.ingest.cells.mark import is_total_label
from divert.ingest.cells.problem import Problem
from divert.ingest.columns import NAMED, Column
from divert.ingest.context import Context
from divert.ingest.headings import QUANTITIES, norm
from divert.ingest.known import Known
from divert.ingest.lexicon import bare, words
from divert.ingest.tables import OVER

_WITH = ("tare", "each", "removed", "contamination", "fill", "size")  # may belong to one group
_WEEKDAYS = (
    ("monday", "mon", "lundi", "lun"),
    ("tuesday", "tue", "tues", "mardi"),
    ("wednesday", "wed", "weds", "mercredi", "mer"),
    ("thursday", "thu", "thur", "thurs", "jeudi", "jeu"),
    ("friday", "fri", "vendredi", "ven"),
    ("saturday", "sat", "samedi", "sam"),
    ("sunday", "sun", "dimanche", "dim"),
)


@dataclass(frozen=True)
class Label:
    """What a group's heads say for all its cells."""

    source: str = ""
    material: str = ""
    container: str = ""
    size_m3: float | None = None
    day: Day | None = None
    weekday: int | None = None
    other: str = ""

    @property
    def empty(self) -> bool:
        """Return whether nothing is said."""
        return self == Label()


@dataclass(frozen=True)
class Group:
    """Quantity columns that make one entry a row: ``columns`` by field, a field's first one counting."""

    label: Label
    columns: dict[str, list[Column]]
    only_where_blank: tuple[Column, ...] = ()

    __hash__ = object.__hash__

    @property
    def first(self) -> Column:
        """Return the column an entry of this group is named by."""
        for name in (*QUANTITIES, *_WITH):
            if name in self.columns:
                return self.columns[name][0]
        return next(iter(self.columns.values()))[0]


@dataclass(frozen=True)
class Layout:
    """A table's shared columns by field, its groups, its total columns and the columns not read."""

    shared: dict[str, Column]
    groups: tuple[Group, ...]
    totals: tuple[Column, ...] = ()
    notes: tuple[Column, ...] = ()
    unread: tuple[Column, ...] = ()
    wide: bool = False
    taken: dict[int, str] = field(default_factory=dict)

    __hash__ = object.__hash__


def lay_out(columns: Sequence[Column], kind: str, context: Context, known: Known) -> Layout:
    """Return how a table lies."""
    totals = [
        c
        for c in columns
        if c.field == "total"
        or (c.field in QUANTITIES and c.head.over and is_total_label(c.head.over))
    ]
    rest = [c for c in columns if c not in totals]
    quantities = [c for c in rest if c.field in QUANTITIES]
    across = _across(rest, quantities, known)
    quantities += [replace(c, field="quantity") for c in across]
    labels = {c.index: _label(c, known) for c in quantities}
    labels = _typed(labels, rest, context, kind, known)
    companions = [c for c in rest if c.field in _WITH]
    groups = _groups(quantities, companions, labels, kind, known)
    grouped = {c.index for g in groups for cs in g.columns.values() for c in cs}
    across_at = {c.index for c in across}
    shared: dict[str, Column] = {}
    for column in rest:
        if (
            column.field
            and column.index not in grouped | across_at
            and column.field not in ("note", "other", *QUANTITIES)
        ):
            shared.setdefault(column.field, column)
    used = grouped | {c.index for c in shared.values()}
    notes = tuple(c for c in rest if c.field == "note" and c.index not in used)
    unread = tuple(c for c in rest if c.index not in used and c not in notes)
    wide = len(groups) > 1
    return Layout(shared, tuple(groups), tuple(totals), notes, unread, wide)


def _across(columns: Sequence[Column], quantities: Sequence[Column], known: Known) -> list[Column]:
    """Return the columns that run across a wide table with nothing but a label at their head."""
    open_ = [
        c
        for c in columns
        if c.field == ""
        and (c.heading.label or c.head.text or c.head.over)
        and (
            c.content.numbers + c.content.quantities > 0.5 or not c.content.filled or _only_marks(c)
        )
    ]
    named = [c for c in open_ if not _label(c, known).empty and not _label(c, known).other]
    if len(named) >= 2 or (named and not quantities):
        more = [c for c in open_ if c not in named and not quantities and c.content.filled]
        return sorted([*named, *more], key=lambda c: c.index)
    if quantities:
        return (
            named
            if any(_label(c, known).day for c in named)
            else [c for c in named if c.content.filled]
        )
    return [c for c in open_ if c.content.filled]


def _only_marks(column: Column) -> bool:
    return column.content.filled == 0


def _label(column: Column, known: Known) -> Label:
    """Return what a quantity column's head says beside its field."""
    heading = column.heading
    label = Label(container=heading.container, size_m3=heading.size_m3)
    over = column.head.over.split(OVER)
    texts = [t for t in (*over, heading.label) if t]
    named = heading.field in NAMED and column.content.numbers > 0.6
    if not heading.known or named:
        texts = [t for t in (*over, heading.label or column.head.text) if t]
    if isinstance(column.head.cell, dt.date):
        cell = column.head.cell
        return replace(label, day=Day(cell.year, cell.month, cell.day))
    for text in dict.fromkeys(texts):
        label = _read_label(text, label, known)
    return label


def _read_label(text: str, label: Label, known: Known) -> Label:
    text = re.sub(r"\s*[(\[].*?[)\]]\s*", " ", text).strip() or text
    source, material = known.sources.find(text), known.materials.find(text)
    if source and not label.source:
        return replace(label, source=source)
    if material and not label.material:
        return replace(label, material=material)
    container = known.containers.take(bare(text), 0)
    if container and container[1] == len(bare(text)) and not label.container:
        return replace(label, container=container[0])
    plain_text = bare(text).strip(".")
    for number, group in enumerate(_WEEKDAYS):
        if plain_text in group:
            return replace(label, weekday=number)
    read = read_date(text)
    if not isinstance(read, Problem) and read.readings and not text.isdigit():
        return replace(label, day=read.readings[0][1])
    split = _split_label(text, known)
    if split is not None:
        return replace(label, source=label.source or split[0], material=label.material or split[1])
    if _says_nothing(text):
        return replace(label, other=label.other or f"#{norm(text)}")
    return replace(label, other=label.other or text)


def _split_label(text: str, known: Known) -> tuple[str, str] | None:
    """Read "School food" or "Hotel - coffee grounds": a source and a material in one head."""
    tokens = re.sub(r"[-–—:/|,]+", " ", text).split()
    for at in range(1, len(tokens)):
        first, last = " ".join(tokens[:at]), " ".join(tokens[at:])
        for one, other in ((first, last), (last, first)):
            source, material = known.sources.find(one), known.materials.find(other)
            if source and material:
                return source, material
    return None


_NOTHING = re.compile(
    r"(?i)(?:am|pm|a\.m\.|p\.m\.|morning|afternoon|evening|matin|apr[eè]s-midi|soir|load|trip|run|chargement|voyage|pickup|first|second|third|1st|2nd|3rd|1er|2e|3e|#|no\.?|\d+|\W)+(?:\s*(?:load|trip|run|pickup))?"
)


def _says_nothing(text: str) -> bool:
    return _NOTHING.fullmatch(text) is not None


def _typed(
    labels: dict[int, Label], columns: Sequence[Column], context: Context, kind: str, known: Known
) -> dict[int, Label]:
    """Settle whether unknown labels name sources or materials (or products, activities)."""
    unknown = [i for i, one in labels.items() if one.other and not one.other.startswith("#")]
    if not unknown:
        return labels
    have = {c.field for c in columns}
    named_sources = any(one.source for one in labels.values())
    named_materials = any(one.material for one in labels.values())
    if kind in ("activity", "fuel"):
        return labels
    if kind in ("harvest", "sale"):
        target = "other" if have & {"product", "material"} else "material"
    elif named_sources != named_materials:
        target = "source" if named_sources else "material"
    elif "material" in have or (context.material and not context.source and "source" not in have):
        target = "source" if "source" not in have else "other"
    elif "source" in have or context.source:
        target = "material"
    else:
        near = sum(known.materials.near(labels[i].other) is not None for i in unknown)
        target = "material" if near > len(unknown) / 2 else "source"
    if target == "other":
        return labels
    out = dict(labels)
    for index in unknown:
        one = labels[index]
        out[index] = replace(
            one,
            other="",
            source=one.source or (one.other if target == "source" else ""),
            material=one.material or (one.other if target == "material" else ""),
        )
    return out


def _groups(
    quantities: Sequence[Column],
    companions: Sequence[Column],
    labels: dict[int, Label],
    kind: str,
    known: Known,
) -> list[Group]:
    if kind == "activity":
        return [Group(labels[c.index], {c.field: [c]}) for c in quantities]
    keyed: dict[Label, list[Column]] = {}
    for column in quantities:
        key = replace(labels[column.index], container="", size_m3=None)
        keyed.setdefault(key, []).append(column)
    with_key = {c.index: _companion(c, keyed, known) for c in companions}
    groups: list[Group] = []
    for key, members in keyed.items():
        own = [
            c for c in companions if with_key[c.index] == key and (not key.empty or len(keyed) == 1)
        ]
        groups += _group(key, members, own, labels)
    return groups


def _companion(column: Column, keyed: dict[Label, list[Column]], known: Known) -> Label | None:
    label = replace(_label(column, known), container="", size_m3=None)
    if label in keyed:
        return label
    if label.other:
        for key in keyed:
            if label.other in (key.source, key.material):
                return key
    return None


def _group(
    key: Label, members: Sequence[Column], own: Sequence[Column], labels: dict[int, Label]
) -> list[Group]:
    """Return the group of columns under one label, parted where its containers or loads repeat."""
    contained = [c for c in members if labels[c.index].container]
    others = [c for c in members if not labels[c.index].container]
    by_field: dict[str, list[Column]] = {}
    for column in [*others, *own]:
        by_field.setdefault(column.field, []).append(column)
    if len(contained) == 1 or (
        len({labels[c.index].container for c in contained}) == 1 and len(contained) == 1
    ):
        one = contained[0]
        if not ({"count"} & set(by_field)):
            label = replace(
                key, container=labels[one.index].container, size_m3=labels[one.index].size_m3
            )
            by_field.setdefault(one.field, []).append(one)
            return [Group(label, by_field)]
    parts = _repeated(key, by_field)
    if not contained:
        return parts
    masses = [c for c in others if c.field in ("weight", "gross", "quantity", "volume")]
    out = parts if masses else []
    spare = {} if masses else {f: cs for f, cs in by_field.items() if f in _WITH}
    for column in contained:
        label = replace(
            key, container=labels[column.index].container, size_m3=labels[column.index].size_m3
        )
        out.append(Group(label, {column.field: [column], **spare}, tuple(masses)))
    return out


def _repeated(key: Label, by_field: dict[str, list[Column]]) -> list[Group]:
    """Part columns of one field that are different loads; keep together one load in two units."""
    main = {f: cs for f, cs in by_field.items() if f in QUANTITIES}
    several = [f for f, cs in main.items() if len(cs) > 1 and not _same_in_other_units(cs)]
    if not several:
        return [Group(key, by_field)]
    split = several[0]
    rest = {f: cs for f, cs in by_field.items() if f != split}
    return [Group(key, {split: [c], **rest}) for c in by_field[split]]


def _same_in_other_units(columns: Sequence[Column]) -> bool:
    units = [c.heading.unit.name if c.heading.unit else "" for c in columns]
    return len(set(units)) == len(units) and "" not in units


def filler_words() -> frozenset[str]:
    """Return the words of headings that say nothing by themselves."""
    return frozenset(norm(w) for w in words("headings")["filler"]["words"])
