"""Words on a sheet of forms that hold no entry and say nothing of one: "Drop-off slip", "Thank you!"."""

from __future__ import annotations

from divert.ingest.cells.mark import is_total_label
from divert.ingest.grid import Cell
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import is_value
from divert.ingest.tables.context import Context, read_name
from divert.ingest.tables.heading_rows import is_amount, is_day


def is_quiet(cell: Cell, known: Known) -> bool:
    """Return whether a cell says nothing of a load: no number, day, amount, unit, name or kind."""
    if not isinstance(cell, str) or is_value(cell) or is_day(cell) or is_amount(cell, known):
        return False
    if bare(cell) == bare(known.site.name):
        return True
    said = read_name(cell, known)
    if said != Context(kind=said.kind) or said.kind not in ("", "intake"):
        return False
    return not known.names(cell) and not is_total_label(cell)
