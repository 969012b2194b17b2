"""What a ledger's material names stand for: built-in entry, condition, decay class, fate."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert.columns import added
from divert.convert.dated import version_numbers
from divert.convert.volume import container_versions, version_met
from divert.core.names import plain
from divert.factors import FactorSet
from divert.site.model import CLAIMED, REQUIRED, Material, Required, Site, Source, Spread

NOT_STATED = "not stated"


@dataclass(frozen=True, slots=True)
class Meaning:
    """One dated version of a material, joined with the built-in list (``key`` "" where unknown)."""

    material: Material
    key: str
    decay_class: str
    usual_fate: str
    condition: str
    known: bool


def meanings(names: list[str], site: Site, factors: FactorSet) -> dict[str, list[Meaning]]:
    """Return each material name's meanings, oldest first; built-in names need no entry in site.toml."""
    stated: dict[str, list[Material]] = {}
    for material in sorted(site.materials, key=lambda m: (m.since is not None, m.since)):
        stated.setdefault(material.name, []).append(material)
    built_in: dict[str, str] = {}
    for entry in factors.materials.values():
        for spelling in (entry.key, entry.name, *entry.also):
            built_in.setdefault(plain(spelling), entry.key)
    out = {}
    for name in names:
        own = stated.get(name)
        guess = built_in.get(plain(name))
        if own is None:
            known = guess is not None
            out[name] = [_meaning(Material(name, like=guess), known, factors)]
        else:
            out[name] = [_meaning(_like(m, guess), True, factors) for m in own]
    return out


def _like(material: Material, guess: str | None) -> Material:
    return material if material.like else replace(material, like=guess)


def _meaning(material: Material, known: bool, factors: FactorSet) -> Meaning:
    entry = factors.materials.get(material.like or "")
    condition = material.condition or (entry.default_condition if entry else "") or "as received"
    return Meaning(
        material,
        entry.key if entry else "",
        (entry.decay_class or "") if entry else "",
        (entry.usual_fate or "") if entry else "",
        condition,
        known,
    )


def coded(values: list[str], codes: np.ndarray) -> pd.Categorical:
    """Return a categorical from strings that may repeat and a code per row (-1: missing)."""
    categories = list(dict.fromkeys(values))
    place = {c: i for i, c in enumerate(categories)}
    table = np.array([place[v] for v in values] + [-1])
    return pd.Categorical.from_codes(table[codes], categories=categories)  # type: ignore[call-overload,no-any-return]


def with_meaning(
    ledger: pd.DataFrame, site: Site, factors: FactorSet
) -> tuple[pd.DataFrame, list[Meaning]]:
    """Resolve condition, before and decay_class of every row; ``meaning`` numbers its meaning.

    Condition: the row's, else the container's, else the material's, else the list's default.
    Before: the row's, else the source's, else the material's, else the usual fate where that is a
    disposal; a usual fate that is none leaves the row unclaimed until the site says so.
    ``fate_assumed``: nobody but the list said so. What the law kept out of landfills anyhow goes by
    that name instead.
    """
    names = [str(c) for c in ledger["material"].cat.categories]
    known = meanings(names, site, factors)
    flat = [m for group in known.values() for m in group]
    starts = {n: [m.material.since for m in g] for n, g in known.items()}
    number = version_numbers(ledger["material"], ledger["date"].to_numpy(), starts)
    from_material = coded([m.condition for m in flat], number)
    containers = container_versions(site)
    from_container = coded([c.condition or "" for c in containers], version_met(ledger, containers))
    condition = _first(ledger["condition"].array, from_container, from_material)
    of_source, source_number = _source_before(ledger, site)
    said = _first(ledger["before"].array, of_source, _material_before(flat, number, usual=False))
    before = _first(said, _material_before(flat, number))
    must = _required([m.material.required_by_law for m in flat], number, ledger)
    must_too = _required([s.required_by_law for s in source_versions(site)], source_number, ledger)
    required = np.where(np.isnan(must_too), np.nan_to_num(must), must_too) > 0
    before = _by_law(before, required)
    out = added(
        ledger,
        meaning=number,
        condition=condition,
        before=before,
        fate_assumed=said.codes < 0,
        decay_class=coded([m.decay_class for m in flat], number),
    )
    return out, flat


