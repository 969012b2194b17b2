"""Rows that cannot be, and rows worth asking about: mass against volume, removed against mass."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert.bands import System, about, quantity
from divert.convert.volume import FILL_BY_EYE, FILL_UNKNOWN
from divert.factors import FactorSet
from divert.factors.model import EDGE
from divert.findings import Finding, Where
from divert.names import NameBook
from divert.site import Spread
from divert.words import N_, Text

Floats = npt.NDArray[np.float64]
Published = Mapping[tuple[str, str], Spread]

# More odd loads of one material than this are one question about the material, not one a load.
ASK_ONE_BY_ONE = 10
# Away from food, where no band is kept, a density is odd below half the published low or above
# twice the high: the cut that measured densities get too.
FAR = 2.0


def check_rows(
    ledger: pd.DataFrame,
    factors: FactorSet,
    published: Published | None = None,
    system: System = "us",
) -> tuple[pd.Series[bool], list[Finding]]:
    """Return a mask of rows to refuse, on the ledger's index, and findings about it and other rows.

    ``ledger``: kind, material, condition, mass_kg (net), volume_m3 (as filled), basis, removed_kg,
    fill, fill_used, decay_class, found, file, sheet, row, column. ``published``: density range in
    kg/m³ by (material, condition); None looks the names up in the built-in list. Food heavier than
    water is refused; a density far from any published one, and more removed than came, are queries.
    """
    known = ledger["mass_kg"].gt(0) & ledger["volume_m3"].gt(0)
    weighed = (ledger["basis"] == "weighed") | (ledger["kind"] == "weigh-in")
    asked = known & weighed
    density = (ledger["mass_kg"] / ledger["volume_m3"]).where(asked)
    food = ledger["decay_class"] == "food"
    least, most = _between_fills(ledger, density)
    limit = factors.bands["food-load"].ask[1] * (1 + EDGE)
    refused = food & (least > limit)
    findings = [_too_heavy(row, system) for row in _records(ledger[refused], density)]
    low, high = _plausible_ends(ledger, factors, published, food)
    odd = asked & ~refused & ((most < low * (1 - EDGE)) | (least > high * (1 + EDGE)))
    findings += _odd_densities(ledger.assign(low=low, high=high)[odd], density, system)
    share = ledger["removed_kg"] / ledger["mass_kg"]
    over = (ledger["kind"] == "intake") & (
        share > factors.bands["contamination"].ask[1] * (1 + EDGE)
    )
    findings += [_more_removed_than_came(row) for row in _records(ledger[over], density)]
    return refused.rename("refused"), findings


def _between_fills(
    ledger: pd.DataFrame, density: pd.Series[float]
) -> tuple[pd.Series[float], pd.Series[float]]:
    """Return the least and the greatest density a row can have had.

    A fill that nobody wrote down may have been the brim, or as low as is ever assumed: only what is
    too heavy or too light even then is held against the row. With a recorded fill both are one.
    """
    used = ledger["fill_used"]
    guessed = ledger["fill"].isna() & used.notna()
    fullest = np.fmax(FILL_UNKNOWN[2], used + FILL_BY_EYE)
    emptiest = np.fmin(FILL_UNKNOWN[0], np.fmax(used - FILL_BY_EYE, FILL_BY_EYE))
    least = density.where(~guessed, density * used / fullest)
    most = density.where(~guessed, density * used / emptiest)
    return least, most


def _plausible_ends(
    ledger: pd.DataFrame,
    factors: FactorSet,
    published: Published | None,
    food: pd.Series[bool],
) -> tuple[pd.Series[float], pd.Series[float]]:
    """Return the densities between which a row passes unasked, found per cell and not per row."""
    material = ledger["material"].astype("category").cat
    condition = ledger["condition"].astype("category").cat
    pairs = [
        (str(m), str(c)) for m in [*material.categories, ""] for c in [*condition.categories, ""]
    ]
    spreads = published if published is not None else _built_in(pairs, factors)
    ends = [spreads.get(pair) for pair in pairs]
    wide, deep = len(condition.categories) + 1, len(material.categories)
    m, c = material.codes.to_numpy(dtype=np.int64), condition.codes.to_numpy(dtype=np.int64)
    number = np.where(m < 0, deep, m) * wide + np.where(c < 0, wide - 1, c)
    lows = np.array([np.nan if s is None else s.low for s in ends] + [np.nan])[number]
    highs = np.array([np.nan if s is None else s.high for s in ends] + [np.nan])[number]
    band = factors.bands["food-load"].ordinary
    low = np.where(food, np.fmin(band[0], lows), lows / FAR)
    high = np.where(food, np.fmax(band[1], highs), highs * FAR)
    return pd.Series(low, index=ledger.index), pd.Series(high, index=ledger.index)


def _built_in(pairs: list[tuple[str, str]], factors: FactorSet) -> Published:
    book = NameBook({m.key: (m.name, *m.also) for m in factors.materials.values()})
    found = {}
    for material, condition in pairs:
        key = book.find(material)
        if key is None:
            continue
        factor = factors.density(key, condition) or factors.density(key)
        if factor is not None:
            found[material, condition] = Spread(factor.low, factor.value, factor.high)
    return found


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""


def _records(rows: pd.DataFrame, density: pd.Series[float]) -> list[dict[str, object]]:
    with_density = rows.assign(density=density.loc[rows.index].to_numpy())
    return [{str(k): v for k, v in row.items()} for row in with_density.to_dict("records")]


def _where(row: Mapping[str, object]) -> Where:
    return Where(
        _text(row["file"]) or None,
        _text(row["sheet"]) or None,
        int(str(row["row"])),
        _text(row["column"]) or None,
    )


def _number(row: Mapping[str, object], column: str) -> float:
    return float(str(row[column]))


def _density(row: Mapping[str, object], system: System) -> Text:
    return quantity(_number(row, "density"), "kg/m3", system)


def _too_heavy(row: Mapping[str, object], system: System) -> Finding:
    return Finding(
        "refused",
        "heavier than water allows",
        Text(
            N_("This load of {material} comes to {density}, and water is {water}."),
            {
                "material": _text(row["material"]),
                "density": _density(row, system),
                "water": quantity(1000.0, "kg/m3", system),
            },
        ),
        _where(row),
        Text(N_("Check the weight, its unit, how many containers there were and how full.")),
        found=_text(row["found"]),
    )


def _odd_densities(rows: pd.DataFrame, density: pd.Series[float], system: System) -> list[Finding]:
    findings = []
    for material, of_one in rows.groupby("material", observed=True):
        loads = _records(of_one, density)
        if len(loads) <= ASK_ONE_BY_ONE:
            findings += [_odd_density(row, system) for row in loads]
            continue
        findings.append(
            Finding(
                "query",
                "implausible density",
                Text(
                    N_(
                        "{loads} loads of {material} are far from its usual density, which is "
                        "{low} to {high}; the first is at {where}."
                    ),
                    {
                        "loads": len(loads),
                        "material": str(material),
                        "low": quantity(_number(loads[0], "low"), "kg/m3", system),
                        "high": quantity(_number(loads[0], "high"), "kg/m3", system),
                        "where": str(_where(loads[0])),
                    },
                ),
                _where(loads[0]),
                Text(N_("Check the container's volume and tare in site.toml, and the units.")),
                rows=len(loads),
                name=str(material),
            )
        )
    return findings


def _odd_density(row: Mapping[str, object], system: System) -> Finding:
    return Finding(
        "query",
        "implausible density",
        Text(
            N_("This load of {material} comes to {density}; {low} to {high} would not surprise."),
            {
                "material": _text(row["material"]),
                "density": _density(row, system),
                "low": quantity(_number(row, "low"), "kg/m3", system),
                "high": quantity(_number(row, "high"), "kg/m3", system),
            },
        ),
        _where(row),
        Text(N_("Check the weight, its unit, how many containers there were and how full.")),
        found=_text(row["found"]),
    )


def _more_removed_than_came(row: Mapping[str, object]) -> Finding:
    share = _number(row, "removed_kg") / _number(row, "mass_kg")
    return Finding(
        "query",
        "contamination high",
        Text(
            N_("More was removed from this load than came with it: {share} % of its weight."),
            {"share": about(share * 100)},
        ),
        _where(row),
        Text(N_("Check the weight removed and its unit.")),
        found=_text(row["found"]),
    )
