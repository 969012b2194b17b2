"""From a row to a mass: the first basis that applies, and the density each row rests on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from divert.convert.columns import added
from divert.convert.density import LOAD_SCATTER, Measured, measured_densities, widened
from divert.convert.grouping import grouped
from divert.convert.naming import Meaning, coded, density_spreads
from divert.core.ledger import BASES, whole_containers
from divert.factors import FactorSet
from divert.factors.model import slug
from divert.site.model import Spread


@dataclass(frozen=True, slots=True)
class DensityInUse:
    """A density a row may rest on: its factor ``key``, basis, spread in kg/m³, and weigh-ins.

    ``own``: found or stated by the site itself, also in a factor file of its own. ``load_scatter``:
    the relative standard deviation of one load about the material's mean.
    """

    key: str
    material: str
    condition: str
    basis: str
    spread: Spread
    measured: Measured | None
    published: Spread | None
    own: bool = True
    load_scatter: float = LOAD_SCATTER


def with_net(ledger: pd.DataFrame) -> pd.DataFrame:
    """Add net_kg: the net mass logged, else gross less count x tare (count 1 where none is given).

    Two and a half totes on the scale are three totes, one of them half full: whole containers count.
    """
    net, gross = ledger["mass_kg"].to_numpy(), ledger["gross_kg"].to_numpy()
    only_gross = np.flatnonzero(np.isnan(net) & ~np.isnan(gross))
    if len(only_gross):
        count = ledger["count"].to_numpy()[only_gross]
        tare = ledger["tare_kg"].to_numpy()[only_gross]
        empty = np.where(np.isnan(count), 1.0, whole_containers(count)) * np.where(
            np.isnan(tare), 0.0, tare
        )
        net = net.copy()
        net[only_gross] = gross[only_gross] - empty
    return added(ledger, net_kg=net)


def with_mass(
    ledger: pd.DataFrame,
    flat: list[Meaning],
    factors: FactorSet,
    teaching: pd.DataFrame | None = None,
) -> tuple[pd.DataFrame, list[DensityInUse]]:
    """Add mass_kg, basis, factor, density_kg_m3 and density_number to a ledger.

    ``teaching``: a ledger with net_kg, volume_m3 and fill_group whose weigh-ins set the measured
    densities (default: the ledger's own). ``density_number`` counts the returned densities; -1 for a
    weighed row and for one whose mass cannot be found.
    """
    conditions = [str(c) for c in ledger["condition"].cat.categories]
    meaning = ledger["meaning"].to_numpy()
    condition = ledger["condition"].cat.codes.to_numpy()
    group, first = grouped([(meaning, len(flat)), (condition, len(conditions))])
    # Densities are numbered as the rows first meet them, whatever their names.
    known = [int(g) for g in np.argsort(first) if meaning[first[g]] >= 0]
    pairs = [(flat[meaning[first[g]]], conditions[condition[first[g]]]) for g in known]
    spreads = density_spreads(pairs, factors)
    measured = measured_densities(
        ledger if teaching is None else teaching, {k: s for k, (s, _) in spreads.items()}
    )
    scatter = _scatters(measured)
    in_use = [
        replace(
            _choose(m, c, spreads, measured, factors) or _NONE,
            load_scatter=scatter.get(
                (m.material.name, c), scatter.get((m.material.name, ""), LOAD_SCATTER)
            ),
        )
        for m, c in pairs
    ]
    number_of = np.full(len(first), -1)
    for place, density in enumerate(in_use):
        if density.key:
            number_of[known[place]] = place
    number = number_of[group]
    value = np.array([d.spread.typical for d in in_use] + [np.nan])
    net = ledger["net_kg"].to_numpy()
    is_weighed = ~np.isnan(net)
    from_volume = ledger["volume_m3"].to_numpy() * value[number]
    number[is_weighed | np.isnan(from_volume)] = -1
    basis_of = np.array([BASES.index(d.basis) if d.basis else -1 for d in in_use] + [-1], "int8")
    basis = basis_of[number]
    basis[is_weighed] = 0
    out = added(
        ledger,
        mass_kg=np.where(is_weighed, net, from_volume),
        basis=pd.Categorical.from_codes(basis, categories=list(BASES)),  # type: ignore[call-overload]
        factor=coded([d.key for d in in_use], number),
        density_kg_m3=value[number],
        density_number=number,
    )
    return out, in_use


_NONE = DensityInUse("", "", "", "", Spread(0, 0, 0), None, None)


def _scatters(measured: Mapping[tuple[str, str], Measured]) -> dict[tuple[str, str], float]:
    """Return how loads scatter by (material, condition), and by (material, "") of its most weigh-ins."""
    by_count = sorted(measured.items(), key=lambda item: (item[1].n, item[0]))
    known = {pair: found.load_scatter * widened(found.n) for pair, found in by_count}
    return {(material, ""): scatter for (material, _), scatter in known.items()} | known


def _choose(
    meaning: Meaning,
    condition: str,
    published: Mapping[tuple[str, str], tuple[Spread, str]],
    measured: Mapping[tuple[str, str], Measured],
    factors: FactorSet,
) -> DensityInUse | None:
    name = meaning.material.name
    spread, key = published.get((name, condition), (None, ""))
    place = f"{slug(name)}.{slug(condition)}"
    own = measured.get((name, condition))
    if own is not None:
        shown = Spread(own.rho, own.rho, own.rho)  # its range comes from the draws
        return DensityInUse(
            f"measured.{place}", name, condition, "measured density", shown, own, spread
        )
    if meaning.material.density is not None:
        since = meaning.material.since
        key = f"stated.{place}" + (f".{since}" if since else "")
        return DensityInUse(
            key, name, condition, "stated density", meaning.material.density, None, spread
        )
    if spread is not None:
        own_file = factors.get(key).own
        return DensityInUse(
            key, name, condition, "published density", spread, None, spread, own_file
        )
    return None
