"""The ledger cut into cells: rows that share their every parameter, source, fate and stretch of time.

A range costs what its cells cost, however many rows they hold.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert import draws
from divert.convert.columns import of_names
from divert.convert.grouping import grouped
from divert.convert.mass import DensityInUse
from divert.convert.own_errors import own_variance, read_kg
from divert.convert.seeds import hashed, mixed
from divert.convert.shared_draws import eye_bias, shared_draws
from divert.core.ledger import BASES
from divert.site.model import CLAIMED, Site

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Cells:
    """Elements of mass with what they share and what is their own.

    One entry per element: codes into ``sources``, ``materials``, ``befores``, ``classes``; ``stretch``
    numbers the stretches of time that ``starts`` opens; ``what`` 0 received, 1 removed, 2 residue;
    ``mass_kg``; ``sd_kg`` of its independent error with the ``offset`` and ``sign`` of its window in
    the pool; ``pair`` the row of ``shared`` (relative draws, shape (pairs, DRAWS)) it moves with;
    ``eye_kg`` what it would gain per brim-full fraction that the eye's bias adds to every fill
    (mass over fill of what an eye read), the bias drawn in ``eye``, shape (DRAWS,).
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
    eye_kg: Floats
    eye: Floats

    @property
    def claimed(self) -> npt.NDArray[np.bool_]:
        """Return a mask of elements that would have been thrown away."""
        return np.array([b in CLAIMED for b in self.befores] + [False])[self.before]


def cut_days(ledger: pd.DataFrame, extra: Sequence[dt.date]) -> npt.NDArray[np.datetime64]:
    """Return the first days of the stretches: every month met, and the extra days asked for."""
    days = np.array([np.datetime64(d, "D") for d in extra], dtype="datetime64[D]")
    cuts = [np.array(["0001-01-01"], dtype="datetime64[D]"), days]
    if len(ledger):
        met = ledger["date"].to_numpy()
        first, last = met.min().astype("datetime64[M]"), met.max().astype("datetime64[M]")
        cuts.append(np.arange(first, last + 2).astype("datetime64[D]"))
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
    starts = cut_days(ledger, extra_days)
    rows = _wanted(ledger, kinds)
    origins = ledger.loc[spread["from_row"].to_numpy()]
    shared, (pair_of_row, pair_of_charge, weighed) = shared_draws(
        (rows, origins, _WEIGHED), densities, site
    )
    levels = {name: _levels(rows[name], spread[name]) for name in NAMED}
    cut = _cut(rows, levels, starts, pair_of_row)
    seeds = cut.seeds(rows, levels, starts, site)
    variance = own_variance(rows, densities)
    read = read_kg(rows)
    tables = [
        cut.elements(0, cut.sums(rows["mass_kg"].to_numpy()), cut.sums(variance), cut.sums(read))
    ]
    # A share of a load errs with the load; what was weighed when it was picked out, with the scale.
    removed, share = (rows[c].to_numpy() for c in ("removed_kg", "removed_share"))
    by_share = rows["removed_by_share"].to_numpy(dtype=bool)
    some = np.flatnonzero(removed > 0)
    for at, pair in ((some[by_share[some]], None), (some[~by_share[some]], int(weighed[0]))):
        own, seen = np.zeros(len(at)), np.zeros(len(at))
        if pair is None:
            own, seen = variance[at] * np.square(share[at]), read[at] * share[at]
        tables.append(
            cut.elements(1, cut.sums(removed[at], at), cut.sums(own, at), cut.sums(seen, at), pair)
        )
    charged, charge_seeds = _charge_elements(
        spread, levels, starts, origins, densities, pair_of_charge, site
    )
    cells = [table.pop() for table in tables]  # which cell each element is of
    table = [np.concatenate(c) for c in zip(*tables, charged, strict=True)]
    offset, sign = draws.own_place(np.concatenate([*(seeds[c] for c in cells), charge_seeds]))
    return Cells(
        tuple(levels["source"]), tuple(levels["material"]), tuple(levels["before"]),
        tuple(levels["decay_class"]), starts, table[0], table[1], table[2], table[3], table[4],
        table[5], table[6], table[7], table[8], offset, sign, table[10].astype(np.int64), shared,
        table[9], eye_bias(site.seed),
    )  # fmt: skip


NAMED = ("source", "material", "before", "decay_class")
USED = [
    *NAMED, "date", "condition", "container", "basis", "factor", "mass_kg", "removed_kg",
    "removed_share", "removed_by_share", "density_number", "fill_group", "fill_used", "container_m3",
]  # fmt: skip
_WEIGHED = pd.DataFrame({"density_number": [-1], "fill_group": [-1]})


def _wanted(ledger: pd.DataFrame, kinds: Sequence[str]) -> pd.DataFrame:
    # A load turned away or a harvest may be listed without a mass.
    wanted = of_names(ledger["kind"], kinds) & ~np.isnan(ledger["mass_kg"].to_numpy())
    return ledger if wanted.all() else ledger[USED].iloc[np.flatnonzero(wanted)]


