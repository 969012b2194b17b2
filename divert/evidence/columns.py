"""The columns of the ledger of evidence: what goes in, and what is made of it, each declared once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from divert.convert.emission_factors import fuel_key
from divert.core.words import N_
from divert.evidence.expression import Bracketed, Less, Minus, Over, Whole, product
from divert.evidence.line_leaves import (
    PROCESS,
    Case,
    Condition,
    FactorOf,
    Of,
    OfLandfill,
    OfOrigin,
    before,
    decays,
    is_fuel,
    kind,
    known,
    made,
    named,
    not_before,
)
from divert.evidence.lines import CHARGED, REMOVED, RESIDUE
from divert.site.model import CLAIMED, DONATED


@dataclass(frozen=True, slots=True)
class LedgerColumn:
    """A column by its key (the name that formulas know it by), heading, kind and width.

    A column that is made holds what the first case that applies gives, else ``otherwise``.
    """

    key: str
    heading: str
    kind: Literal["text", "number", "date", "formula"]
    width: float = 10.0
    cases: tuple[Case, ...] = ()
    otherwise: float = float("nan")


INPUTS = (
    LedgerColumn("line", N_("Line"), "number", 6),
    LedgerColumn("kind", N_("Kind"), "text", 13),
    LedgerColumn("date", N_("Date"), "date", 11),
    LedgerColumn("source", N_("Source"), "text", 22),
    LedgerColumn("material", N_("Material"), "text", 18),
    LedgerColumn("condition", N_("Condition"), "text", 14),
    LedgerColumn("container", N_("Container"), "text", 11),
    LedgerColumn("found", N_("Words as found"), "text", 20),
    LedgerColumn("file", N_("File"), "text", 18),
    LedgerColumn("sheet", N_("Sheet"), "text", 12),
    LedgerColumn("row", N_("Row"), "number", 6),
    LedgerColumn("column", N_("Column"), "text", 7),
    LedgerColumn("rows", N_("Entries in this line"), "number", 8),
    LedgerColumn("count", N_("Count"), "number", 8),
    LedgerColumn("container_m3", N_("Container, m³"), "number"),
    LedgerColumn("fill", N_("Fill, share of brim-full"), "number"),
    LedgerColumn("given_m3", N_("Volume given, m³"), "number"),
    LedgerColumn("weighed_kg", N_("Weighed net, kg"), "number"),
    LedgerColumn("gross_kg", N_("Weighed gross, kg"), "number"),
    LedgerColumn("tare_kg", N_("Empty container, kg"), "number"),
    LedgerColumn("basis", N_("Basis"), "text", 16),
    LedgerColumn("factor", N_("Density used (key in Factors)"), "text", 26),
    LedgerColumn("teaches", N_("Weigh-in for the density (key in Factors)"), "text", 26),
    LedgerColumn("bulk", N_("Density for its volume (key in Factors)"), "text", 26),
    LedgerColumn("bulk_out", N_("Density for the volume harvested (key in Factors)"), "text", 26),
    LedgerColumn("removed_given_kg", N_("Removed from it, kg"), "number"),
    LedgerColumn("removed_share", N_("Removed from it, share"), "number"),
    LedgerColumn("from_line", N_("Charged from line"), "number", 8),
    LedgerColumn("share", N_("Share of that line"), "number"),
    LedgerColumn("spread", N_("Shared out over"), "text", 18),
    LedgerColumn("before", N_("Before: where it would have gone"), "text", 15),
    LedgerColumn("assumed", N_("Fate assumed, for nobody stated it"), "text", 9),
    LedgerColumn("decay_class", N_("Decay class"), "text", 10),
    LedgerColumn("landfill", N_("Landfill settings, number"), "number", 8),
    LedgerColumn("screening", N_("Cross-check class"), "text", 10),
    LedgerColumn("name", N_("Name"), "text", 14),
    LedgerColumn("amount", N_("Amount"), "number"),
    LedgerColumn("unit", N_("Unit"), "text", 8),
    LedgerColumn("currency", N_("Currency"), "text", 8),
    LedgerColumn("destination", N_("Destination"), "text", 14),
)
OF_SPONSOR = (
    LedgerColumn("own", N_("Supplied by this sponsor"), "text", 9),
    LedgerColumn("funded", N_("Share this sponsor funded"), "number", 9),
)
NOTE = (LedgerColumn("note", N_("Note"), "text", 24),)
_INTAKE, _HARVEST, _CHARGE = kind("intake"), kind("harvest"), kind(*CHARGED)
_CLAIMED, _NOT_CLAIMED = before(*CLAIMED), not_before(*CLAIMED)
_MASS = Of("mass_kg")
# What a load, or a charge to one, leaves over: received less removed and residue.
_KEPT = (
    Case(_INTAKE & made("removed"), Less(_MASS, Of("removed"))),
    Case(_INTAKE, _MASS),
    Case(_CHARGE, Minus(_MASS)),
)


def _where(condition: Condition, cases: tuple[Case, ...]) -> tuple[Case, ...]:
    return tuple(Case(condition & case.when, case.gives) for case in cases)


# In the order in which they are written. A column rests on inputs and on other columns of its line, a
# charge also on the mass of the line that it comes from (divert.evidence.derived knows the order).
MADE = (
    LedgerColumn("volume_m3", N_("Volume, m³"), "formula", cases=(
        Case(known("given_m3"), Of("given_m3")),
        Case(known("count", "container_m3", "fill"),
             product(Of("count"), Of("container_m3"), Of("fill"))),
    )),
    LedgerColumn("net_kg", N_("Net weight, kg"), "formula", cases=(
        Case(known("weighed_kg"), Of("weighed_kg")),
        Case(known("gross_kg", "tare_kg", "count"),
             Less(Of("gross_kg"), product(Of("tare_kg"), Whole(Of("count"))))),
        Case(known("gross_kg", "tare_kg"), Less(Of("gross_kg"), Of("tare_kg"))),
        Case(known("gross_kg"), Of("gross_kg")),
    )),
    LedgerColumn("density", N_("Density, kg/m³"), "formula", cases=(
        Case(named("factor"), FactorOf("factor")),
    )),
    LedgerColumn("mass_kg", N_("Mass, kg"), "formula", cases=(
        Case(known("net_kg"), Of("net_kg")),
        Case(known("volume_m3", "density"), product(Of("volume_m3"), Of("density"))),
        Case(_CHARGE, product(OfOrigin("mass_kg"), Of("share"))),
    )),
    LedgerColumn("bulk_m3", N_("Volume that went in, m³"), "formula", otherwise=0.0, cases=(
        Case(_INTAKE & not_before(DONATED) & known("volume_m3"), Of("volume_m3")),
        Case(_INTAKE & named("bulk") & known("mass_kg"), product(_MASS, Over(FactorOf("bulk")))),
    )),
    LedgerColumn("out_m3", N_("Volume harvested, m³"), "formula", otherwise=0.0, cases=(
        Case(_HARVEST & known("volume_m3"), Of("volume_m3")),
        Case(_HARVEST & named("bulk_out") & known("mass_kg"),
             product(_MASS, Over(FactorOf("bulk_out")))),
    )),
    LedgerColumn("received", N_("Received, kg"), "formula", cases=(Case(_INTAKE, _MASS),), otherwise=0.0),
    LedgerColumn("own_net", N_("Received less removed from it, kg"), "formula", otherwise=0.0,
           cases=_where(_INTAKE, _KEPT[:2])),
    LedgerColumn("removed", N_("Removed, kg"), "formula", otherwise=0.0, cases=(
        Case(_INTAKE & known("removed_given_kg"), Of("removed_given_kg")),
        Case(_INTAKE & known("removed_share"), product(Of("removed_share"), _MASS)),
        Case(kind(REMOVED), _MASS),
    )),
    LedgerColumn("residue", N_("Residue, kg"), "formula", cases=(Case(kind(RESIDUE), _MASS),),
           otherwise=0.0),
    LedgerColumn("diverted", N_("Diverted, kg"), "formula", otherwise=0.0,
           cases=_where(_CLAIMED, _KEPT)),
    LedgerColumn("not_claimed", N_("Not claimed, kg"), "formula", otherwise=0.0,
           cases=_where(_NOT_CLAIMED, _KEPT)),
    LedgerColumn("landfill_avoided", N_("Landfill methane avoided, kg CO2e"), "formula", otherwise=0.0,
           cases=(Case(before("landfill") & made("diverted") & decays(),
                       product(Of("diverted"), OfLandfill("within_100"))),)),
    LedgerColumn("process", N_("Composting, kg CO2e"), "formula", otherwise=0.0, cases=tuple(
        Case(not_before(DONATED) & kind("intake", REMOVED) & case.when,
             product(Bracketed(case.gives), OfLandfill(PROCESS)))
        for case in _KEPT)),
    LedgerColumn("fuel", N_("Fuel, kg CO2"), "formula", otherwise=0.0, cases=(
        Case(kind("fuel") & known("amount") & is_fuel("name"),
             product(Of("amount"), FactorOf("name", fuel_key))),
    )),
)  # fmt: skip


def _funded_part(of: str) -> tuple[Case, ...]:
    return (Case(made(of) & known("funded"), product(Of(of), Of("funded"))),)


MADE_FOR_SPONSOR = (
    LedgerColumn("supported", N_("Diverted that this sponsor supported, kg"), "formula",
           cases=_funded_part("diverted"), otherwise=0.0),
    LedgerColumn("supported_landfill", N_("Of that, methane avoided, kg CO2e"), "formula",
           cases=_funded_part("landfill_avoided"), otherwise=0.0),
    LedgerColumn("supported_process", N_("Of that, composting, kg CO2e"), "formula",
           cases=_funded_part("process"), otherwise=0.0),
)  # fmt: skip


def ledger_columns(*, for_sponsor: bool, notes: bool) -> tuple[LedgerColumn, ...]:
    """Return the columns of a Ledger sheet in their order."""
    return (
        *INPUTS,
        *(OF_SPONSOR if for_sponsor else ()),
        *(NOTE if notes else ()),
        *MADE,
        *(MADE_FOR_SPONSOR if for_sponsor else ()),
    )
