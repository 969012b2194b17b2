"""How much of the result rests on numbers of each standing: weighed, own, read, quoted, memory, proxy."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from divert.convert.emission_factors import factor_keys, landfill_factor
from divert.core.words import N_
from divert.factors import FactorSet
from divert.figures.contract import FactorUsed
from divert.figures.emissions import Landfilled

NAMES = {
    "weighed": N_("Weighed"),
    "measured": N_("This site's own weigh-ins"),
    "stated by the site": N_("Densities the site states"),
    "read": N_("Published value, read in its document"),
    "quoted": N_("Published value, seen as quoted"),
    "memory": N_("Published value, not yet checked against its table"),
    "proxy": N_("Stand-in, for want of a published value"),
}
WEAKEST_FIRST = ("proxy", "memory", "quoted", "read")
OWN = ("measured", "stated by the site")


def standing_shares(basis: Mapping[str, float], factors: Sequence[FactorUsed]) -> dict[str, float]:
    """Return the share of received mass by the standing of the density that it rests on.

    ``weighed`` for what rests on none; a published density goes by the standing of its typical
    value. The shares add up to 1 where anything was received.
    """
    out = dict.fromkeys(("weighed", *OWN, *reversed(WEAKEST_FIRST)), 0.0)
    out["weighed"] = basis.get("weighed", 0.0)
    for factor in factors:
        if factor.share is not None:
            out[typical_standing(factor.standing)] = (
                out.get(typical_standing(factor.standing), 0.0) + factor.share
            )
    return out


def emission_standing(bound: Landfilled, factors: FactorSet) -> dict[str, float]:
    """Return the share of landfill methane avoided by the weakest standing behind each class.

    The typical values of its decay, landfill and warming parameters; the densities have a table of
    their own. Empty where none is avoided.
    """
    kg: dict[str, float] = {}
    for (decay_class, landfill), mass in zip(bound.kinds, bound.mass.central, strict=True):
        avoided = float(mass) * float(landfill_factor(landfill, decay_class, factors))
        if avoided <= 0:
            continue
        keys = factor_keys(landfill, decay_class, factors)
        name = weakest([factors.get(key).typical_printed.standing for key in keys])
        kg[name] = kg.get(name, 0.0) + avoided
    whole = sum(kg.values())
    return {name: kg[name] / whole for name in reversed(WEAKEST_FIRST) if name in kg}


def typical_standing(told: str) -> str:
    """Return the standing of the typical value of "low memory; typical read; high memory"."""
    found = re.search(r"typical ([^;]+)", told)
    return found[1].strip() if found else told


def weakest(told: Sequence[str]) -> str:
    """Return the weakest of some standings, "" where there are none."""
    met = {typical_standing(one) for one in told}
    return next((one for one in WEAKEST_FIRST if one in met), "read" if met else "")
