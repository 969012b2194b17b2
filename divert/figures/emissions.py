"""Emissions of a period: landfill methane avoided less composting and fuel, with draws."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

import numpy as np
import pandas as pd

from divert.convert import draws
from divert.convert.amounts import Amounts
from divert.convert.cells import Cells
from divert.convert.emission_factors import (
    CLASSES,
    HEADLINE_YEARS,
    fuel_factor,
    landfill_factor,
    parameters,
    process_factor,
    process_parameters,
)
from divert.convert.parts import Parts, gathered
from divert.core.names import plain
from divert.core.range import Range
from divert.factors import FactorSet
from divert.figures.contract import Emissions
from divert.figures.days import of_kind
from divert.figures.stretches import Floats, Ints, Mask, matching
from divert.site.model import DONATED, Landfill, Site


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """One figure with its draws."""

    central: float
    draws: Floats

    def plus(self, other: Drawn, sign: float = 1.0) -> Drawn:
        """Return the sum (or with -1 the difference), draw by draw."""
        return Drawn(self.central + sign * other.central, self.draws + sign * other.draws)

    def times(self, factor: float) -> Drawn:
        """Return this figure times a number."""
        return Drawn(self.central * factor, self.draws * factor)

    def range(self, *, signed: bool = False) -> Range:
        """Return the central value with the ends of its 90 % interval and the mean of the draws.

        Unless ``signed`` it does not go below nothing where its central value does not.
        """
        low, high = (float(x) for x in draws.interval(self.draws))
        if not signed:
            low = max(low, min(self.central, 0.0))
        mean = float(self.draws.mean())
        return Range(self.central, min(low, self.central), max(high, self.central), mean)


NOTHING = Drawn(0.0, np.zeros(draws.DRAWS))


def versions(site: Site) -> list[Landfill]:
    """Return the landfill settings, oldest first."""
    return sorted(site.landfills, key=lambda v: v.since or dt.date.min)


def version_of(cells: Cells, site: Site) -> Ints:
    """Return the number of the landfill settings in force for each element."""
    later = np.array([v.since for v in versions(site)[1:]], dtype="datetime64[D]")
    return np.searchsorted(later, cells.starts, side="right").astype(np.int64)[cells.stretch]


def parameter_draws(
    site: Site, landfill: Landfill, decay_class: str, factors: FactorSet
) -> dict[str, Floats]:
    """Return one set of draws per parameter, seeded by its name (a site's own with the site's id)."""
    out = {}
    for name, spread in parameters(landfill, decay_class, factors).items():
        seed = _seed(name, site, factors)
        if name in (f"gas_captured.{decay_class}", "gas_captured.all"):
            seed = _gas_seed(name, site, landfill)
        out[name] = draws.triangular(seed, spread.low, spread.typical, spread.high)
    return out


def _gas_seed(name: str, site: Site, landfill: Landfill) -> str:
    """Return what seeds a stated gas capture: its landfill's name, for all the sites that use it."""
    if landfill.name:
        return f"landfill {plain(landfill.name)}: {name}"
    return f"{site.seed}: {name} {landfill.since or ''}"


def _seed(name: str, site: Site, factors: FactorSet) -> str:
    """Return what seeds a parameter: its name, with the site's where its factor file states it."""
    own = name in factors and factors.get(name).own
    return f"{site.seed}: {name}" if own else name


def fates(cells: Cells, site: Site, mask: Mask, weight: Floats | None = None) -> Parts:
    """Gather a mask of elements by material, before, decay class and landfill settings in force."""
    columns = {
        "material": (cells.material, len(cells.materials)),
        "before": (cells.before, len(cells.befores)),
        "decay": (cells.decay, len(cells.classes)),
        "version": (version_of(cells, site), len(site.landfills)),
    }
    return gathered(cells, columns, mask, weight)


@dataclass(frozen=True, slots=True, eq=False)
class Landfilled:
    """Diverted mass that was bound for the landfill, by (decay class, landfill settings)."""

    kinds: tuple[tuple[str, Landfill], ...]
    mass: Amounts


