"""How a table lies: one entry a row, or one for each filled cell across.

Every table is taken as shared columns and groups of quantity columns. A tall table has one group; a
wide one has a group for each material, source, container or date across, each with what its heads
say once for all its cells.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from divert.ingest.cells.mark import is_total_label
from divert.ingest.known import Known
from divert.ingest.tables.columns import IGNORE, Column
from divert.ingest.tables.context import Context
from divert.ingest.tables.days_across import with_days_settled
from divert.ingest.tables.double_amounts import not_loads, parts_of_total, strangers, sums_across
from divert.ingest.tables.groups import WITH, Group, group_up
from divert.ingest.tables.heading import QUANTITIES
from divert.ingest.tables.kind_words import is_whole_kind
from divert.ingest.tables.labels import Label, label_of, settle_labels
from divert.ingest.tables.naming_numbers import climbs
from divert.ingest.tables.numbered import with_materials
from divert.ingest.tables.numbers import equal, numbers_of
from divert.ingest.tables.table import OVER

_SHARED_BY_NONE = ("", "note", "other", "total", IGNORE, *QUANTITIES)


@dataclass(frozen=True)
class Layout:
    """A table's columns; those shared by field, its groups, totals and notes, and what is not read."""

    columns: tuple[Column, ...]
    shared: dict[str, Column]
    groups: tuple[Group, ...]
    totals: tuple[Column, ...] = ()
    notes: tuple[Column, ...] = ()
    unread: tuple[Column, ...] = ()
    wide: bool = False

    __hash__ = object.__hash__

    @property
    def added_up(self) -> bool:
        """Return whether a total that says so is the sum of all the groups, where a row has several."""
        stacked = np.stack([numbers_of(g.first) for g in self.groups])
        several = (~np.isnan(stacked)).sum(axis=0) >= 2
        sums = np.where(several, np.nansum(stacked, axis=0), np.nan)
        return any(equal(numbers_of(total), sums) for total in self.totals if total.says_total)

    def column(self, group: Group, field: str) -> Column | None:
        """Return the column that tells something of a group's loads: its own, else the shared one."""
        return next(iter(group.columns.get(field, ())), self.shared.get(field))


def lay_out(columns: Sequence[Column], kind: str, context: Context, known: Known) -> Layout:
    """Return how a table lies."""
    totals = [
        c
        for c in columns
        if c.field == "total"
        or (c.field in QUANTITIES and c.head.over and _sums(c.head.over, known))
    ]
    rest = [c for c in columns if c not in totals]
    quantities = [c for c in rest if c.field in QUANTITIES]
    across = _across(rest, quantities, known)
    quantities += [replace(c, field="quantity") for c in across]
    labels = {c.index: label_of(c, known) for c in quantities}
    labels = with_days_settled(quantities, labels, known)
    summed = sums_across(quantities, labels)
    totals += [c for c in quantities if c.index in summed]
    odd = not_loads(quantities, labels, rest) if kind != "activity" else set()
    if kind == "intake":
        odd |= {c.index for c in quantities if _went_out(labels[c.index])}
        odd |= strangers(quantities, labels)
    quantities = [c for c in quantities if c.index not in summed | odd]
    rest = [
        replace(c, field="other") if c.index in odd else c for c in rest if c.index not in summed
    ]
    labels = {c.index: labels[c.index] for c in quantities}
    labels = parts_of_total(quantities, totals, labels)
    labels = settle_labels(labels, rest, context, kind, known)
    companions = [c for c in rest if c.field in WITH]
    told = {c.field for c in rest}
    groups = with_materials(group_up(quantities, companions, labels, kind, known, told), columns)
    groups = [g for g in groups if set(g.columns) != {"each"}]  # of how many, nothing says
    groups = groups or _one_box_a_row(rest, kind)
    summed = {c.index for c in totals}
    others = odd - {place for g in groups for place in g.places}
    fields = {c.index: c.field for c in rest}
    fields |= dict.fromkeys(others, "other") | dict.fromkeys(summed, "total")
    fields |= {c.index: f for g in groups for f, cs in g.columns.items() for c in cs}
    settled = tuple(c.taken_as(fields.get(c.index, c.field)) for c in columns)
    by_index = {c.index: c for c in settled}
    groups = [_with(g, by_index) for g in groups]
    return layout_of(settled, groups)


