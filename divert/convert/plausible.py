"""Rows worth asking about: mass against volume, removed against mass."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert.bands import System, about, quantity
from divert.convert.columns import of_names
from divert.convert.grouping import grouped
from divert.convert.places import LISTED, each_row, place
from divert.convert.volume import FILL_BY_EYE, FILL_UNKNOWN
from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.factors import FactorSet
from divert.factors.model import EDGE
from divert.site.model import Spread

Floats = npt.NDArray[np.float64]
Published = Mapping[tuple[str, str], Spread]

# More odd loads of one material than this are one question about the material, not one a load.
ASK_ONE_BY_ONE = 10
# Away from food, where no band is kept, a density is odd below half the published low or above
# twice the high: the cut that measured densities get too.
FAR = 2.0
NEEDED = [
    "material", "condition", "decay_class", "fill", "fill_used", "found", "file", "sheet", "row",
    "column",
]  # fmt: skip


def heavier_than_water(
    ledger: pd.DataFrame, factors: FactorSet, system: System = "us"
) -> tuple[pd.Series[bool], list[Finding]]:
    """Return a mask of loads of food that weigh more than water would, and their findings.

    ``ledger``: material, net_kg, volume_m3 (as filled), fill, fill_used, decay_class, and each row's
    place and words. A fill that an eye read may have been an eighth fuller: only what is too heavy
    even then is one. It counts as weighed, is asked about, and teaches no density.
    """
    net, volume = ledger["net_kg"].to_numpy(), ledger["volume_m3"].to_numpy()
    food = of_names(ledger["decay_class"], ("food",))
    asked = np.flatnonzero(food & (net > 0) & (volume > 0))
    density = net[asked] / volume[asked]
    fills = ledger[["fill", "fill_used"]].iloc[asked]
    fullest = _an_eighth_fuller(fills, _between_fills(fills, density)[0])
    heavy = fullest > factors.bands["food-load"].ask[1] * (1 + EDGE)
    found = np.zeros(len(ledger), dtype=bool)
    found[asked[heavy]] = True
    mask = pd.Series(found, index=ledger.index, dtype=bool)
    return mask, _too_heavy(ledger[NEEDED].iloc[asked[heavy]], density[heavy], system)


def _an_eighth_fuller(loads: pd.DataFrame, density: Floats) -> Floats:
    """Return densities had the containers been an eighth fuller than a person wrote they were."""
    fill = loads["fill_used"].to_numpy()
    read = ~np.isnan(fill) & ~np.isnan(loads["fill"].to_numpy())
    return np.where(read, density * fill / (fill + FILL_BY_EYE), density)


def worth_asking(
    ledger: pd.DataFrame,
    factors: FactorSet,
    published: Published,
    system: System = "us",
) -> list[Finding]:
    """Return queries on densities far from any published one and on more removed than came.

    ``ledger``: as above with kind, condition, mass_kg, removed_kg and too_heavy (already asked
    about). ``published``: density range in kg/m³ by (material, condition).
    """
    net, volume = ledger["net_kg"].to_numpy(), ledger["volume_m3"].to_numpy()
    asked = np.flatnonzero((net > 0) & (volume > 0) & ~ledger["too_heavy"].to_numpy(dtype=bool))
    findings = []
    if len(asked):
        loads, density = ledger[NEEDED].iloc[asked], net[asked] / volume[asked]
        least, most = _between_fills(loads, density)
        low, high = _plausible_ends(loads, factors, published)
        odd = (most < low * (1 - EDGE)) | (least > high * (1 + EDGE))
        if odd.any():
            shown = loads[odd].assign(density=density[odd], low=low[odd], high=high[odd])
            findings += _odd_densities(shown, system)
    return findings + _more_removed_than_came(ledger, factors)


def _between_fills(loads: pd.DataFrame, density: Floats) -> tuple[Floats, Floats]:
    """Return the least and the greatest density a row can have had.

    A fill that nobody wrote down may have been the brim, or as low as is ever assumed: only what is
    too heavy or too light even then is held against the row. With a recorded fill both are one.
    """
    used = loads["fill_used"].to_numpy()
    guessed = np.flatnonzero(np.isnan(loads["fill"].to_numpy()) & ~np.isnan(used))
    used = used[guessed]
    fullest = np.fmax(FILL_UNKNOWN[2], used + FILL_BY_EYE)
    emptiest = np.fmin(FILL_UNKNOWN[0], np.fmax(used - FILL_BY_EYE, FILL_BY_EYE))
    least, most = density.copy(), density.copy()
    least[guessed] = density[guessed] * used / fullest
    most[guessed] = density[guessed] * used / emptiest
    return least, most


def _plausible_ends(
    loads: pd.DataFrame,
    factors: FactorSet,
    published: Published,
) -> tuple[Floats, Floats]:
    """Return the densities between which a row passes unasked, found per cell and not per row."""
    material = loads["material"].astype("category").cat
    condition = loads["condition"].astype("category").cat
    m, c = material.codes.to_numpy(), condition.codes.to_numpy()
    group, first = grouped([(m, len(material.categories)), (c, len(condition.categories))])
    names, states = [*material.categories, ""], [*condition.categories, ""]
    pairs = [(str(names[m[row]]), str(states[c[row]])) for row in first]
    ends = [published.get(pair) for pair in pairs]
    lows = np.array([np.nan if s is None else s.low for s in ends])
    highs = np.array([np.nan if s is None else s.high for s in ends])
    band = factors.bands["food-load"].ordinary
    is_food = of_names(loads["decay_class"].iloc[first], ("food",))
    low = np.where(is_food, np.fmin(band[0], lows), lows / FAR)
    high = np.where(is_food, np.fmax(band[1], highs), highs * FAR)
    return low[group], high[group]


def _name(value: object) -> str:
    return value if isinstance(value, str) else ""


def _too_heavy(loads: pd.DataFrame, density: Floats, system: System) -> list[Finding]:
    water = quantity(1000.0, "kg/m3", system)
    hint = Text(N_("Check the weight, its unit, how many containers there were and how full."))
    said = [
        (
            Text(
                N_(
                    "This load of {material} comes to {density}, and water is {water}. I counted its "
                    "weight and took no density from it."
                ),
                {
                    "material": _name(material),
                    "density": quantity(value, "kg/m3", system),
                    "water": water,
                },
            ),
            hint,
        )
        for material, value in zip(loads["material"].iloc[:LISTED], density.tolist(), strict=False)
    ]
    return each_row("query", "heavier than water allows", loads, said)


def _odd_densities(loads: pd.DataFrame, system: System) -> list[Finding]:
    findings = []
    for material, of_one in loads.groupby("material", observed=True):
        if len(of_one) <= ASK_ONE_BY_ONE:
            findings += _odd_one_by_one(of_one, system)
            continue
        where, first = place(of_one, 0), of_one.iloc[0]
        findings.append(
            Finding(
                "query",
                "implausible density",
                Text(
                    N_(
                        "{loads} loads of {material} are far from its usual density, which is "
                        "{low} to {high}; the first is at {where}."
                    ),
                    {
                        "loads": len(of_one),
                        "material": str(material),
                        "low": quantity(float(first["low"]), "kg/m3", system),
                        "high": quantity(float(first["high"]), "kg/m3", system),
                        "where": str(where),
                    },
                ),
                where,
                Text(N_("Check the container's volume and tare in site.toml, and the units.")),
                rows=len(of_one),
                name=str(material),
            )
        )
    return findings


def _odd_one_by_one(loads: pd.DataFrame, system: System) -> list[Finding]:
    hint = Text(N_("Check the weight, its unit, how many containers there were and how full."))
    columns = (loads[c].tolist() for c in ("material", "density", "low", "high"))
    said = [
        (
            Text(
                N_(
                    "This load of {material} comes to {density}; {low} to {high} would not surprise."
                ),
                {
                    "material": _name(material),
                    "density": quantity(density, "kg/m3", system),
                    "low": quantity(low, "kg/m3", system),
                    "high": quantity(high, "kg/m3", system),
                },
            ),
            hint,
        )
        for material, density, low, high in zip(*columns, strict=True)
    ]
    return each_row("query", "implausible density", loads, said)


def _more_removed_than_came(ledger: pd.DataFrame, factors: FactorSet) -> list[Finding]:
    removed, mass = ledger["removed_kg"].to_numpy(), ledger["mass_kg"].to_numpy()
    known = np.flatnonzero(~np.isnan(removed) & of_names(ledger["kind"], ("intake",)))
    with np.errstate(divide="ignore", invalid="ignore"):
        share = removed[known] / mass[known]
    over = share > factors.bands["contamination"].ask[1] * (1 + EDGE)
    if not over.any():
        return []
    hint = Text(N_("Check the weight removed and its unit."))
    said = [
        (
            Text(
                N_("More was removed from this load than came with it: {share} % of its weight."),
                {"share": about(value * 100)},
            ),
            hint,
        )
        for value in share[over][:LISTED].tolist()
    ]
    return each_row("query", "contamination high", ledger.iloc[known[over]], said)
