"""From a row to a mass: the first basis that applies, and the density each row rests on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import pandas as pd

from divert.convert.density import Measured, measured_densities
from divert.convert.naming import Meaning, coded, density_spreads
from divert.factors import FactorSet
from divert.factors.model import slug
from divert.ledger import BASES
from divert.site import Spread


@dataclass(frozen=True, slots=True)
class DensityInUse:
    """A density a row may rest on: its factor ``key``, basis, spread in kg/m³, and weigh-ins.

    ``own``: found or stated by the site itself, also in a factor file of its own.
    """

    key: str
    material: str
    condition: str
    basis: str
    spread: Spread
    measured: Measured | None
    published: Spread | None
    own: bool = True


def with_net(ledger: pd.DataFrame) -> pd.DataFrame:
    """Add net_kg: the net mass logged, else gross less count x tare (count 1 where none is given)."""
    count = np.where(ledger["count"].isna(), 1.0, ledger["count"])
    tare = np.where(ledger["tare_kg"].isna(), 0.0, ledger["tare_kg"])
    return ledger.assign(net_kg=ledger["mass_kg"].fillna(ledger["gross_kg"] - count * tare))


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
    kinds = len(conditions) + 1
    pair = ledger["meaning"].to_numpy() * kinds + ledger["condition"].cat.codes.to_numpy()
    pair = np.where(ledger["meaning"].to_numpy() < 0, -1, pair)
    codes, present = pd.factorize(pair)
    pairs = [(flat[p // kinds], conditions[p % kinds]) for p in present if p >= 0]
    spreads = density_spreads(pairs, factors)
    measured = measured_densities(
        ledger if teaching is None else teaching, {k: s for k, (s, _) in spreads.items()}
    )
    in_use = [_choose(m, c, spreads, measured, factors) for m, c in pairs]
    choice = iter(range(len(pairs)))
    number_of = np.array([next(choice) if p >= 0 else -1 for p in present] + [-1])
    usable = np.array([d is not None for d in in_use] + [False])
    number = number_of[codes]
    number = np.where(usable[number], number, -1)
    value = np.array([np.nan if d is None else d.spread.typical for d in in_use] + [np.nan])
    net = ledger["net_kg"].to_numpy()
    is_weighed = ~np.isnan(net)
    from_volume = ledger["volume_m3"].to_numpy() * value[number]
    number = np.where(is_weighed | np.isnan(from_volume), -1, number)
    basis_of = np.array([BASES.index(d.basis) if d else -1 for d in in_use] + [-1])
    basis = np.where(is_weighed, 0, basis_of[number])
    kept = [d or _NONE for d in in_use]
    out = ledger.assign(
        mass_kg=np.where(is_weighed, net, from_volume),
        basis=pd.Categorical.from_codes(basis, categories=list(BASES)),  # type: ignore[call-overload]
        factor=coded([d.key for d in kept], number),
        density_kg_m3=value[number],
        density_number=number,
    )
    return out, kept


_NONE = DensityInUse("", "", "", "", Spread(0, 0, 0), None, None)


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