def _with(group: Group, settled: Mapping[int, Column]) -> Group:
    """Return a group of the columns as they were settled."""
    own = {f: [settled[c.index] for c in cs] for f, cs in group.columns.items()}
    blank = tuple(settled[c.index] for c in group.only_where_blank)
    return replace(group, columns=own, only_where_blank=blank)


def layout_of(columns: Sequence[Column], groups: Sequence[Group]) -> Layout:
    """Return how a table lies whose columns' fields are settled, and which of them make one load."""
    grouped = {place for g in groups for place in g.places}
    shared: dict[str, Column] = {}
    for column in columns:
        if column.index not in grouped and column.field not in _SHARED_BY_NONE:
            shared.setdefault(column.field, column)
    used = grouped | {c.index for c in shared.values()}
    totals = tuple(c for c in columns if c.field == "total" and c.index not in used)
    notes = tuple(c for c in columns if c.field == "note" and c.index not in used)
    unread = tuple(
        c for c in columns if c.index not in used and c.field not in ("total", "note", IGNORE)
    )
    return Layout(tuple(columns), shared, tuple(groups), totals, notes, unread, len(groups) > 1)


_OUT = ("harvest", "residue", "removed", "disposed", "sale")


def _went_out(label: Label) -> bool:
    """Return whether unknown words say that an amount left the site: "Castings out (lb)", "Residue"."""
    words = re.sub(r"(?i)\s+(?:out|sorties?)$", "", label.other)
    return bool(words) and any(is_whole_kind(words, kind) for kind in _OUT)


def _sums(over: str, known: Known) -> bool:
    """Return whether a label over columns says that they sum others; "Résidence Le Total" is a name."""
    return is_total_label(over) and not any(map(known.names, over.split(OVER)))


def _one_box_a_row(columns: Sequence[Column], kind: str) -> list[Group]:
    """Return a group that counts one container a row, where only its name and its fill are told."""
    fills = [c for c in columns if c.field == "fill" and c.content.filled]
    boxes = [c for c in columns if c.field == "container" and c.content.containers > 0.5]
    return [Group(Label(), {"fill": fills[:1]})] if fills and boxes and kind == "intake" else []


def _headless(columns: Sequence[Column], named: Sequence[Column], known: Known) -> list[Column]:
    """Return the columns of amounts between days across over which nobody wrote the day."""
    dated = [c.index for c in named if (label := label_of(c, known)).day or label.number]
    if len(dated) < 2:
        return []
    return [
        c
        for c in columns
        if c.field == "" and not c.head.text and not c.head.over
        and dated[0] < c.index < dated[-1] and c.content.numbers + c.content.quantities > 0.5
    ]  # fmt: skip


def _across(columns: Sequence[Column], quantities: Sequence[Column], known: Known) -> list[Column]:
    """Return the columns that run across a wide table with nothing but a label at their head."""
    open_ = [
        c
        for c in columns
        if c.field == ""
        and not c.heading.percent  # "School %" is a share of something, no load
        and (c.heading.label or c.head.text or c.head.over)
        and (c.content.numbers + c.content.quantities > 0.5 or not c.content.filled)
    ]
    named = [c for c in open_ if not label_of(c, known).empty and not label_of(c, known).other]
    if len(named) >= 2 or (named and not quantities):
        taken = {c.index for c in named}
        more = [c for c in open_ if c.index not in taken and not quantities and c.content.filled]
        return sorted([*named, *more, *_headless(columns, named, known)], key=lambda c: c.index)
    if quantities:
        return (
            named
            if any(label_of(c, known).day for c in named)
            else [c for c in named if c.cells.cells]
        )
    filled = [c for c in open_ if c.content.filled]
    return [c for c in filled if not climbs(c)] or filled
