"""What the result rests on, on the Method sheet: the share that numbers of each standing carry."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from divert.core.words import N_, Text
from divert.evidence.plan import SummaryLine
from divert.figures.standing import NAMES
from divert.workbook.cells import EVERY_FIGURE, Styles, put_formula, put_text

_HEADS = (
    N_("What the result rests on"), N_("Share of the mass received"),
    N_("Share of the landfill methane avoided, by the weakest number behind it"),
)  # fmt: skip


def write_standings(
    sheet: Any, row: int, lines: Sequence[SummaryLine], rows: Mapping[tuple[str, str], int],
    look: Styles, language: str,
) -> int:  # fmt: skip
    """Write a row for each standing, its shares as links to its figures; return the next free row.

    ``rows`` gives the row of each figure on the sheet of every figure, counted from 0. Of several sets the
    largest, the total, is told.
    """
    sets = {line.set for line in lines}
    of_set = "total" if "total" in sets else "period"
    values = {line.path: line.value for line in lines if line.set == of_set}
    paths = {name: _paths(name, values) for name in NAMES}
    told = {name: of for name, of in paths.items() if any(values.get(path) for path in of)}
    if not told:
        return row
    for place, head in enumerate(_HEADS):
        put_text(sheet, row, place, Text(head).say(language), look.heading)
    for name, of_name in told.items():
        row += 1
        put_text(sheet, row, 0, Text(NAMES[name]).say(language), look.text)
        for place, path in enumerate(of_name, start=1):
            if path in values:
                cell = f"'{EVERY_FIGURE}'!$F${rows[of_set, path] + 1}"
                put_formula(sheet, row, place, cell, look.formula, values[path])
    return row + 2


def _paths(name: str, values: Mapping[str, float]) -> tuple[str, str]:
    """Return the paths of a standing's two shares, as that sheet writes names with spaces."""
    found = []
    for what in ("mass", "landfill_avoided"):
        plain, quoted = f"standing.{what}.{name}", f"standing.{what}[{name}]"
        found.append(quoted if quoted in values else plain)
    return found[0], found[1]
