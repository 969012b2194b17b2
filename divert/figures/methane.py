"""Methane not released, year by year, and per kilogram of each class: central values."""

from __future__ import annotations

import numpy as np

from divert.convert.amounts import coefficients
from divert.convert.cells import Cells
from divert.convert.decay import DecayClass, methane
from divert.convert.emission_factors import CLASSES, names, parameters, released_methane
from divert.factors import FactorSet
from divert.figures.contract import YearMethane
from divert.figures.emissions import bound_for_landfill, version_of, versions
from divert.figures.stretches import Floats, Mask
from divert.site.model import Landfill, Site


def methane_by_year(
    cells: Cells, site: Site, factors: FactorSet, mask: Mask, horizon: int = 100
) -> tuple[YearMethane, ...]:
    """Return methane not released by calendar year, kg CH4, to the end of the horizon.

    Central values, with the six-month delay: nothing in the year of deposit. Each deposit is followed
    for ``horizon`` years, so that the years add up to the headline before the warming potential.
    """
    bound = np.flatnonzero(bound_for_landfill(cells) & mask)
    if not len(bound):
        return ()
    settings = versions(site)
    year = cells.starts.astype("datetime64[Y]").astype(np.int64)[cells.stretch[bound]] + 1970
    first, count = int(year.min()), int(year.max() - year.min()) + 1
    # What decays in no class lands in the last row, and makes none.
    place = [CLASSES.index(c) if c in CLASSES else len(CLASSES) for c in cells.classes]
    kind = np.array(place)[cells.decay[bound]] * len(settings) + version_of(cells, site)[bound]
    mass = np.bincount(
        kind * count + year - first,
        weights=coefficients(cells, "diverted")[bound] * cells.mass_kg[bound],
        minlength=(len(CLASSES) + 1) * len(settings) * count,
    ).reshape(len(CLASSES) + 1, len(settings), count)
    made = np.zeros(count + horizon)
    for decay_class, of_settings in zip(CLASSES, mass, strict=False):
        for landfill, by_year in zip(settings, of_settings, strict=True):
            if by_year.any():
                unit = _released(landfill, decay_class, factors, horizon + 1)
                for offset, kg in enumerate(by_year):
                    made[offset : offset + horizon + 1] += kg * unit
    return tuple(YearMethane(first + n, float(kg)) for n, kg in enumerate(made))


def _released(landfill: Landfill, decay_class: str, factors: FactorSet, years: int) -> Floats:
    """Return kg CH4 released per wet kg of a class in each year from its deposit on."""
    name, typical = names(landfill, decay_class), parameters(landfill, decay_class, factors)
    return methane(
        [DecayClass(decay_class, [1.0], typical[name.doc].typical, typical[name.k].typical)],
        years=years,
        docf=typical[name.docf].typical,
        mcf=typical[name.mcf].typical,
        methane_share=typical[name.methane_share].typical,
        oxidation=typical[name.oxidation].typical,
        gas_captured=typical[name.gas_captured].typical,
    ).released


def released_per_kg(site: Site, factors: FactorSet, horizon: float = 100) -> dict[str, float]:
    """Return kg CH4 released per wet kg of each class under the latest landfill settings."""
    latest = versions(site)[-1]
    return {c: float(released_methane(latest, c, factors, horizon=horizon)) for c in CLASSES}
