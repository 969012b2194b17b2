"""The quantity of each row of one group: count, container, fill, volume, mass and what was removed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

import numpy as np

from divert.core.units import unit_factor
from divert.ingest.amounts.bare_numbers import factors_of
from divert.ingest.amounts.boxes import Boxes, put_boxes, read_boxes
from divert.ingest.amounts.column import (
    NOTHING,
    PROBLEM,
    UNKNOWN,
    VALUE,
    Amounts,
    read_amounts,
    separators_clash,
    uses_decimal_comma,
)
from divert.ingest.amounts.fills import read_fills
from divert.ingest.amounts.meant import Meant
from divert.ingest.amounts.measured import (
    NET_ZERO,
    NO_SCALE,
    NO_UNIT,
    TWO_WEIGHTS,
    UNREADABLE,
    Measured,
    fill_gaps,
    fill_text_gaps,
    nothing_said,
    without_dittos,
)
from divert.ingest.amounts.net import masses_of, put_net
from divert.ingest.amounts.removed import add_what_was_sorted_out, put_removed
from divert.ingest.amounts.sizes import put_sizes
from divert.ingest.amounts.unit_column import Units, read_units
from divert.ingest.arrays import Bools, Floats, Ints, Objects, blank_texts, no_rows
from divert.ingest.known import Known
from divert.ingest.sheet import Distinct
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.tables.layout import Layout


def decimal_comma(columns: Iterable[Column], known: Known) -> bool:
    """Return whether a table's numbers have a decimal comma, by all its quantity columns together."""
    texts: list[object] = []
    for column in columns:
        texts += [c for c in column.cells.cells if isinstance(c, str)]
    joined = Distinct(np.arange(len(texts)), texts)  # type: ignore[arg-type]
    return uses_decimal_comma(joined, known.trade.comma)


def measure(group: Group, layout: Layout, meant: Meant) -> Measured:
    """Return the quantities of every row of a group."""
    rows = len(group.first.cells.codes)
    out = nothing_said(rows)
    known, trade = meant.known, meant.trade
    units = read_units(layout.shared, rows, known)
    boxes = read_boxes(group, layout, meant.context, known, rows)
    texts = (cell for column in group.members for cell in column.cells.cells)
    # Decimal commas on an English site are somebody's own way: 1,250 beside them could be either.
    clash = separators_clash(texts) or (meant.comma and not known.trade.comma)
    for name in ("weight", "gross", "volume", "quantity", "count"):
        earlier: list[Column] = []
        for column in group.columns.get(name, ()):
            amounts = read_amounts(without_dittos(column.cells), trade, clash)
            _take(out, name, column, amounts, earlier, units, boxes, meant)
            earlier.append(column)
    put_boxes(out, boxes, group, layout)
    _put_fill(out, group, layout, meant.comma)
    _part_of_one(out)
    put_sizes(out, group, layout, known)
    put_removed(out, group, layout, meant)
    tare = layout.column(group, "tare")
    empty = None if tare is None else masses_of(tare, meant)
    add_what_was_sorted_out(out, empty)
    put_net(out, group, layout, meant)
    _settle(out)
    return out


def _take(
    out: Measured,
    name: str,
    column: Column,
    amounts: Amounts,
    earlier: Sequence[Column],
    units: Units,
    boxes: Boxes,
    meant: Meant,
) -> None:
    """Lay one column's amounts into the rows that have none of that kind yet."""
    mass, volume, count, container = _in_units(out, name, column, amounts, units, boxes, meant)
    mixed = _counts_two_things(column, container)
    amounts.state[mixed], amounts.problem[mixed] = PROBLEM, UNREADABLE
    each = amounts.each & ~np.isnan(mass)
    if each.any():
        amounts.state[each], amounts.problem[each] = PROBLEM, UNREADABLE
        mass[each] = np.nan
    heavy = np.asarray(amounts.gross | (name == "gross"))
    fill_gaps(out.gross_kg, np.where(heavy, mass, np.nan))
    if _is_rest_of(column, amounts.number, earlier):  # "lb | oz": 20 and 8 are one weight
        both = ~np.isnan(out.mass_kg) & ~np.isnan(mass)
        out.mass_kg[both] += mass[both]
        mass[both] = np.nan
    agree = ~np.isnan(out.mass_kg) & ~np.isnan(mass) & ~heavy
    clash = agree & (np.abs(out.mass_kg - mass) > 0.03 * np.abs(out.mass_kg))
    fill_gaps(out.mass_kg, np.where(heavy, np.nan, mass))
    fill_gaps(out.volume_m3, volume)
    fill_gaps(out.count, count)
    fill_gaps(out.fill, amounts.fill)
    fill_text_gaps(out.container, container)
    if "note" in amounts.says:
        fill_text_gaps(out.note, amounts.note)
    if "asked" in amounts.says:
        out.note_asked(amounts.asked, amounts.state == VALUE)
    out.several |= amounts.several
    sized = ~np.isnan(amounts.volume_m3) & ~np.isnan(amounts.count) & (container == "")
    out.settled |= set(np.flatnonzero(sized).tolist())
    _state(out, column, name, amounts.state, amounts.problem)
    if clash.any():
        out.state[clash], out.problem[clash] = PROBLEM, TWO_WEIGHTS
        out.rank[clash] = _HELD


