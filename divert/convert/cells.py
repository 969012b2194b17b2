"""The ledger cut into cells: rows that share their every parameter, source, fate and stretch of time.

A range costs what its cells cost, however many rows they hold.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert import draws
from divert.convert.mass import DensityInUse
from divert.convert.shared_draws import shared_draws
from divert.convert.volume import FILL_BY_EYE
from divert.site import CLAIMED, Site

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
BY_EYE_SD = FILL_BY_EYE / math.sqrt(3)  # of a uniform error of an eighth either way


@dataclass(frozen=True, slots=True)
class Cells:
    """Elements of mass with what they share and what is their own.

    One entry per element: codes into ``sources``, ``materials``, ``befores``, ``classes``; ``stretch``
    numbers the stretches of time that ``starts`` opens; ``what`` 0 received, 1 removed, 2 residue;
    ``mass_kg``; ``sd_kg`` of its independent error with the ``offset`` and ``sign`` of its window in
    the pool; ``pair`` the row of ``shared`` (relative draws, shape (pairs, DRAWS)) it moves with.
    """

    sources: tuple[str, ...]
    materials: tuple[str, ...]
    befores: tuple[str, ...]
    classes: tuple[str, ...]
    starts: npt.NDArray[np.datetime64]
    source: Ints
    material: Ints
    before: Ints
    decay: Ints
    stretch: Ints
    what: Ints
    basis: Ints
    mass_kg: Floats
    sd_kg: Floats
    offset: Ints
    sign: Floats
    pair: Ints
    shared: Floats

    @property
    def claimed(self) -> npt.NDArray[np.bool_]:
        """Return a mask of elements that would have been thrown away."""
        return np.array([b in CLAIMED for b in self.befores] + [False])[self.before]


def cut_days(ledger: pd.DataFrame, extra: Sequence[dt.date]) -> npt.NDArray[np.datetime64]:
    """Return the first days of the stretches: every month met, and the extra days asked for."""
    days = np.array([np.datetime64(d, "D") for d in extra], dtype="datetime64[D]")
    cuts = [np.array(["0001-01-01"], dtype="datetime64[D]"), days]
    if len(ledger):
        first, last = (ledger["date"].agg(end).to_datetime64() for end in ("min", "max"))
        months = np.arange(first.astype("datetime64[M]"), last.astype("datetime64[M]") + 2)
        cuts.append(months.astype("datetime64[D]"))
    return np.unique(np.concatenate(cuts))


def make_cells(
    ledger: pd.DataFrame,
    spread: pd.DataFrame,
    densities: Sequence[DensityInUse],
    site: Site,
    extra_days: Sequence[dt.date] = (),
    kinds: Sequence[str] = ("intake",),
) -> Cells:
    """Cut converted rows of ``kinds`` and the ``spread`` charges into cells (masses in kg)."""
    # A load turned away or a harvest may be listed without a mass.
    wanted = (ledger["kind"].isin(list(kinds)) & ledger["mass_kg"].notna()).to_numpy()
    rows = ledger if wanted.all() else ledger[wanted]
    starts = cut_days(ledger, extra_days)
    levels = {
        "source": _levels(rows["source"], spread["source"]),
        "material": _levels(rows["material"], spread["material"]),
        "before": _levels(rows["before"], spread["before"]),
        "decay_class": _levels(rows["decay_class"], spread["decay_class"]),
    }
    origins = ledger.loc[spread["from_row"].to_numpy()]
    shared, (pair_of_row, pair_of_charge, weighed) = shared_draws(
        (rows, origins, _WEIGHED), densities, site
    )
    mass, variance = rows["mass_kg"].to_numpy(), _own_variance(rows, densities)
    columns = [
        _codes(rows[name], found) for name, found in levels.items()
    ]  # source, material, before, decay
    plain_columns = ["condition", "container", "basis"]
    parts = [*columns, *(rows[c].cat.codes.to_numpy().astype(np.int64) for c in plain_columns)]
    day = rows["date"].to_numpy().astype("datetime64[D]")
    stretch = np.searchsorted(starts, day, side="right") - 1
    parts += [stretch, pair_of_row]
    group, first = _group(parts)
    n = len(first)
    seeds = _seeds(rows, first, columns, levels, starts[stretch[first]], site)
    elements = [
        _element(
            first, columns, stretch, pair_of_row, rows, 0, _sums(group, mass, n),
            np.sqrt(_sums(group, variance, n)),
        )
    ]  # fmt: skip
    all_seeds = [seeds]
    # A share of a load errs with the load; what was weighed when it was picked out, with the scale.
    removed = rows["removed_kg"].fillna(0.0).to_numpy()
    by_share = rows["removed_by_share"].to_numpy(dtype=bool)
    of_load = variance * np.square(rows["removed_share"].fillna(0.0).to_numpy())
    for part, own, pair in (
        (removed * by_share, of_load * by_share, pair_of_row),
        (removed * ~by_share, None, np.repeat(weighed, len(rows))),
    ):
        kg = _sums(group, part, n)
        met = np.flatnonzero(kg > 0)
        sd = np.zeros(len(met)) if own is None else np.sqrt(_sums(group, own, n))[met]
        elements.append(_element(first[met], columns, stretch, pair, rows, 1, kg[met], sd))
        all_seeds.append(seeds[met])
    charged, charge_seeds = _charge_elements(
        spread, levels, starts, origins, densities, pair_of_charge, site
    )
    table = [np.concatenate(c) for c in zip(*elements, charged, strict=True)]
    offset, sign = draws.own_place(np.concatenate([*all_seeds, charge_seeds]))
    return Cells(
        tuple(levels["source"]), tuple(levels["material"]), tuple(levels["before"]),
        tuple(levels["decay_class"]), starts, table[0], table[1], table[2], table[3], table[4],
        table[5], table[6], table[7], table[8], offset, sign, table[9].astype(np.int64), shared,
    )  # fmt: skip


_WEIGHED = pd.DataFrame({"density_number": [-1], "fill_group": [-1]})


def _sums(group: Ints, weights: Floats, groups: int) -> Floats:
    return np.bincount(group, weights=weights, minlength=groups).astype(np.float64)


def _levels(rows: pd.Series[str], charged: pd.Series[str]) -> list[str]:
    inside = [str(c) for c in rows.cat.categories]
    return list(dict.fromkeys([*inside, *(str(c) for c in charged.dropna().unique()), ""]))


def _codes(column: pd.Series[str], levels: list[str]) -> Ints:
    place = {c: i for i, c in enumerate(levels)}
    table = np.array([place[str(c)] for c in column.cat.categories] + [place[""]], dtype=np.int64)
    return np.asarray(table[column.cat.codes.to_numpy()])


def _group(parts: list[Ints]) -> tuple[Ints, Ints]:
    """Return each row's cell number and the first row of each cell."""
    if not len(parts[0]):
        return np.zeros(0, np.int64), np.zeros(0, np.int64)
    code = np.zeros(len(parts[0]), np.int64)
    for part in parts:
        least = int(part.min())
        code = code * (int(part.max()) - least + 1) + (part - least)
    group, values = pd.factorize(code)
    first = np.full(len(values), -1, np.int64)
    first[group[::-1]] = np.arange(len(code) - 1, -1, -1)
    return group.astype(np.int64), first