@dataclass(frozen=True, slots=True)
class _Cut:
    """Rows put into cells: ``cell`` of each row, and of each cell its ``sort`` and ``stretch``.

    A sort is what cells share but for the time: ``first`` is a row of each, ``columns`` its codes
    (source, material, before, decay class, basis, pair).
    """

    cell: Ints
    sort: Ints
    stretch: Ints
    first: Ints
    columns: tuple[Ints, ...]

    def sums(self, values: Floats, rows: Ints | None = None) -> Floats:
        """Return the sum of a value over the rows of each cell, or over some ``rows`` of them."""
        cell = self.cell if rows is None else self.cell[rows]
        return np.bincount(cell, weights=values, minlength=len(self.sort)).astype(np.float64)

    def elements(
        self, what: int, mass_kg: Floats, variance: Floats, eye_kg: Floats, pair: int | None = None
    ) -> list[np.ndarray]:
        """Return the columns of the elements with a mass, and last the cell of each."""
        met = np.arange(len(self.sort)) if what == 0 else np.flatnonzero(mass_kg > 0)
        source, material, before, decay, basis, shared = (c[self.sort[met]] for c in self.columns)
        return [
            source, material, before, decay, self.stretch[met], np.full(len(met), what, np.int64),
            basis, mass_kg[met], np.sqrt(variance[met]), eye_kg[met],
            shared if pair is None else np.full(len(met), pair), met,
        ]  # fmt: skip

    def seeds(
        self, rows: pd.DataFrame, levels: dict[str, list[str]],
        starts: npt.NDArray[np.datetime64], site: Site,
    ) -> npt.NDArray[np.uint64]:  # fmt: skip
        """Return a hash of each cell's name: site, source, material, before, condition, container,
        basis, density, fill assumed, first day.

        Cells that differ in anything err apart, also where a change of settings or a period's end
        cuts a month in two.
        """
        seed = np.full(len(self.first), hashed([site.seed])[0])
        for place, name in enumerate(("source", "material", "before")):
            seed = mixed(seed, hashed(levels[name])[self.columns[place]])
        head = rows.iloc[self.first]
        for name in ("condition", "container", "basis", "factor"):
            names = hashed([str(c) for c in head[name].cat.categories])
            seed = mixed(seed, names[head[name].cat.codes.to_numpy()])
        brim_m3, fill, guessed = (
            head[name].to_numpy() for name in ("container_m3", "fill_used", "fill_group")
        )
        seed = mixed(seed, np.where(guessed >= 0, brim_m3 * fill, 0.0).view(np.uint64))
        days = starts.astype(np.int64).astype(np.uint64)
        return mixed(seed[self.sort], days[self.stretch])


def _cut(
    rows: pd.DataFrame, levels: dict[str, list[str]], starts: npt.NDArray[np.datetime64], pair: Ints
) -> _Cut:
    named = [_codes(rows[name], levels[name]) for name in NAMED]
    basis = rows["basis"].cat.codes.to_numpy()
    # A weighed load has no error of its own, so where and in what it came tells no cells apart.
    by_volume = rows["density_number"].to_numpy() >= 0
    apart = [rows[name].cat for name in ("condition", "container")]
    sort, first = grouped(
        [
            *((np.where(by_volume, c.codes.to_numpy(), -1), len(c.categories)) for c in apart),
            (basis, len(BASES)), (pair, int(pair.max(initial=0)) + 1),
            *((codes, len(levels[name])) for name, codes in zip(NAMED, named, strict=True)),
        ]
    )  # fmt: skip
    stretch = _stretches(rows["date"].to_numpy(), starts)
    cell, first_row = grouped([(stretch, len(starts)), (sort, len(first))])
    columns = tuple(c[first].astype(np.int64) for c in (*named, basis, pair))
    return _Cut(cell, sort[first_row], stretch[first_row], first, columns)


def _stretches(
    dates: npt.NDArray[np.datetime64], starts: npt.NDArray[np.datetime64]
) -> npt.NDArray[np.int64]:
    """Return the number of the stretch that holds each date."""
    if not len(dates):
        return np.zeros(0, dtype=np.int64)
    day = dates.astype("datetime64[s]").view(np.int64) // SECONDS
    first, last = int(day.min()), int(day.max())
    days = np.arange(first, last + 1).astype("datetime64[D]")
    return np.asarray((np.searchsorted(starts, days, side="right") - 1)[day - first])


SECONDS = 24 * 60 * 60


def _levels(rows: pd.Series[str], charged: pd.Series[str]) -> list[str]:
    inside = [str(c) for c in rows.cat.categories]
    return list(dict.fromkeys([*inside, *(str(c) for c in charged.dropna().unique()), ""]))


def _codes(column: pd.Series[Any], levels: list[str]) -> Ints:
    place = {c: i for i, c in enumerate(levels)}
    table = np.array([place[str(c)] for c in column.cat.categories] + [place[""]], dtype=np.int64)
    return np.asarray(table[column.cat.codes.to_numpy()])


def _charge_elements(
    spread: pd.DataFrame, levels: dict[str, list[str]], starts: npt.NDArray[np.datetime64],
    origin: pd.DataFrame, densities: Sequence[DensityInUse], pair: Ints, site: Site,
) -> tuple[list[np.ndarray], npt.NDArray[np.uint64]]:  # fmt: skip
    if spread.empty:
        none = np.zeros(0, np.int64)
        empty = [np.zeros(0)] * 3
        return [none] * 7 + [*empty, none], np.zeros(0, np.uint64)
    columns = [_codes(spread[c].astype("category"), levels[c]) for c in levels]
    day = spread["date"].to_numpy().astype("datetime64[D]")
    share = spread["share"].to_numpy(dtype=float)
    sd, read = np.sqrt(own_variance(origin, densities)) * share, read_kg(origin) * share
    what = np.where(spread["what"] == "removed", 1, 2)
    names = [
        f"{site.seed}: {w} {d} {m} {f}"
        for w, d, m, f in zip(
            spread["what"], day.astype(str), origin["material"].astype(str), spread["from_row"],
            strict=True,
        )
    ]  # fmt: skip
    table = [
        *columns, np.searchsorted(starts, day, side="right") - 1, what,
        origin["basis"].cat.codes.to_numpy().astype(np.int64),
        spread["mass_kg"].to_numpy(dtype=float), sd, read, pair,
    ]  # fmt: skip
    return table, hashed(names)[:-1]
