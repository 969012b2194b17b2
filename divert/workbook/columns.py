"""The columns of the Ledger sheet: what goes in, and what formulas make of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from divert.core.words import N_


@dataclass(frozen=True, slots=True)
class Column:
    """A column by its key (the name that formulas know it by), heading, kind and width."""

    key: str
    heading: str
    kind: Literal["text", "number", "date", "formula"]
    width: float = 10.0


INPUTS = (
    Column("line", N_("Line"), "number", 6),
    Column("kind", N_("Kind"), "text", 13),
    Column("date", N_("Date"), "date", 11),
    Column("source", N_("Source"), "text", 22),
    Column("material", N_("Material"), "text", 18),
    Column("condition", N_("Condition"), "text", 14),
    Column("container", N_("Container"), "text", 11),
    Column("found", N_("Words as found"), "text", 20),
    Column("file", N_("File"), "text", 18),
    Column("sheet", N_("Sheet"), "text", 12),
    Column("row", N_("Row"), "number", 6),
    Column("column", N_("Column"), "text", 7),
    Column("rows", N_("Entries in this line"), "number", 8),
    Column("count", N_("Count"), "number", 8),
    Column("container_m3", N_("Container, m³"), "number"),
    Column("fill", N_("Fill, share of brim-full"), "number"),
    Column("given_m3", N_("Volume given, m³"), "number"),
    Column("weighed_kg", N_("Weighed net, kg"), "number"),
    Column("gross_kg", N_("Weighed gross, kg"), "number"),
    Column("tare_kg", N_("Empty container, kg"), "number"),
    Column("basis", N_("Basis"), "text", 16),
    Column("factor", N_("Density used (key in Factors)"), "text", 26),
    Column("teaches", N_("Weigh-in for the density (key in Factors)"), "text", 26),
    Column("removed_given_kg", N_("Removed from it, kg"), "number"),
    Column("removed_share", N_("Removed from it, share"), "number"),
    Column("from_line", N_("Charged from line"), "number", 8),
    Column("share", N_("Share of that line"), "number"),
    Column("spread", N_("Shared out over"), "text", 18),
    Column("before", N_("Before: where it would have gone"), "text", 15),
    Column("decay_class", N_("Decay class"), "text", 10),
    Column("landfill", N_("Landfill settings, number"), "number", 8),
    Column("screening", N_("Cross-check class"), "text", 10),
    Column("name", N_("Name"), "text", 14),
    Column("amount", N_("Amount"), "number"),
    Column("unit", N_("Unit"), "text", 8),
    Column("currency", N_("Currency"), "text", 8),
    Column("destination", N_("Destination"), "text", 14),
)
OF_SPONSOR = (
    Column("own", N_("Supplied by this sponsor"), "text", 9),
    Column("funded", N_("Share this sponsor funded"), "number", 9),
)
NOTE = (Column("note", N_("Note"), "text", 24),)
MADE = (
    Column("volume_m3", N_("Volume, m³"), "formula"),
    Column("net_kg", N_("Net weight, kg"), "formula"),
    Column("density", N_("Density, kg/m³"), "formula"),
    Column("mass_kg", N_("Mass, kg"), "formula"),
    Column("received", N_("Received, kg"), "formula"),
    Column("own_net", N_("Received less removed from it, kg"), "formula"),
    Column("removed", N_("Removed, kg"), "formula"),
    Column("residue", N_("Residue, kg"), "formula"),
    Column("diverted", N_("Diverted, kg"), "formula"),
    Column("not_claimed", N_("Not claimed, kg"), "formula"),
    Column("landfill_avoided", N_("Landfill methane avoided, kg CO2e"), "formula"),
    Column("process", N_("Composting, kg CO2e"), "formula"),
    Column("fuel", N_("Fuel, kg CO2"), "formula"),
)
MADE_FOR_SPONSOR = (
    Column("supported", N_("Diverted that this sponsor supported, kg"), "formula"),
    Column("supported_landfill", N_("Of that, methane avoided, kg CO2e"), "formula"),
    Column("supported_process", N_("Of that, composting, kg CO2e"), "formula"),
)


def ledger_columns(*, for_sponsor: bool, notes: bool) -> tuple[Column, ...]:
    """Return the columns of a Ledger sheet in their order."""
    return (
        *INPUTS,
        *(OF_SPONSOR if for_sponsor else ()),
        *(NOTE if notes else ()),
        *MADE,
        *(MADE_FOR_SPONSOR if for_sponsor else ()),
    )