def _element(
    first: Ints, columns: list[Ints], stretch: Ints, pair: Ints, rows: pd.DataFrame, what: int,
    mass: Floats, sd: Floats,
) -> list[np.ndarray]:  # fmt: skip
    basis = rows["basis"].cat.codes.to_numpy().astype(np.int64)
    return [
        *(c[first] for c in columns), stretch[first].astype(np.int64),
        np.full(len(first), what, np.int64), basis[first], mass, sd, pair[first],
    ]  # fmt: skip


def _own_variance(rows: pd.DataFrame, densities: Sequence[DensityInUse]) -> Floats:
    """Return each row's independent variance, kg²: fill read by eye, and loads about their mean."""
    mass = rows["mass_kg"].to_numpy()
    number = rows["density_number"].to_numpy()
    by_container = ~np.isnan(rows["fill_used"].to_numpy())
    read = (number >= 0) & by_container & (rows["fill_group"].to_numpy() < 0)
    fill = np.where(read, rows["fill_used"].to_numpy(), 1.0)
    relative = np.where(read, BY_EYE_SD / np.maximum(fill, 1e-9), 0.0) ** 2
    scatter = np.array([d.measured.load_scatter if d.measured else 0.0 for d in densities] + [0.0])
    out: Floats = mass**2 * (relative + scatter[number] ** 2)
    return out


