"""A period's emissions, and what is said beside them: other horizons, other factors, a cross-check."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from divert.convert.workings import Workings
from divert.core.range import Range
from divert.figures import emissions as emit
from divert.figures.contract import Emissions, Screening
from divert.figures.grounds import Grounds
from divert.figures.screening import screening
from divert.figures.standing import emission_standing

SETS = ("us-2026", "uk-2024")


@dataclass(frozen=True, slots=True, eq=False)
class Climate:
    """Emissions of a period, kg CO2e.

    ``within`` by horizon in years; ``higher_docf`` the landfill avoided with the higher share of
    carbon that decays; ``fuel`` with its draws, for what a sponsor's share of it is.
    """

    emissions: Emissions
    within: Mapping[str, Range]
    higher_docf: float
    checks: tuple[Screening, ...]
    standing: Mapping[str, float]
    fuel: emit.Drawn


def climate_of(workings: Workings, at: Grounds) -> Climate:
    """Return the emissions of what was taken in."""
    site, factors = workings.site, workings.factors
    bound = emit.landfilled(at.parts, at.cells, site)
    landfill = emit.landfill_avoided(bound, site, factors)
    twenty = emit.landfill_avoided(bound, site, factors, horizon=20)
    composting = emit.process(at.parts, at.cells, site, factors)
    fuel = emit.fuel(workings.ledger, factors, at.start, at.end)
    emissions = emit.summed(landfill, composting, fuel)
    return Climate(
        emissions,
        {"20": twenty.range(), "100": emissions.landfill_avoided},
        emit.higher_docf(bound, factors),
        screening(at.parts, at.cells, site, factors, SETS),
        emission_standing(bound, factors),
        fuel,
    )