def source_versions(site: Site) -> list[Source]:
    """Return every version of every source: one source after another, each oldest first."""
    by_name: dict[str, list[Source]] = {}
    for source in sorted(site.sources, key=lambda s: (s.since is not None, s.since)):
        by_name.setdefault(source.name, []).append(source)
    return [source for versions in by_name.values() for source in versions]


def _source_before(ledger: pd.DataFrame, site: Site) -> tuple[pd.Categorical, np.ndarray]:
    """Return what each row's source says became of it, and the number of the source's version."""
    versions = source_versions(site)
    starts: dict[str, list[dt.date | None]] = {}
    for source in versions:
        starts.setdefault(source.name, []).append(source.since)
    number = version_numbers(ledger["source"], ledger["date"].to_numpy(), starts)
    return coded([source.before or "" for source in versions], number), number


def _material_before(
    flat: list[Meaning], number: np.ndarray, *, usual: bool = True
) -> pd.Categorical:
    listed = [(m.usual_fate or NOT_STATED) if usual else "" for m in flat]
    return coded([m.material.before or u for m, u in zip(flat, listed, strict=True)], number)


def _required(
    said: Sequence[Required], number: np.ndarray, ledger: pd.DataFrame
) -> npt.NDArray[np.float64]:
    """Return 1 where the law kept a row's material out of landfills, 0 where not, NaN: nobody said."""
    always, never = dt.date.min, dt.date.max
    starts = [s if isinstance(s, dt.date) else always if s else never for s in said]
    days = np.array([*starts, never], dtype="datetime64[D]")[number]
    told = np.array([s is not None for s in said] + [False])[number]
    since = ledger["date"].to_numpy().astype("datetime64[D]") >= days
    return np.where(told, since.astype(float), np.nan)


def _by_law(before: pd.Categorical, required: npt.NDArray[np.bool_]) -> pd.Categorical:
    """Return the fates, of what would have been thrown away but for the law by that name."""
    claimed = np.array([c in CLAIMED for c in before.categories] + [False])[before.codes]
    if not (claimed & required).any():
        return before
    codes = np.where(claimed & required, len(before.categories), before.codes)
    return pd.Categorical.from_codes(codes, categories=[*before.categories, REQUIRED])  # type: ignore[call-overload,no-any-return]


def _first(*choices: pd.api.extensions.ExtensionArray) -> pd.Categorical:
    """Return row by row the first text that is there: not missing and not empty."""
    columns = [c if isinstance(c, pd.Categorical) else pd.Categorical(c) for c in choices]
    categories = list(
        dict.fromkeys(str(c) for column in columns for c in column.categories if str(c))
    )
    place = {c: i for i, c in enumerate(categories)}
    codes = np.full(len(columns[0]), -1)
    for column in columns:
        table = np.array([place.get(str(c), -1) for c in column.categories] + [-1])
        if (table >= 0).any():
            np.copyto(codes, table[column.codes], where=codes < 0)
    return pd.Categorical.from_codes(codes, categories=categories)  # type: ignore[call-overload,no-any-return]


def density_spreads(
    pairs: list[tuple[Meaning, str]], factors: FactorSet
) -> dict[tuple[str, str], tuple[Spread, str]]:
    """Return the published (spread in kg/m³, factor key) of each (material name, condition) it has."""
    out = {}
    for meaning, condition in pairs:
        if not meaning.key:
            continue
        factor = factors.density(meaning.key, condition) or factors.density(
            meaning.key, factors.materials[meaning.key].default_condition
        )
        if factor is not None:
            spread = Spread(factor.low, factor.value, factor.high)
            out[meaning.material.name, condition] = (spread, factor.key)
    return out