def _hash(texts: Sequence[str]) -> npt.NDArray[np.uint64]:
    return pd.util.hash_array(np.array([*texts, ""], dtype=object), categorize=False)


def _mix(seed: npt.NDArray[np.uint64], more: npt.NDArray[np.uint64]) -> npt.NDArray[np.uint64]:
    """Return a hash of two hashes (the multiplicative mix of splitmix64; wraps on purpose)."""
    with np.errstate(over="ignore"):
        x = (seed * np.uint64(0x9E3779B97F4A7C15)) ^ more
        x = (x ^ (x >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        x = (x ^ (x >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
        return np.asarray(x ^ (x >> np.uint64(31)))


def _seeds(
    rows: pd.DataFrame, first: Ints, columns: list[Ints], levels: dict[str, list[str]],
    days: npt.NDArray[np.datetime64], site: Site,
) -> npt.NDArray[np.uint64]:  # fmt: skip
    """Return a hash of each cell's name: site, source, material, before, condition, container, basis,
    density, fill assumed, first day.

    Cells that differ in anything err apart, also where a change of settings or a period's end cuts
    a month in two.
    """
    seed = np.full(len(first), _hash([site.name])[0])
    for place, name in ((0, "source"), (1, "material"), (2, "before")):
        seed = _mix(seed, _hash(levels[name])[columns[place][first]])
    for name in ("condition", "container", "basis", "factor"):
        codes = rows[name].cat.codes.to_numpy()[first]
        seed = _mix(seed, _hash([str(c) for c in rows[name].cat.categories])[codes])
    brim_m3, fill, guessed = (
        rows[name].to_numpy()[first] for name in ("container_m3", "fill_used", "fill_group")
    )
    assumed_m3 = np.where(guessed >= 0, brim_m3 * fill, 0.0)
    seed = _mix(seed, assumed_m3.view(np.uint64))
    return _mix(seed, days.astype(np.int64).astype(np.uint64))


def _charge_elements(
    spread: pd.DataFrame, levels: dict[str, list[str]], starts: npt.NDArray[np.datetime64],
    origin: pd.DataFrame, densities: Sequence[DensityInUse], pair: Ints, site: Site,
) -> tuple[list[np.ndarray], npt.NDArray[np.uint64]]:  # fmt: skip
    if spread.empty:
        none = np.zeros(0, np.int64)
        return [none] * 7 + [np.zeros(0), np.zeros(0), none], np.zeros(0, np.uint64)
    columns = [
        np.array([levels[c].index(v if isinstance(v, str) else "") for v in spread[c]])
        for c in levels
    ]
    day = spread["date"].to_numpy().astype("datetime64[D]")
    sd = np.sqrt(_own_variance(origin, densities)) * spread["share"].to_numpy()
    what = np.where(spread["what"] == "removed", 1, 2)
    names = [
        f"{site.name}: {w} {d} {m} {f}"
        for w, d, m, f in zip(
            spread["what"], day.astype(str), origin["material"].astype(str), spread["from_row"],
            strict=True,
        )
    ]  # fmt: skip
    table = [
        *columns, np.searchsorted(starts, day, side="right") - 1, what,
        origin["basis"].cat.codes.to_numpy().astype(np.int64),
        spread["mass_kg"].to_numpy(dtype=float), sd,
        pair,
    ]  # fmt: skip
    return table, _hash(names)[:-1]