def landfilled(parts: Parts, cells: Cells, site: Site) -> Landfilled:
    """Return what of the fates of a period was bound for the landfill, kg with draws."""
    settings = versions(site)
    kinds = tuple((c, v) for c in CLASSES for v in settings)
    place = np.array([CLASSES.index(c) if c in CLASSES else -1 for c in cells.classes])
    known = place[parts.codes["decay"]]
    bound = matching(parts.codes["before"], cells.befores, ("landfill",)) & (known >= 0)
    group = np.where(bound, known * len(settings) + parts.codes["version"], -1)
    return Landfilled(kinds, parts.amounts("diverted", group, len(kinds)))


def bound_for_landfill(cells: Cells) -> Mask:
    """Return a mask of elements that would have gone to the landfill."""
    return matching(cells.before, cells.befores, ("landfill",))


def landfill_avoided(
    bound: Landfilled, site: Site, factors: FactorSet, horizon: float = HEADLINE_YEARS
) -> Drawn:
    """Return landfill methane avoided within ``horizon`` years, kg CO2e."""
    whole = NOTHING
    for number, (decay_class, landfill) in enumerate(bound.kinds):
        kg, drawn_kg = float(bound.mass.central[number]), bound.mass.drawn[number]
        if kg == 0 and not drawn_kg.any():
            continue
        central = landfill_factor(landfill, decay_class, factors, horizon=horizon)
        values = parameter_draws(site, landfill, decay_class, factors)
        drawn = landfill_factor(landfill, decay_class, factors, values, horizon=horizon)
        whole = whole.plus(Drawn(kg * float(central), drawn_kg * drawn))
    return whole


def higher_docf(bound: Landfilled, factors: FactorSet) -> float:
    """Return landfill methane avoided with the higher published DOCf, kg CO2e (the sensitivity)."""
    return sum(
        float(kg) * float(landfill_factor(landfill, c, factors, docf="higher"))
        for (c, landfill), kg in zip(bound.kinds, bound.mass.central, strict=True)
    )


def process(parts: Parts, cells: Cells, site: Site, factors: FactorSet) -> Drawn:
    """Return methane and nitrous oxide of composting, kg CO2e.

    Over received less removed, without what was donated as food.
    """
    donated = matching(parts.codes["before"], cells.befores, (DONATED,))
    settings = versions(site)
    mass = parts.amounts("fed", np.where(donated, -1, parts.codes["version"]), len(settings))
    values = {
        name: draws.triangular(_seed(name, site, factors), s.low, s.typical, s.high)
        for name, s in process_parameters(factors).items()
    }
    whole = NOTHING
    for number, landfill in enumerate(settings):
        central = float(process_factor(landfill, factors))
        drawn = process_factor(landfill, factors, values)
        whole = whole.plus(Drawn(float(mass.central[number]) * central, mass.drawn[number] * drawn))
    return whole


def fuel(ledger: pd.DataFrame, factors: FactorSet, start: dt.date, end: dt.date) -> Drawn:
    """Return carbon dioxide of the fuel recorded between two days, kg: litres x kg per litre."""
    rows = of_kind(ledger, "fuel", start, end)
    kg = sum(
        float(litres) * (fuel_factor(str(name), factors) or 0.0)
        for name, litres in rows.groupby("name", observed=True)["amount"].sum().items()
    )
    return Drawn(float(kg), np.full(draws.DRAWS, float(kg)))


def net_avoided(landfill: Drawn, composting: Drawn, fuels: Drawn) -> Drawn:
    """Return landfill methane avoided less composting and fuel, draw by draw; it may be negative."""
    return landfill.plus(composting, -1).plus(fuels, -1)


def summed(landfill: Drawn, composting: Drawn, fuels: Drawn) -> Emissions:
    """Return the emissions with their net."""
    net = net_avoided(landfill, composting, fuels)
    return Emissions(landfill.range(), composting.range(), fuels.range(), net.range(signed=True))
