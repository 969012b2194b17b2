"""Removed contamination and residue that came with no load: charged to the loads they came from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert.columns import of_names
from divert.convert.grouping import grouped
from divert.convert.naming import NOT_STATED
from divert.convert.unknown import NOT_RECORDED

KEYS = ["source", "material", "before", "decay_class"]
COLUMNS = ("date", *KEYS, "what", "mass_kg", "file", "sheet", "row", "share", "from_row")
MONTHS_BACK = 12

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]


def month_number(dates: pd.Series[Any]) -> np.ndarray:
    """Return months counted from 1970 for a column of dates."""
    return dates.to_numpy().astype("datetime64[M]").astype(np.int64)


def charges(ledger: pd.DataFrame) -> pd.DataFrame:
    """Spread removed and residue rows over sources, materials and befores.

    A removed row is spread over its source's intake of the month, else the site's; with none it is
    treated as residue. Residue is charged in the month it left, split by received less removed of
    the 12 months that end with it. Masses in kg; ``share`` is each line's part of the row it comes
    from (``from_row``, its place in the ledger), and the shares of a row add up to 1.
    """
    asked = _of_kinds(ledger, ("removed", "residue"))
    if asked.empty:
        return pd.DataFrame({c: [] for c in COLUMNS})
    base, keys = _received(_of_kinds(ledger, ("intake",)))
    month, source = month_number(asked["date"]), asked["source"].cat.codes.to_numpy()
    is_removed = of_names(asked["kind"], ("removed",))
    loads = base.of(base.net > 0)  # more may be removed from a load than came: that bears no more
    source_of = keys["source_code"].to_numpy()[loads.key]
    own = _spread(np.flatnonzero(is_removed & (source >= 0)), loads,
                  [(month, loads.month), (source, source_of)])  # fmt: skip
    others = np.setdiff1d(np.flatnonzero(is_removed), own.row)
    removed = own.then(_spread(others, loads, [(month, loads.month)]))
    kg = removed.share * asked["mass_kg"].to_numpy()[removed.row]
    less = base.then(_Received(removed.key, month[removed.row], -kg))
    left = np.setdiff1d(np.arange(len(asked)), removed.row)
    weights = _trailing(less, np.unique(month[left]))
    residue = _spread(left, weights, [(month, weights.month)])
    alone = np.setdiff1d(left, residue.row)
    against_site = _Lines(alone, np.full(len(alone), -1), np.ones(len(alone)))
    return _written(removed, residue.then(against_site), asked, keys)


@dataclass(frozen=True, slots=True)
class _Received:
    """Received less removed, kg: a number among the keys, a month and a net mass for each line."""

    key: Ints
    month: Ints
    net: Floats

    def of(self, lines: npt.NDArray[np.bool_]) -> _Received:
        """Return some of the lines."""
        return _Received(self.key[lines], self.month[lines], self.net[lines])

    def then(self, other: _Received) -> _Received:
        """Return these lines and others after them."""
        return _Received(
            np.concatenate([self.key, other.key]),
            np.concatenate([self.month, other.month]),
            np.concatenate([self.net, other.net]),
        )


@dataclass(frozen=True, slots=True)
class _Lines:
    """Parts of rows: the row's place among those asked for, a number among the keys (-1: none), a share."""

    row: Ints
    key: Ints
    share: Floats

    def then(self, other: _Lines) -> _Lines:
        """Return these lines and others after them."""
        return _Lines(
            np.concatenate([self.row, other.row]),
            np.concatenate([self.key, other.key]),
            np.concatenate([self.share, other.share]),
        )


_USED = [*KEYS, "kind", "date", "mass_kg", "removed_kg", "file", "sheet", "row"]


def _of_kinds(ledger: pd.DataFrame, kinds: tuple[str, ...]) -> pd.DataFrame:
    """Return what is asked here of a ledger's rows of some kinds: a copy of every column is dear."""
    return ledger[_USED].iloc[np.flatnonzero(of_names(ledger["kind"], kinds))]


def _spread(rows: Ints, weights: _Received, on: list[tuple[np.ndarray, np.ndarray]]) -> _Lines:
    """Return a line per row and weight it matches, its share in proportion to the weight's net.

    ``on``: what must be equal, of all that is asked for and of the weights. Every net is above nothing.
    """
    if not len(rows) or not len(weights.net):
        return _Lines(rows[:0], weights.key[:0], weights.net[:0])
    codes = [np.concatenate([mine[rows], theirs]) for mine, theirs in on]
    group, _ = grouped([(code - code.min(), int(np.ptp(code)) + 1) for code in codes])
    mine, theirs = group[: len(rows)], group[len(rows) :]
    order = np.argsort(theirs, kind="stable")
    begin = np.searchsorted(theirs[order], mine, "left")
    size = np.searchsorted(theirs[order], mine, "right") - begin
    row = np.repeat(np.arange(len(rows)), size)
    nth = np.arange(len(row)) - np.repeat(np.cumsum(size) - size, size)
    of = order[np.repeat(begin, size) + nth]
    net = pd.Series(weights.net[of])
    share = (net / net.groupby(row).transform("sum")).to_numpy(dtype=float)
    return _Lines(rows[row], weights.key[of], share)


