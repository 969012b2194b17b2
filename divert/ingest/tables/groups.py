"""Which quantity columns make one entry together, and which stand for loads of their own."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from divert.ingest.known import Known
from divert.ingest.tables.columns import Column
from divert.ingest.tables.double_amounts import MASSES, is_corrected, is_estimate
from divert.ingest.tables.heading import QUANTITIES
from divert.ingest.tables.labels import Label, label_of

WITH = ("tare", "each", "removed", "contamination", "fill", "size")  # may belong to one group


@dataclass(frozen=True)
class Group:
    """Quantity columns that make one entry a row: ``columns`` by field, a field's first one counting."""

    label: Label
    columns: dict[str, list[Column]]
    only_where_blank: tuple[Column, ...] = ()

    __hash__ = object.__hash__

    @cached_property
    def members(self) -> list[Column]:
        """Return all its columns."""
        return [column for columns in self.columns.values() for column in columns]

    @cached_property
    def places(self) -> frozenset[int]:
        """Return where its columns stand in the table, counted from 0."""
        return frozenset(column.index for column in self.members)

    @property
    def first(self) -> Column:
        """Return the column an entry of this group is named by."""
        for name in (*QUANTITIES, *WITH):
            if name in self.columns:
                return self.columns[name][0]
        return next(iter(self.columns.values()))[0]


def group_up(
    quantities: Sequence[Column],
    companions: Sequence[Column],
    labels: dict[int, Label],
    kind: str,
    known: Known,
    told: Collection[str] = (),
) -> list[Group]:
    """Return the groups of quantity columns: one for each label, or load, or container across.

    ``told``: the fields that other columns tell of each row.
    """
    if kind == "activity":
        return [Group(labels[c.index], {c.field: [c]}) for c in quantities]
    keyed: dict[Label, list[Column]] = {}
    for column in quantities:
        key = replace(labels[column.index], container="", size_m3=None)
        keyed.setdefault(key, []).append(column)
    keyed = _with_counts(keyed, told)
    with_key = {c.index: _companion(c, keyed, known) for c in companions}
    groups: list[Group] = []
    for key, members in keyed.items():
        own = [
            c for c in companions if with_key[c.index] == key and (not key.empty or len(keyed) == 1)
        ]
        groups += _group(key, members, own, labels)
    return groups


def _with_counts(
    keyed: dict[Label, list[Column]], told: Collection[str]
) -> dict[Label, list[Column]]:
    """Put counts under words that name nobody and nothing to the one amount whose head does.

    "Bags | Leaves (lb)" are bags of leaves, unless a column says for each row what the bags held.
    """
    counts, others = keyed.get(Label(), []), [key for key in keyed if not key.empty]
    bare = [
        c for c in counts if c.field == "count" or (c.field == "quantity" and not c.heading.unit)
    ]
    if len(others) != 1 or len(bare) < len(counts):
        return keyed
    key = others[0]
    named = replace(key, source="", material="").empty
    measured = any(c.field in ("weight", "gross", "volume") for c in keyed[key])
    if not (named and measured) or any(
        getattr(key, f) and f in told for f in ("source", "material")
    ):
        return keyed
    return {key: [*counts, *keyed[key]]}


def _companion(column: Column, keyed: dict[Label, list[Column]], known: Known) -> Label | None:
    label = replace(label_of(column, known), container="", size_m3=None)
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
    if len(contained) == 1 and "count" not in by_field:
        one = contained[0]
        by_field.setdefault(one.field, []).append(one)
        return [Group(_counting(key, labels[one.index]), by_field)]
    parts = _repeated(key, by_field)
    if not contained:
        return parts
    masses = [c for c in others if c.field in ("weight", "gross", "quantity", "volume")]
    out = parts if masses else []
    spare = {} if masses else {f: cs for f, cs in by_field.items() if f in WITH}
    for column in contained:
        label = _counting(key, labels[column.index])
        out.append(Group(label, {column.field: [column], **spare}, tuple(masses)))
    return out


def _counting(key: Label, own: Label) -> Label:
    """Return a group's label with the container that one of its columns counts."""
    return replace(key, container=own.container, size_m3=own.size_m3)


def _repeated(key: Label, by_field: dict[str, list[Column]]) -> list[Group]:
    """Part columns of one field that are different loads; keep together what speaks of one load.

    Two plain weights are one load: they must agree. A guess counts only where nothing was weighed,
    and what was corrected only where no correction stands.
    """
    masses = [c for cs in by_field.values() for c in cs if c.field in MASSES]
    guessed = [c for c in masses if is_estimate(c)]
    if any(map(is_corrected, masses)):
        guessed = [c for c in masses if not is_corrected(c)]
    if guessed and len(guessed) < sum(len(by_field.get(f, ())) for f in MASSES):
        weighed = {f: [c for c in cs if c not in guessed] for f, cs in by_field.items()}
        weighed = {f: cs for f, cs in weighed.items() if cs}
        first = tuple(c for f in MASSES for c in weighed.get(f, ()))
        rest = {f: cs for f, cs in weighed.items() if f not in MASSES}
        spare = [Group(key, {guessed[0].field: guessed, **rest}, first)]
        return [*_repeated(key, weighed), *spare]
    main = {f: cs for f, cs in by_field.items() if f in QUANTITIES}
    several = [f for f, cs in main.items() if len(cs) > 1 and not _same_in_other_units(cs)]
    if not several or (several[0] in MASSES and key.empty):
        return [Group(key, by_field)]
    split = several[0]
    rest = {f: cs for f, cs in by_field.items() if f != split}
    return [Group(key, {split: [c], **rest}) for c in by_field[split]]


def _same_in_other_units(columns: Sequence[Column]) -> bool:
    units = [c.heading.unit.name if c.heading.unit else "" for c in columns]
    return len(set(units)) == len(units) and "" not in units
