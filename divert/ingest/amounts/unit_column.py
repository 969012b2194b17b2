"""A column that names each row's unit, or its container."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from divert.ingest.amounts.boxes import container_of
from divert.ingest.amounts.measured import without_dittos
from divert.ingest.amounts.unit_in_name import unit_behind
from divert.ingest.arrays import Floats, Objects, blank_numbers, blank_texts
from divert.ingest.cells import unit as unit_cell
from divert.ingest.known import Known
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column

_NAMING = ("material", "source")


@dataclass(frozen=True)
class Units:
    """A unit column, row by row: kg or m³ in one, or a container's name."""

    mass: Floats
    volume: Floats
    container: Objects
    asked: Objects


def read_units(shared: Mapping[str, Column], rows: int, known: Known) -> Units:
    """Return what a unit column says of each row, or without one the name of what came: "Leaves (lb)"."""
    column = shared.get("unit") or next((c for c in map(shared.get, _NAMING) if c), None)
    if column is None:
        return Units(
            blank_numbers(rows),
            blank_numbers(rows),
            blank_texts(rows),
            blank_texts(rows),
        )
    cells = without_dittos(column.cells)
    size = len(cells.cells) + 1
    mass, volume = blank_numbers(size), blank_numbers(size)
    container, asked = blank_texts(size), blank_texts(size)
    for place, cell in enumerate(cells.cells):
        text = as_text(cell)
        if column.field != "unit":
            text = unit_behind(text, known)[1]
        unit = unit_cell.read_typed(text, known.trade.meaning)
        if unit is not None and known.containers.find(text) is None:
            (mass if unit.dimension == "mass" else volume)[place] = unit.factor
            asked[place] = unit.asked
        elif text:
            container[place] = container_of(text, known)[0]
    codes = cells.codes
    return Units(mass[codes], volume[codes], container[codes], asked[codes])