def _trailing(base: _Received, wanted: Ints) -> _Received:
    """Return what was received less removed in the 12 months that end with each wanted month."""
    windows = [
        np.flatnonzero((base.month > month - MONTHS_BACK) & (base.month <= month))
        for month in wanted.tolist()
    ]
    rows = np.concatenate([np.zeros(0, dtype=np.int64), *windows])
    # Summed in one go: a sum for each month by itself costs as much as all of the conversion.
    month_of = np.repeat(np.arange(len(wanted)), [len(window) for window in windows])
    width = int(base.key.max(initial=0)) + 1
    net = pd.Series(base.net[rows]).groupby(month_of * width + base.key[rows]).sum()
    place, sums = net.index.to_numpy(), net.to_numpy()
    out = _Received(place % width, wanted[place // width], sums)
    return out.of(sums > 0)


def _received(intake: pd.DataFrame) -> tuple[_Received, pd.DataFrame]:
    """Return received less removed on the row by key and month, and the keys in their order.

    A key is a source, material, before and class; ``source_code`` is the source's in the ledger.
    """
    net = intake["mass_kg"] - intake["removed_kg"].fillna(0.0)
    months = month_number(intake["date"])
    first_month = months.min(initial=0)
    columns = {name: _named(intake[name], name) for name in KEYS}
    key, first_of_key = grouped([_in_order(column) for column in columns.values()])
    numbers = (months - first_month, int(months.max(initial=0) - first_month) + 1)
    group, first = grouped([(key, len(first_of_key)), numbers])
    # By one number for each group: by five columns the same sums take twice as long.
    sums = net.groupby(group).sum().to_numpy(dtype=float)
    names = {
        name: pd.Series(column.iloc[first_of_key].astype(object).to_numpy(), dtype=object)
        for name, column in columns.items()
    }
    codes = intake["source"].cat.codes.to_numpy()[first_of_key]
    return _Received(key[first], months[first], sums), pd.DataFrame(names).assign(source_code=codes)


def _named(column: pd.Series[Any], name: str) -> pd.Series[Any]:
    """Return a column of names in which what it was before is always said."""
    if name != "before" or not column.isna().any():
        return column
    known = column.cat.categories
    more = column if NOT_STATED in known else column.cat.add_categories([NOT_STATED])
    return more.fillna(NOT_STATED)


def _in_order(column: pd.Series[Any]) -> tuple[np.ndarray, int]:
    """Return a number for each name in the order of names, the last where there is none, and how many."""
    names = column.cat.categories.astype(object)
    place = np.empty(len(names) + 1, dtype=np.int64)
    place[np.argsort(names.to_numpy(), kind="stable")] = np.arange(len(names))
    place[-1] = len(names)
    return place[column.cat.codes.to_numpy()], len(names) + 1


def _written(
    removed: _Lines, residue: _Lines, asked: pd.DataFrame, keys: pd.DataFrame
) -> pd.DataFrame:
    """Return the lines as a frame, by day, row and key.

    What nothing received can bear stands against the site itself.
    """
    lines = removed.then(residue)
    what = np.repeat(["removed", "residue"], [len(removed.row), len(residue.row)])
    there = asked.iloc[lines.row]
    order = np.lexsort((lines.key, there.index.to_numpy(), there["date"].to_numpy()))
    there, key, share = there.iloc[order], lines.key[order], lines.share[order]
    alone = np.flatnonzero(key < 0)
    instead = there.iloc[alone]
    of: dict[str, Any] = {}
    for name in KEYS:
        names = np.array([*keys[name], None], dtype=object)[key]
        if name == "before":
            names[alone] = "landfill"
        else:
            own = instead[name].astype(object)
            blank = {"source": NOT_RECORDED, "decay_class": ""}.get(name)
            names[alone] = (own if blank is None else own.fillna(blank)).to_numpy()
        of[name] = pd.Series(names, dtype=object)
    same = {name: there[name].reset_index(drop=True) for name in ("date", "file", "sheet", "row")}
    mass = share * there["mass_kg"].to_numpy()
    out = {**of, **same, "what": what[order], "mass_kg": mass, "share": share,
           "from_row": there.index.to_numpy()}  # fmt: skip
    return pd.DataFrame(out)[list(COLUMNS)]
