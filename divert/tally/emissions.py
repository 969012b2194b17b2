"""Emissions of a period: landfill methane avoided less composting and fuel, with draws."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from divert.convert import draws
from divert.convert.amounts import Amounts, amounts, coefficients
from divert.convert.cells import Cells
from divert.convert.decay import DecayClass, methane
from divert.convert.emission_factors import (
    CLASSES,
    fuel_factor,
    landfill_factor,
    names,
    parameters,
    process_factor,
    process_parameters,
    released_methane,
)
from divert.factors import FactorSet
from divert.figures import Emissions, Range, Screening, YearMethane
from divert.site import Landfill, Site
from divert.tally.product import of_kind
from divert.tally.stretches import Floats, Ints, Mask

HORIZONS = (20, 100)
LITRES_PER_US_GALLON = 3.785411784


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

    def range(self) -> Range:
        """Return the central value with the ends of its 90 % interval."""
        low, high = (float(x) for x in np.quantile(self.draws, [0.05, 0.95]))
        return Range(self.central, min(low, self.central), max(high, self.central))


NOTHING = Drawn(0.0, np.zeros(draws.DRAWS))


def versions(site: Site) -> list[Landfill]:
    """Return the landfill settings, oldest first."""
    return sorted(site.landfills, key=lambda v: v.since or dt.date.min)


def version_of(cells: Cells, site: Site) -> Ints:
    """Return the number of the landfill settings in force for each element."""
    later = np.array([v.since for v in versions(site)[1:]], dtype="datetime64[D]")
    return np.searchsorted(later, cells.starts[cells.stretch], side="right").astype(np.int64)


def parameter_draws(
    site: Site, landfill: Landfill, decay_class: str, factors: FactorSet
) -> dict[str, Floats]:
    """Return one set of draws per parameter, seeded by its name (a site's own with the site's)."""
    out = {}
    for name, spread in parameters(landfill, decay_class, factors).items():
        seed = _seed(name, site, factors)
        if name in (f"gas_captured.{decay_class}", "gas_captured.all"):
            seed = f"{site.name}: {name} {landfill.since or ''}"
        out[name] = draws.triangular(seed, spread.low, spread.typical, spread.high)
    return out


def _seed(name: str, site: Site, factors: FactorSet) -> str:
    """Return what seeds a parameter: its name, with the site's where its factor file states it."""
    own = name in factors and factors.get(name).own
    return f"{site.name}: {name}" if own else name


def landfilled(
    cells: Cells, site: Site, mask: Mask, weight: Floats | None = None
) -> tuple[list[tuple[str, Landfill]], Amounts]:
    """Return diverted mass bound for the landfill by (decay class, landfill settings)."""
    settings = versions(site)
    wanted = [(c, v) for c in CLASSES for v in settings]
    bound = np.array([b == "landfill" for b in cells.befores] + [False])[cells.before]
    place = np.array([CLASSES.index(c) if c in CLASSES else -1 for c in cells.classes])
    known = place[cells.decay]
    group = np.where(
        mask & bound & (known >= 0), known * len(settings) + version_of(cells, site), -1
    )
    coefficient = coefficients(cells, "diverted")
    if weight is not None:
        coefficient = coefficient * weight
    return wanted, amounts(cells, coefficient, group, len(wanted))


def landfill_avoided(
    cells: Cells,
    site: Site,
    factors: FactorSet,
    mask: Mask,
    horizon: float = 100,
    weight: Floats | None = None,
) -> Drawn:
    """Return landfill methane avoided within ``horizon`` years, kg CO2e."""
    wanted, mass = landfilled(cells, site, mask, weight)
    whole = NOTHING
    for number, (decay_class, landfill) in enumerate(wanted):
        if mass.central[number] == 0 and not mass.drawn[number].any():
            continue
        central = landfill_factor(landfill, decay_class, factors, horizon=horizon)
        values = parameter_draws(site, landfill, decay_class, factors)
        drawn = landfill_factor(landfill, decay_class, factors, values, horizon=horizon)
        whole = whole.plus(
            Drawn(float(mass.central[number]) * float(central), mass.drawn[number] * drawn)
        )
    return whole


def higher_docf(cells: Cells, site: Site, factors: FactorSet, mask: Mask) -> float:
    """Return landfill methane avoided with the higher published DOCf, kg CO2e (the sensitivity)."""
    wanted, mass = landfilled(cells, site, mask)
    return sum(
        float(kg) * float(landfill_factor(landfill, c, factors, docf="higher"))
        for (c, landfill), kg in zip(wanted, mass.central, strict=True)
    )


