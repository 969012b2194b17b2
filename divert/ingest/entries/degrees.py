"""Degrees of a process log: °F or °C as the cell says, else the heading; never guessed."""

from __future__ import annotations

import re

from divert.ingest.coded import Coded, constant, of_cells
from divert.ingest.sheet import as_text
from divert.ingest.tables.columns import Column

_DEGREES = re.compile(
    r"(?<![^\W\d_])(?:°|º|deg(?:rees?)?\.?)?\s*(f|c)(?:ahrenheit|elsius)?(?![^\W\d_])", re.I
)


def degrees(column: Column) -> Coded:
    """Return each cell's unit, "°F" or "°C", its heading's where the cell says none, else ""."""
    said = of_cells(column.cells, lambda cell: _said(as_text(cell)))
    return said.filled(constant(_said(column.head.text), len(column.cells.codes)))


def _said(text: str) -> str:
    found = _DEGREES.search(text)
    return f"°{found[1].upper()}" if found else ""
