"""What a number without a unit counts or weighs.

It takes its unit from its heading, else from the unit column, else from most of its own column's
cells, the table's other weights or its title; with none of these it is an unknown unit.
"""

from __future__ import annotations

import numpy as np

from divert.ingest.amounts.boxes import Boxes
from divert.ingest.amounts.column import VALUE, Amounts
from divert.ingest.amounts.meant import Meant
from divert.ingest.amounts.measured import Measured
from divert.ingest.amounts.unit_column import Units
from divert.ingest.arrays import Bools, Floats, Ints
from divert.ingest.cells import unit as unit_cell
from divert.ingest.cells.unit import Unit
from divert.ingest.tables.columns import Column


def factors_of(
    name: str,
    column: Column,
    amounts: Amounts,
    units: Units,
    boxes: Boxes,
    meant: Meant,
    out: Measured,
) -> tuple[Floats, Ints]:
    """Return what a bare number of each row is: a factor, and 1 mass, 2 volume, 3 count, 0 unknown."""
    rows = len(amounts.number)
    factor = np.ones(rows)
    dimension = np.zeros(rows, dtype=np.int8)
    bare_number = ~np.isnan(amounts.number)

    def give(where: Bools, value: Floats | float, what: int) -> None:
        open_ = where & (dimension == 0)
        factor[open_] = value[open_] if isinstance(value, np.ndarray) else value
        dimension[open_] = what

    def give_unit(unit: Unit | None, where: Bools) -> None:
        if unit is None:
            return
        if unit.asked:
            out.ask(unit.asked, where & bare_number & (dimension == 0))
        give(where, unit.factor, 1 if unit.dimension == "mass" else 2)

    everywhere = np.ones(rows, dtype=bool)
    heading = column.heading
    give_unit(heading.unit, everywhere)
    if name == "count" and not ((~np.isnan(units.mass)) | (~np.isnan(units.volume))).any():
        give(everywhere, 1.0, 3)
    by_row = ~np.isnan(units.mass) & (dimension == 0)
    out.note_asked(units.asked, bare_number & (by_row | ~np.isnan(units.volume)) & (dimension == 0))
    give(~np.isnan(units.mass), units.mass, 1)
    give(~np.isnan(units.volume), units.volume, 2)
    give(units.container != "", 1.0, 3)
    if name == "count":
        give(everywhere, 1.0, 3)
    if name == "quantity":
        give((boxes.name != "") | boxes.sized, 1.0, 3)
    # "2 whatsits" in a column without a unit of its own counts something: it weighs no 2 lb.
    counts_what = amounts.loose & (name == "quantity")
    unnamed = np.asarray(~counts_what) if counts_what.any() else everywhere
    if name in ("weight", "gross", "quantity"):
        own = _own_unit(amounts)
        if own is not None:
            give(unnamed, own[0], own[1])
    wanted = {"weight": "mass", "gross": "mass", "volume": "volume"}.get(name)
    for unit in (meant.table_unit, meant.context.unit):
        if unit is not None and (wanted is None or unit.dimension == wanted):
            give_unit(unit, unnamed)
    return factor, dimension


def _own_unit(amounts: Amounts) -> tuple[float, int] | None:
    """Return the unit that at least half of a column's cells write out, all the same one."""
    if "unit" not in amounts.says:
        return None
    written = amounts.unit[amounts.unit != ""]
    filled = int((amounts.state == VALUE).sum())
    if len(set(written)) != 1 or len(written) < 0.5 * filled:
        return None
    unit = unit_cell.read_cell(str(written[0]), unit_cell.Meaning())
    if unit is None or unit.asked:
        return None
    return unit.factor, 1 if unit.dimension == "mass" else 2
