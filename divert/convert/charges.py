"""Removed contamination and residue that came with no load: charged to the loads they came from."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from divert.convert.columns import of_names
from divert.convert.grouping import grouped
from divert.convert.naming import NOT_STATED
from divert.convert.unknown import NOT_RECORDED

KEYS = ["source", "material", "before", "decay_class"]
COLUMNS = ("date", *KEYS, "what", "mass_kg", "file", "sheet", "row", "share", "from_row")
MONTHS_BACK = 12


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
    rows = pd.DataFrame(
        {
            "date": asked["date"], "month": month_number(asked["date"]),
            "of": asked["source"].astype(object), "kg": asked["mass_kg"], "file": asked["file"],
            "sheet": asked["sheet"], "row": asked["row"], "from_row": asked.index,
        }
    )  # fmt: skip
    base = _by_month(_of_kinds(ledger, ("intake",)))
    is_removed = (asked["kind"] == "removed").to_numpy()
    loads = base[base["net"] > 0]  # more may be removed from a load than came: that bears no more
    own = loads.assign(of=loads["source"])
    has_own = _has_any(rows, own, ["month", "of"]) & rows["of"].notna().to_numpy()
    has_site = _has_any(rows, loads, ["month"])
    removed = [
        _spread(rows[is_removed & has_own], own, ["month", "of"], "removed"),
        _spread(rows[is_removed & ~has_own & has_site], loads, ["month"], "removed"),
    ]
    taken = pd.concat(removed)
    if len(taken):
        base = pd.concat([base, taken.assign(net=-taken["mass_kg"])[[*KEYS, "month", "net"]]])
    left = rows[~is_removed | ~(has_own | has_site)]
    weights = _trailing(base, np.unique(left["month"]))
    has_weights = _has_any(left, weights, ["month"])
    lines = [
        *removed,
        _spread(left[has_weights], weights, ["month"], "residue"),
        _against_the_site(left[~has_weights], asked),
    ]
    out = pd.concat([line for line in lines if len(line)], ignore_index=True)[list(COLUMNS)]
    return out.sort_values(["date", "from_row", *KEYS], kind="stable", ignore_index=True)


_USED = [*KEYS, "kind", "date", "mass_kg", "removed_kg", "file", "sheet", "row"]


def _of_kinds(ledger: pd.DataFrame, kinds: tuple[str, ...]) -> pd.DataFrame:
    """Return what is asked here of a ledger's rows of some kinds: a copy of every column is dear."""
    return ledger[_USED].iloc[np.flatnonzero(of_names(ledger["kind"], kinds))]


def _has_any(rows: pd.DataFrame, weights: pd.DataFrame, on: list[str]) -> np.ndarray:
    """Return for each row whether the weights it would be spread over come to more than nothing."""
    sums = weights.groupby(on)["net"].sum()
    keys = pd.MultiIndex.from_frame(rows[on]) if len(on) > 1 else pd.Index(rows[on[0]])
    return np.asarray(sums.reindex(keys).to_numpy(dtype=float) > 0)


def _spread(
    rows: pd.DataFrame, weights: pd.DataFrame, on: list[str], what: str
) -> pd.DataFrame:  # fmt: skip
    """Return a line per row and weight it matches, its mass in proportion to ``net``."""
    out = rows.merge(weights[list({*on, *KEYS, "net"})], on=on)
    share = out["net"] / out.groupby("from_row")["net"].transform("sum")
    return out.assign(
        before=out["before"].fillna(NOT_STATED), share=share, mass_kg=share * out["kg"], what=what
    )


def _trailing(base: pd.DataFrame, wanted: np.ndarray) -> pd.DataFrame:
    """Return what was received less removed in the 12 months that end with each wanted month."""
    months = base["month"].to_numpy()
    windows = [
        np.flatnonzero((months > month - MONTHS_BACK) & (months <= month))
        for month in wanted.tolist()
    ]
    if not windows:
        return base.iloc[:0]
    # Summed in one go: a sum for each month by itself costs as much as all of the conversion.
    groups = base.groupby(KEYS, dropna=False).ngroup().to_numpy()
    rows = np.concatenate(windows)
    month_of = np.repeat(wanted, [len(window) for window in windows])
    net = pd.Series(base["net"].to_numpy()[rows]).groupby([month_of, groups[rows]]).sum()
    month, group = net.index.get_level_values(0), net.index.get_level_values(1)
    first_of_group = np.unique(groups, return_index=True)[1]
    out = base[KEYS].iloc[first_of_group[group]].reset_index(drop=True)
    out = out.assign(net=net.to_numpy(), month=month)
    return out.loc[out["net"] > 0]


def _against_the_site(rows: pd.DataFrame, asked: pd.DataFrame) -> pd.DataFrame:
    """Return a line for each row that nothing received can bear: it stands against the site itself."""
    there = asked.loc[rows["from_row"]]
    return rows.assign(
        source=there["source"].astype(object).fillna(NOT_RECORDED).to_numpy(),
        material=there["material"].astype(object).to_numpy(),
        before="landfill",
        decay_class=there["decay_class"].astype(object).fillna("").to_numpy(),
        share=1.0, mass_kg=rows["kg"], what="residue",
    )  # fmt: skip


def _by_month(intake: pd.DataFrame) -> pd.DataFrame:
    """Return received less removed on the row, kg, by source, material, before, class and month."""
    net = intake["mass_kg"] - intake["removed_kg"].fillna(0.0)
    months = month_number(intake["date"])
    first_month = months.min(initial=0)
    numbers = [(months - first_month, int(months.max(initial=0) - first_month) + 1)]
    group, first = grouped([*(_last_where_none(intake[key]) for key in KEYS), *numbers])
    # By one number for each group: by five columns the same sums take twice as long.
    sums = {"month": months[first], "net": net.groupby(group).sum().to_numpy()}
    of = {key: intake[key].iloc[first].astype(object).to_numpy() for key in KEYS}
    return pd.DataFrame({key: pd.Series(names, dtype=object) for key, names in of.items()} | sums)


def _last_where_none(column: pd.Series[Any]) -> tuple[np.ndarray, int]:
    """Return the codes of a column of names, those without a name numbered last, and how many there are."""
    codes, names = column.cat.codes.to_numpy(), len(column.cat.categories)
    return np.where(codes < 0, names, codes), names + 1
