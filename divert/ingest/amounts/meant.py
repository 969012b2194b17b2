"""What the numbers of a table may mean: how they are written, and the units that are said around them."""

from __future__ import annotations

from dataclasses import dataclass

from divert.ingest.cells.scan import Trade
from divert.ingest.cells.unit import Unit
from divert.ingest.known import Known
from divert.ingest.tables.context import Context


@dataclass(frozen=True)
class Meant:
    """``comma``: decimals follow a comma; ``table_unit``: the one of mass that the other headings name."""

    known: Known
    comma: bool
    context: Context
    table_unit: Unit | None

    __hash__ = object.__hash__

    @property
    def trade(self) -> Trade:
        """Return the site's words for units and containers, with this table's decimal mark."""
        return self.known.trade_with(self.comma)

    @property
    def unit(self) -> Unit | None:
        """Return the unit that is said around a column without one of its own."""
        return self.table_unit or self.context.unit
