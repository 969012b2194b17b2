"""What was removed from each load: a mass or a share of it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from divert.ingest.amounts.column import PROBLEM, VALUE
from divert.ingest.amounts.meant import Meant
from divert.ingest.amounts.measured import (
    DISAGREE,
    NO_UNIT,
    UNREADABLE,
    Measured,
    add_texts,
    fill_gaps,
    without_dittos,
)
from divert.ingest.amounts.shares import read_shares
from divert.ingest.arrays import Floats
from divert.ingest.tables.groups import Group
from divert.ingest.tables.layout import Layout

_ROUNDED, _ROUNDED_KG = 0.002, 0.05  # as far as figures typed by hand may be off


def put_removed(out: Measured, group: Group, layout: Layout, meant: Meant) -> None:
    """Lay what a contamination column says into the rows: a mass, or a share of the load."""
    for name in ("removed", "contamination"):
        column = layout.column(group, name)
        if column is None:
            continue
        shares = read_shares(without_dittos(column.cells), meant.trade)
        mass, part = shares.mass_kg.copy(), shares.share.copy()
        numbers = ~np.isnan(shares.number)
        filled = shares.number[numbers]
        unit = column.heading.unit
        if numbers.any():
            fraction = column.heading.percent or (unit is None and name == "contamination")
            below_one = bool((filled <= 1).all() and (filled % 1 != 0).any())
            if column.heading.percent:
                part[numbers] = filled if below_one else filled / 100
            elif unit is None and fraction and below_one:
                part[numbers] = filled
            else:
                unit = unit or meant.unit
                known_mass = unit is not None and unit.dimension == "mass"
                if unit is not None and unit.asked:
                    out.ask(unit.asked, numbers)
                factor = unit.factor if unit is not None and known_mass else np.nan
                mass[numbers] = np.where(filled == 0, 0.0, filled * factor)
                unsaid = numbers & np.isnan(mass) & (out.state == VALUE)
                out.state[unsaid], out.problem[unsaid], out.where[unsaid] = (
                    PROBLEM,
                    NO_UNIT,
                    column.index,
                )
        unread = (shares.state == PROBLEM) | (part > 1)
        bad = unread & (out.state == VALUE)
        out.state[bad], out.problem[bad], out.where[bad] = PROBLEM, UNREADABLE, column.index
        fill_gaps(out.removed_kg, mass)
        fill_gaps(out.removed_share, part)
        if "words" in shares.says:
            add_texts(out.note, shares.words)
        if "asked" in shares.says:
            out.note_asked(shares.asked, shares.state == VALUE)


def add_what_was_sorted_out(out: Measured, tare_kg: Floats | None) -> None:
    """Add what was removed to the net where that is what sorting left: "Gross | Trash | Net".

    It is where gross, less the tare if one is told, less what was removed is the net on every row.
    """
    came = out.gross_kg - (0.0 if tare_kg is None else np.nan_to_num(tare_kg))
    rows = ~np.isnan(came) & ~np.isnan(out.mass_kg) & (out.removed_kg > 0)
    room = np.maximum(_ROUNDED * out.gross_kg, _ROUNDED_KG)
    if rows.any() and (np.abs(came - out.removed_kg - out.mass_kg) <= room)[rows].all():
        out.mass_kg[rows] = came[rows]


def refuse_more_than_came(measured: Sequence[Measured]) -> None:
    """Refuse the rows out of which more was taken than came."""
    for one in measured:
        more = (one.state == VALUE) & (one.removed_kg > one.mass_kg * (1 + 1e-9))
        one.state[more], one.problem[more] = PROBLEM, DISAGREE


def charge_once(layout: Layout, measured: Sequence[Measured]) -> None:
    """Charge what one column took out of a row with several loads to the heaviest of them alone."""
    shared = {n for n in ("removed", "contamination") if n in layout.shared}
    if len(measured) < 2 or not shared:
        return
    masses = np.stack(
        [np.where(m.state == VALUE, np.nan_to_num(m.mass_kg), -1.0) for m in measured]
    )
    heaviest = masses.argmax(axis=0)
    for place, one in enumerate(measured):
        one.removed_kg[heaviest != place] = np.nan
