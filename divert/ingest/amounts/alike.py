"""Groups that only differ in whose or which day's they are, measured as one long one.

Days across a heading make thousands of groups of a few rows each; what is asked of a group costs as much
for three rows as for a thousand.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Sequence
from dataclasses import fields, replace

import numpy as np

from divert.ingest import carry
from divert.ingest.amounts.meant import Meant
from divert.ingest.amounts.measure import measure
from divert.ingest.amounts.measured import Measured
from divert.ingest.grid import Cell
from divert.ingest.sheet import Distinct
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.tables.layout import Layout

_LONGEST = 100_000  # rows of one long group
_OWN = -1  # stands for each group's own column
_PLAIN = re.compile(r"[0-9]{1,6}")


def measure_all(layout: Layout, meant: Meant) -> list[Measured]:
    """Return the quantities of every group of a table, row by row."""
    groups = layout.groups
    alike: dict[Hashable, list[int]] = {}
    dittos = any(carry.dittos(c.cells).any() for c in layout.shared.values())
    for place, group in enumerate(groups):
        key = place if dittos or not _is_plain(group) else _key(group)
        alike.setdefault(key, []).append(place)
    out: dict[int, Measured] = {}
    for places in alike.values():
        step = max(1, _LONGEST // max(1, len(groups[places[0]].first.cells.codes)))
        for at in range(0, len(places), step):
            some = places[at : at + step]
            out |= zip(some, _measured([groups[p] for p in some], layout, meant), strict=True)
    return [out[place] for place in range(len(groups))]


def _is_plain(group: Group) -> bool:
    """Return whether a group is one column of nothing but plain numbers: none can lend another its unit."""
    return len(group.members) == 1 and all(map(_is_number, group.first.cells.cells))


def _is_number(cell: Cell) -> bool:
    return type(cell) in (int, float) or (type(cell) is str and _PLAIN.fullmatch(cell) is not None)


def _key(group: Group) -> Hashable:
    """Return all that a plain group's amounts follow from beside its numbers."""
    (field,) = group.columns
    label = group.label
    heading = replace(group.first.heading, text="", label="")
    return field, heading, label.container, label.size_m3


def _measured(groups: Sequence[Group], layout: Layout, meant: Meant) -> list[Measured]:
    if len(groups) == 1:
        return [measure(groups[0], layout, meant)]
    (field,) = groups[0].columns
    cells = [g.first.cells for g in groups]
    rows = len(cells[0].codes)
    starts = np.cumsum([0, *(len(c.cells) for c in cells[:-1])])
    codes = [np.where(c.codes < 0, -1, c.codes + s) for c, s in zip(cells, starts, strict=True)]
    long = Distinct(np.concatenate(codes), [cell for c in cells for cell in c.cells])
    column = replace(groups[0].first, index=_OWN, cells=long)
    shared = {name: _repeated(c, len(groups)) for name, c in layout.shared.items()}
    whole = measure(
        replace(groups[0], columns={field: [column]}), replace(layout, shared=shared), meant
    )
    return [
        _part(whole, slice(n * rows, (n + 1) * rows), g.first.index) for n, g in enumerate(groups)
    ]


def _repeated(column: Column, times: int) -> Column:
    cells = column.cells
    return replace(column, cells=Distinct(np.tile(cells.codes, times), cells.cells))


def _part(whole: Measured, rows: slice, own: int) -> Measured:
    """Return what was measured of one group, whose column is told by its place in the table."""
    arrays = {
        one.name: value[rows]
        for one in fields(whole)
        if isinstance(value := getattr(whole, one.name), np.ndarray)
    }
    arrays["where"] = np.where(arrays["where"] == _OWN, own, arrays["where"]).astype(np.int16)
    inside = range(rows.start, rows.stop)
    return Measured(
        **arrays,
        several={r - rows.start: said for r, said in whole.several.items() if r in inside},
        asked={word: told[rows] for word, told in whole.asked.items()},
        settled={r - rows.start for r in whole.settled if r in inside},
    )