def process(
    cells: Cells, site: Site, factors: FactorSet, mask: Mask, weight: Floats | None = None
) -> Drawn:
    """Return methane and nitrous oxide of composting, kg CO2e.

    Over received less removed, without what was donated as food.
    """
    donated = np.array([b == "donated as food" for b in cells.befores] + [False])[cells.before]
    sign = np.array([1.0, -1.0, 0.0])[cells.what]
    coefficient = sign if weight is None else sign * weight
    settings = versions(site)
    group = np.where(mask & ~donated, version_of(cells, site), -1)
    mass = amounts(cells, coefficient, group, len(settings))
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


def summed(landfill: Drawn, composting: Drawn, fuels: Drawn) -> tuple[Emissions, Drawn]:
    """Return the emissions with their net, and the net's draws."""
    net = landfill.plus(composting, -1).plus(fuels, -1)
    return Emissions(landfill.range(), composting.range(), fuels.range(), net.range()), net


def methane_by_year(
    cells: Cells, site: Site, factors: FactorSet, mask: Mask, horizon: int = 100
) -> tuple[YearMethane, ...]:
    """Return methane not released by calendar year, kg CH4, to the end of the horizon.

    Central values, with the six-month delay: nothing in the year of deposit. Each deposit is followed
    for ``horizon`` years, so that the years add up to the headline before the warming potential.
    """
    bound = np.array([b == "landfill" for b in cells.befores] + [False])[cells.before] & mask
    if not bound.any():
        return ()
    year = cells.starts[cells.stretch].astype("datetime64[Y]").astype(np.int64) + 1970
    first, last = int(year[bound].min()), int(year[bound].max())
    coefficient = coefficients(cells, "diverted") * cells.mass_kg
    made = np.zeros(last - first + horizon + 1)
    for c in CLASSES:
        of_class = bound & np.array([k == c for k in cells.classes])[cells.decay]
        for number, landfill in enumerate(versions(site)):
            here = of_class & (version_of(cells, site) == number)
            if not here.any():
                continue
            mass = np.bincount(
                year[here] - first, weights=coefficient[here], minlength=last - first + 1
            )
            name, typical = names(landfill, c), parameters(landfill, c, factors)
            unit = methane(
                [DecayClass(c, [1.0], typical[name.doc].typical, typical[name.k].typical)],
                years=horizon + 1,
                docf=typical[name.docf].typical,
                mcf=typical[name.mcf].typical,
                methane_share=typical[name.methane_share].typical,
                oxidation=typical[name.oxidation].typical,
                gas_captured=typical[name.gas_captured].typical,
            ).released
            for offset, kg in enumerate(mass):
                made[offset : offset + horizon + 1] += kg * unit
    return tuple(YearMethane(first + n, float(kg)) for n, kg in enumerate(made))


def released_per_kg(site: Site, factors: FactorSet, horizon: float = 100) -> dict[str, float]:
    """Return kg CH4 released per wet kg of each class under the latest landfill settings."""
    latest = versions(site)[-1]
    return {c: float(released_methane(latest, c, factors, horizon=horizon)) for c in CLASSES}


def screening(
    cells: Cells, site: Site, factors: FactorSet, mask: Mask, sets: Sequence[str]
) -> tuple[Screening, ...]:
    """Return landfill methane avoided by each published set's own factor, class by class.

    A cross-check, landfill against landfill, never a result.
    """
    bound = np.array([b == "landfill" for b in cells.befores] + [False])[cells.before] & mask
    signed = coefficients(cells, "diverted") * cells.mass_kg
    from divert.convert.naming import meanings

    rows: dict[str, float] = {}
    ours: dict[str, float] = {}
    known = meanings([m for m in cells.materials if m], site, factors)
    settings, version = versions(site), version_of(cells, site)
    for code, material in enumerate(cells.materials):
        here = bound & (cells.material == code)
        if not material or not here.any():
            continue
        entry = factors.materials.get(known[material][-1].key)
        if entry is None or not entry.screening or not entry.decay_class:
            continue
        rows[entry.screening] = rows.get(entry.screening, 0.0) + float(signed[here].sum())
        for number, landfill in enumerate(settings):
            kg = float(signed[here & (version == number)].sum())
            per_kg = float(landfill_factor(landfill, entry.decay_class, factors))
            ours[entry.screening] = ours.get(entry.screening, 0.0) + kg * per_kg
    out = []
    for set_ in sets:
        for class_, kg in sorted(rows.items()):
            row = factors.screening_row(set_, class_)
            if row is not None:
                out.append(
                    Screening(set_, class_, kg * row.landfilled, ours[class_], row.printed.citation)
                )
    return tuple(out)
