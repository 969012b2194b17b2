"""One yard's figures with their draws, in whole milligrams: what its figures drop once they are ranges."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from divert.convert.amounts import Amounts, What, amounts, coefficients
from divert.convert.cells import Cells
from divert.convert.parts import Parts
from divert.convert.workings import Workings
from divert.core.period import Period
from divert.figures import emissions as emit
from divert.figures.around import around
from divert.figures.masses import basis_masses
from divert.figures.series import year_before
from divert.figures.stretches import DAY, Ints, Mask, first_of, inside, month_count
from divert.region.whole import Whole, milligrams, nothing, whole

# The masses that are drawn; received is their sum, to the milligram.
PARTS: tuple[What, ...] = ("diverted", "not claimed", "removed", "residue")
BY_MATERIAL: tuple[What, ...] = ("received", "diverted", "not claimed", "thrown away")
YEAR_BEFORE = "same_month_last_year"  # as the figures call it
OTHER = ""  # a material that is none of the built-in list's


@dataclass(frozen=True, slots=True, eq=False)
class YardFigures:
    """A yard's figures of a period with draws; keys as in divert.region.addend.Addend."""

    figures: Mapping[str, Whole]
    months: Mapping[tuple[str, str], Whole]
    materials: Mapping[tuple[str, str], Whole]
    bases: Mapping[str, int]


def figures_of_yard(workings: Workings, period: Period) -> YardFigures:
    """Return what a yard adds to its region's figures; zero where it has no entry in the period."""
    site, factors = workings.site, workings.factors
    cells = workings.cells(_days(workings, period))
    here = inside(cells, period.start, period.end)
    parts = emit.fates(cells, site, here)
    found = {f"mass.{what}": _one(parts.amounts(what)) for what in PARTS}
    bound = emit.landfilled(parts, cells, site)
    avoided = emit.landfill_avoided(bound, site, factors)
    soon = emit.landfill_avoided(bound, site, factors, horizon=20)
    composting = emit.process(parts, cells, site, factors)
    fuels = emit.fuel(workings.ledger, factors, period.start, period.end)
    for name, drawn in (
        ("emissions.landfill_avoided", avoided), ("emissions_within.20", soon),
        ("emissions.process", composting), ("emissions.fuel", fuels),
    ):  # fmt: skip
        found[name] = whole(drawn.central, drawn.draws)
    found[AGAIN] = _drawn_again(workings, period)
    return YardFigures(
        found,
        _by_month(cells, here, period, site.started),
        _by_material(parts, cells, workings),
        {name: milligrams(kg) for name, kg in basis_masses(cells, here).items()},
    )


AGAIN = "mass.diverted, own errors drawn again"


def _one(found: Amounts) -> Whole:
    return whole(float(found.central[0]), found.drawn[0])


def _drawn_again(workings: Workings, period: Period) -> Whole:
    """Return diverted mass with the yard's own errors drawn anew and all that yards share as before.

    What the two sums of a region have in common is what its yards share (Sobol', 1993: the
    estimator known as pick and freeze).
    """
    site = replace(workings.site, id=f"{workings.site.seed}, again")
    other = replace(workings, site=site)
    cells = other.cells(_days(workings, period))
    group = np.where(inside(cells, period.start, period.end), 0, -1)
    return _one(amounts(cells, coefficients(cells, "diverted"), group, 1))


def _by_month(
    cells: Cells, here: Mask, period: Period, started: dt.date
) -> dict[tuple[str, str], Whole]:
    """Return received and diverted mass by month of the period, and diverted a year before."""
    months = cells.starts.astype("datetime64[M]").astype(np.int64)[cells.stretch]
    out: dict[tuple[str, str], Whole] = {}
    for what in ("received", "diverted"):
        out |= _of_months(cells, what, what, here, months)
    before = inside(cells, *year_before(period.start, period.end))
    # A month of the year before in which the yard had begun and logged nothing is zero, not unknown.
    first = max(month_count(period.start), month_count(started) + 12)
    for month in range(first, month_count(period.end) + 1):
        out[f"{first_of(month):%Y-%m}", YEAR_BEFORE] = nothing()
    out |= _of_months(cells, "diverted", YEAR_BEFORE, before, months + 12)
    return out


def _of_months(
    cells: Cells, what: What, name: str, mask: Mask, months: Ints
) -> dict[tuple[str, str], Whole]:
    """Return one amount of each month, counted from 1970, that elements of a mask lie in."""
    met, group = np.unique(months[mask], return_inverse=True)
    places = np.full(len(months), -1, dtype=np.int64)
    places[mask] = group
    found = amounts(cells, coefficients(cells, what), places, len(met))
    return {
        (f"{first_of(int(month)):%Y-%m}", name): whole(float(central), drawn)
        for month, central, drawn in zip(met, found.central, found.drawn, strict=True)
    }


def _days(workings: Workings, period: Period) -> list[dt.date]:
    start, end = year_before(period.start, period.end)
    return [*around(workings, period).days, start, end + DAY]


def _by_material(parts: Parts, cells: Cells, workings: Workings) -> dict[tuple[str, str], Whole]:
    """Return masses by entry of the built-in list, whatever a yard calls it."""
    listed = {m.material.name: m.key for m in workings.meanings}
    keys = [listed.get(name, OTHER) for name in cells.materials]
    names = sorted(set(keys))
    group = np.array([names.index(key) for key in keys], dtype=np.int64)[parts.codes["material"]]
    out: dict[tuple[str, str], Whole] = {}
    for what in BY_MATERIAL:
        found = parts.amounts(what, group, len(names))
        for place, name in enumerate(names):
            if found.central[place] or found.drawn[place].any():
                out[name, what] = whole(float(found.central[place]), found.drawn[place])
    return out