def _in_units(
    out: Measured,
    name: str,
    column: Column,
    amounts: Amounts,
    units: Units,
    boxes: Boxes,
    meant: Meant,
) -> tuple[Floats, Floats, Floats, Objects]:
    """Return a column's masses, volumes, counts and containers, bare numbers in the unit they stand under.

    Rows whose number has no unit become problems of ``amounts``.
    """
    number = amounts.number
    bare_number = ~np.isnan(number)
    if column.heading.unsized:
        amounts.state[bare_number], amounts.problem[bare_number] = PROBLEM, NO_UNIT
        bare_number = no_rows(len(number))
    mass, volume, count = amounts.mass_kg.copy(), amounts.volume_m3.copy(), amounts.count.copy()
    container = (
        np.array(amounts.container, dtype=object)
        if "container" in amounts.says
        else blank_texts(len(number))
    )
    if not bare_number.any():
        return mass, volume, count, container
    factor, dimension = factors_of(name, column, amounts, units, boxes, meant, out)
    as_mass, as_volume = bare_number & (dimension == 1), bare_number & (dimension == 2)
    as_count, unknown = bare_number & (dimension == 3), bare_number & (dimension == 0)
    mass[as_mass] = (number * factor)[as_mass]
    volume[as_volume] = (number * factor)[as_volume]
    count[as_count] = number[as_count]
    named = as_count & (units.container != "")
    container[named] = units.container[named]
    stray = amounts.loose & as_count & (container == "") & (boxes.name == "")
    container[stray] = amounts.note[stray]
    zero = unknown & (number == 0)
    amounts.state[zero] = NOTHING
    unknown &= ~zero
    amounts.state[unknown], amounts.problem[unknown] = PROBLEM, NO_UNIT
    return mass, volume, count, container


def _counts_two_things(column: Column, container: Objects) -> Bools:
    """Return the rows that say "2 + 1 tote" under "Pails": the 2 are pails, or they are totes."""
    own = column.heading.container
    if not own:
        return no_rows(len(container))
    said = column.cells.rows_of_texts(lambda text: _ADDED.match(text) is not None)
    return np.asarray(said & (container != "") & (container != own))


_ADDED = re.compile(r"\s*\d+\s*\+\s*\d")
_PARTS_OF = {"oz": ("lb", 16), "g": ("kg", 1000)}  # NIST Handbook 44, Appendix C: 16 oz to the lb


def _is_rest_of(column: Column, number: Floats, earlier: Sequence[Column]) -> bool:
    """Return whether a column holds the ounces beside pounds, or grams beside kilograms."""
    unit = column.heading.unit
    if unit is None or not earlier:
        return False
    small = next((u for u in _PARTS_OF if abs(unit.factor - unit_factor(u)[0]) < 1e-12), "")
    before = earlier[-1].heading.unit
    if not small or before is None:
        return False
    whole, parts = _PARTS_OF[small]
    said = number[~np.isnan(number)]
    return abs(before.factor - unit_factor(whole)[0]) < 1e-9 and bool((said < parts).all())


_RANK = np.array([0, 5, 1, 2, 3, 0, 4], dtype=np.int8)  # BLANK, VALUE, NOTHING, CLOSED, UNKNOWN ...
_HELD = 6  # a weight that cannot be read holds its row back, whatever else the row says


def _state(out: Measured, column: Column, name: str, state: Ints, problem: Ints) -> None:
    """Merge one column's states: a value outdoes a mark, and an unreadable weight outdoes a value."""
    rank = _RANK[state]
    if name in ("weight", "gross"):
        rank = np.where(state == PROBLEM, _HELD, rank).astype(np.int8)
    better = rank > out.rank
    out.rank[better] = rank[better]
    out.where[better] = column.index
    out.problem[better] = problem[better]
    out.state[better] = state[better]


def _put_fill(out: Measured, group: Group, layout: Layout, comma: bool) -> None:
    for counted in group.columns.get("count", ()):
        if counted.heading.fill is not None:  # "Full totes"
            full = np.full(len(out.count), counted.heading.fill)
            fill_gaps(out.fill, np.where(np.isnan(out.count), np.nan, full))
    column = layout.column(group, "fill")
    if column is None:
        return
    heading = column.heading
    fills = read_fills(without_dittos(column.cells), comma, heading.text, heading.percent)
    fill_gaps(out.fill, fills.fill)
    needed = np.isnan(out.mass_kg) & np.isnan(out.gross_kg) & np.isnan(out.volume_m3)
    bad = needed & (fills.state == PROBLEM) & (out.state == VALUE)
    problem = NO_SCALE if fills.untold else UNREADABLE
    out.state[bad], out.problem[bad], out.where[bad] = PROBLEM, problem, column.index
    empty = needed & (out.fill == 0) & (out.state == VALUE)
    out.state[empty] = NOTHING
    sized = [r for r in out.settled if not np.isnan(fills.fill[r])]
    out.volume_m3[sized] *= fills.fill[sized]


def _part_of_one(out: Measured) -> None:
    """Take "1/2" of a tote for one tote half full, as "half" is: there is no half a container.

    It then weighs a whole container empty, and the container's usual fill does not come on top.
    """
    with np.errstate(invalid="ignore"):
        part = (out.count > 0) & (out.count < 1) & np.isnan(out.volume_m3)
    part &= np.isnan(out.fill) | (out.fill == 1)
    out.fill[part] = out.count[part]
    out.count[part] = 1.0


def _settle(out: Measured) -> None:
    """Name rows of nothing but zeros "nothing", and rows with only a fill "no quantity"."""
    amounts = np.stack([out.count, out.mass_kg, out.volume_m3, out.gross_kg])
    said = ~np.isnan(amounts)
    value = out.state == VALUE
    none_said = value & ~said.any(axis=0)
    out.state[none_said] = UNKNOWN
    with np.errstate(invalid="ignore"):
        zero = value & said.any(axis=0) & (np.where(said, amounts, 0) == 0).all(axis=0)
        weightless = value & (out.mass_kg == 0) & (out.count > 0)
    out.state[zero] = NOTHING
    out.state[weightless], out.problem[weightless] = PROBLEM, NET_ZERO
