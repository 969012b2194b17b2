"""The published and own numbers a period's figures rest on, with where each stands written."""

from __future__ import annotations

import datetime as dt

import numpy as np

from divert.convert.cells import Cells
from divert.convert.columns import of_names
from divert.convert.emission_factors import (
    COMPOSTING,
    factor_keys,
    fuel_key,
    gas_captured,
    gas_is_stated,
    warming_keys,
)
from divert.convert.workings import Workings
from divert.figures.contract import FactorUsed
from divert.figures.days import days_between, of_kind
from divert.figures.emissions import bound_for_landfill, version_of, versions
from divert.figures.stretches import inside


def factors_used(
    workings: Workings, cells: Cells, start: dt.date, end: dt.date
) -> tuple[FactorUsed, ...]:
    """Return every number behind the figures between two days.

    A density carries the share of received mass that rests on it; SI units.
    """
    return (
        *_densities(workings, start, end),
        *_emissions(workings, cells, start, end),
    )


def _densities(workings: Workings, start: dt.date, end: dt.date) -> list[FactorUsed]:
    ledger = workings.ledger
    here = days_between(ledger, start, end)
    names = ledger["factor"].cat.categories
    codes = ledger["factor"].cat.codes.to_numpy().astype(np.int64) + 1
    taken = here & of_names(ledger["kind"], ("intake",))
    mass = np.where(taken, ledger["mass_kg"].to_numpy(), 0.0)
    sums = np.bincount(codes, weights=mass, minlength=len(names) + 1)
    whole = float(sums.sum())
    shares = dict(zip(names, sums[1:].tolist(), strict=True))
    found = np.bincount(codes[here], minlength=len(names) + 1)[1:]
    met = {str(name) for name, count in zip(names, found, strict=True) if count} - {""}
    ranges = {(d.material, d.condition, d.basis): d for d in workings.densities}
    out = {}
    for density in workings.in_use:
        if density.key not in met or density.key in out:
            continue
        share = float(shares.get(density.key, 0.0)) / whole if whole else 0.0
        shown = ranges.get((density.material, density.condition, density.basis))
        low = shown.low if shown else density.spread.low
        high = shown.high if shown else density.spread.high
        if density.key in workings.factors:
            factor = workings.factors.get(density.key)
            source, standing = factor.source, factor.standing
        elif density.measured is not None:
            source, standing = f"this site's own weigh-ins ({density.measured.n} loads)", "measured"
        else:
            source, standing = "site.toml", "stated by the site"
        out[density.key] = FactorUsed(
            density.key, density.spread.typical, low, high, "kg/m3", source, standing, share
        )
    return sorted(out.values(), key=lambda f: (-(f.share or 0.0), f.key))


def _emissions(workings: Workings, cells: Cells, start: dt.date, end: dt.date) -> list[FactorUsed]:
    site, factors = workings.site, workings.factors
    here = inside(cells, start, end)
    bound = bound_for_landfill(cells) & here
    keys: dict[str, None] = {}
    own: list[FactorUsed] = []
    version = version_of(cells, site)
    for number, landfill in enumerate(versions(site)):
        in_force = here & (version == number)
        if not in_force.any():
            continue
        for code in np.unique(cells.decay[bound & in_force]):
            name = cells.classes[code]
            if not name:
                continue
            keys.update(dict.fromkeys(factor_keys(landfill, name, factors)))
            if gas_is_stated(landfill, name):
                gas = gas_captured(landfill, name, factors)
                since = f".{landfill.since}" if landfill.since else ""
                own.append(
                    FactorUsed(f"gas_captured.{name}{since}", gas.typical, gas.low, gas.high,
                               "share", "site.toml", "stated by the site")
                )  # fmt: skip
        keys.update(dict.fromkeys((*COMPOSTING, *warming_keys(landfill))))
    fuels = of_kind(workings.ledger, "fuel", start, end)
    for name in fuels["name"].dropna().unique():
        key = fuel_key(str(name))
        if key:
            keys[key] = None
    found = [factors.get(key) for key in keys]
    return [
        *(FactorUsed(f.key, f.value, f.low, f.high, f.unit, f.source, f.standing) for f in found),
        *own,
    ]
