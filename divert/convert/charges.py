"""Removed contamination and residue that came with no load: charged to the loads they came from."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

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
    asked = ledger[ledger["kind"].isin(["removed", "residue"])]
    if asked.empty:
        return pd.DataFrame({c: [] for c in COLUMNS})
    intake = ledger[ledger["kind"] == "intake"]
    base = _by_month(intake)
    lines: list[pd.DataFrame] = []
    removed = asked[asked["kind"] == "removed"]
    spread_kg: list[pd.DataFrame] = []
    homeless: list[Any] = []
    for (place, row), month in zip(
        removed.iterrows(), month_number(removed["date"]).tolist(), strict=True
    ):
        of_month = base[base["month"] == month]
        own = of_month[of_month["source"] == row["source"]]
        weights = own if own["net"].sum() > 0 else of_month
        if weights["net"].sum() > 0:
            line = _line(row, place, weights, "removed")
            lines.append(line)
            spread_kg.append(line.assign(month=month, net=-line["mass_kg"]))
        else:
            homeless.append(place)
    if spread_kg:
        base = pd.concat([base, *(s[[*KEYS, "month", "net"]] for s in spread_kg)])
        base = base.groupby([*KEYS, "month"], as_index=False, dropna=False)["net"].sum()
    as_residue = asked.loc[(asked["kind"] == "residue") | asked.index.isin(homeless)]
    month_of = month_number(as_residue["date"])
    for month in np.unique(month_of).tolist():
        window = base[(base["month"] > month - MONTHS_BACK) & (base["month"] <= month)]
        weights = window.groupby(KEYS, as_index=False, dropna=False)["net"].sum()
        weights = weights[weights["net"] > 0]
        of_month = zip(as_residue.iterrows(), month_of == month, strict=True)
        lines += [_line(row, place, weights, "residue") for (place, row), here in of_month if here]
    out = pd.concat(lines, ignore_index=True)
    return out.sort_values(["date", "from_row", *KEYS], kind="stable", ignore_index=True)


def _by_month(intake: pd.DataFrame) -> pd.DataFrame:
    """Return received less removed on the row, kg, by source, material, before, class and month."""
    net = intake["mass_kg"] - intake["removed_kg"].fillna(0.0)
    sums = (
        net.groupby(
            [intake[k] for k in KEYS] + [pd.Series(month_number(intake["date"]), intake.index)],
            observed=True,
            dropna=False,
        )
        .sum()
        .rename("net")
        .rename_axis([*KEYS, "month"])
        .reset_index()
    )
    return sums.astype(dict.fromkeys(KEYS, object))


def _line(row: pd.Series[Any], place: Any, weights: pd.DataFrame, what: str) -> pd.DataFrame:
    if weights.empty:  # nothing was received to charge it to: it stands against the site itself
        weights = pd.DataFrame([{
            "source": row["source"] if isinstance(row["source"], str) else NOT_RECORDED,
            "material": row["material"], "before": "landfill",
            "decay_class": row["decay_class"] if isinstance(row["decay_class"], str) else "",
            "net": 1.0,
        }])  # fmt: skip
    share = weights["net"].to_numpy(dtype=float) / float(weights["net"].sum())
    out = weights[KEYS].copy()
    out["before"] = out["before"].fillna(NOT_STATED)
    return out.assign(
        date=row["date"], what=what, mass_kg=share * row["mass_kg"], file=row["file"],
        sheet=row["sheet"], row=row["row"], share=share, from_row=place,
    )[list(COLUMNS)]  # fmt: skip
