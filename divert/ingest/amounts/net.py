"""Net mass: weighed, or gross less tare, or a count of equal loads."""

from __future__ import annotations

import numpy as np

from divert.core.ledger import whole_containers
from divert.ingest.amounts.column import PROBLEM, VALUE, read_amounts
from divert.ingest.amounts.meant import Meant
from divert.ingest.amounts.measured import (
    DISAGREE,
    NET_ZERO,
    NO_TARE,
    NO_UNIT,
    Measured,
    fill_gaps,
    without_dittos,
)
from divert.ingest.arrays import Floats
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.tables.layout import Layout


def masses_of(column: Column, meant: Meant) -> Floats:
    """Return a column of plain masses (tare, each) in kg; NaN where it cannot be told."""
    amounts = read_amounts(without_dittos(column.cells), meant.trade)
    unit = column.heading.unit or meant.unit
    factor = unit.factor if unit is not None and unit.dimension == "mass" else np.nan
    return np.where(np.isnan(amounts.mass_kg), amounts.number * factor, amounts.mass_kg)


def put_net(out: Measured, group: Group, layout: Layout, meant: Meant) -> None:
    """Find the net mass: weighed, else gross less the tare written beside it, else count x each."""
    column = layout.column(group, "tare")
    has_gross = ~np.isnan(out.gross_kg)
    if column is not None and has_gross.any():
        tare = masses_of(column, meant)
        own = {c.name: c.tare_kg for c in meant.known.site.containers if c.tare_kg is not None}
        times = np.ones(len(tare))
        boxes = whole_containers(np.where(np.isnan(out.count), 1.0, out.count))
        for row in np.flatnonzero(has_gross & ~np.isnan(tare) & (out.count > 1)):
            usual = own.get(str(out.container[row]))
            if usual and abs(tare[row] - usual) <= 0.15 * usual:
                times[row] = boxes[row]  # the tare of one container, as site.toml knows it
        net = out.gross_kg - times * tare
        both = ~np.isnan(out.mass_kg) & ~np.isnan(net)
        by_each = out.gross_kg - boxes * tare
        room = np.maximum(0.03 * np.abs(net), 0.5)  # rounding, and a needle read twice
        near = (np.abs(out.mass_kg - net) <= room) | (np.abs(out.mass_kg - by_each) <= room)
        apart = both & ~near
        out.state[apart], out.problem[apart] = PROBLEM, DISAGREE
        empty = np.array([str(name) in own for name in out.container], dtype=bool)
        lacks = has_gross & np.isnan(tare) & np.isnan(out.mass_kg) & ~empty
        if (~np.isnan(tare)).any():  # it is taken off the other rows
            out.state[lacks], out.problem[lacks] = PROBLEM, NO_TARE
        found = np.isnan(out.mass_kg) & ~np.isnan(net)
        out.mass_kg[found] = net[found]
    above = has_gross & (out.mass_kg > 1.001 * out.gross_kg)
    out.state[above], out.problem[above] = PROBLEM, DISAGREE
    weightless = has_gross & (out.mass_kg <= 0) & (out.gross_kg >= 0)
    out.state[weightless], out.problem[weightless] = PROBLEM, NET_ZERO
    out.gross_kg[~np.isnan(out.mass_kg)] = np.nan
    column = layout.column(group, "each")
    if column is not None:
        each = masses_of(column, meant)
        untold = (column.cells.codes >= 0) & np.isnan(each) & np.isnan(out.mass_kg)
        untold &= np.isnan(out.gross_kg) & (out.state == VALUE)
        out.state[untold], out.problem[untold] = PROBLEM, NO_UNIT  # "10 each", of nobody knows what
        fill_gaps(out.mass_kg, each * out.count)
