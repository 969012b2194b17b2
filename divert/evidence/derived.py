"""From the inputs of evidence lines to masses, balance and emissions: plain column arithmetic.

This is the same arithmetic as the workbook's formulas, written a second time for whoever checks a
workbook without a spreadsheet program; it reads inputs only, never a cached result.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import numpy.typing as npt
import pandas as pd

from divert.convert.emission_factors import fuel_key
from divert.evidence.factor_rows import (
    LandfillClass,
    Process,
    per_kg,
    process_per_kg,
)
from divert.evidence.lines import CHARGED, REMOVED, RESIDUE
from divert.evidence.spreading import MONTH, OWN_MONTH, YEAR, shared_out
from divert.site.model import CLAIMED

Floats = npt.NDArray[np.float64]


def measured_values(lines: pd.DataFrame, keys: Sequence[str]) -> dict[str, float]:
    """Return each measured density (kg/m³): net mass over volume of the lines that teach it."""
    volume, net = volumes(lines), nets(lines)
    out = {}
    for key in keys:
        taught = (lines["teaches"] == key).to_numpy()
        out[key] = float(net[taught].sum() / volume[taught].sum())
    return out


def volumes(lines: pd.DataFrame) -> Floats:
    """Return m³: the volume given, else count x container x fill."""
    counted = (lines["count"] * lines["container_m3"] * lines["fill"]).to_numpy()
    return np.where(lines["given_m3"].notna(), lines["given_m3"], counted)


def nets(lines: pd.DataFrame) -> Floats:
    """Return kg weighed net: as logged, else gross less count x tare (NaN where not weighed)."""
    count = lines["count"].fillna(1.0)
    from_gross = (lines["gross_kg"] - count * lines["tare_kg"].fillna(0.0)).to_numpy()
    return np.where(lines["weighed_kg"].notna(), lines["weighed_kg"], from_gross)


def _charged(lines: pd.DataFrame, mass: Floats, own_net: Floats) -> tuple[Floats, Floats]:
    """Return each charge's share of the line it comes from, and masses with those of the charges.

    Removed first: what is left after it bears the residue.
    """
    kind = lines["kind"].to_numpy()
    charged = np.isin(kind, CHARGED)
    origin = np.where(charged, lines["from_line"], 1).astype(int) - 1
    share = lines["share"].to_numpy()
    by_formula = (lines["spread"] != "").to_numpy()
    of_month = shared_out(lines, own_net, OWN_MONTH, MONTH).share
    share = np.where(by_formula, np.nan_to_num(of_month), share)
    removed = np.where(kind == REMOVED, share * mass[origin], 0.0)
    of_year = shared_out(lines, own_net - removed, YEAR).share
    share = np.where(np.isnan(of_year), share, of_year)
    return share, np.where(charged, share * mass[origin], mass)


def derive(
    lines: pd.DataFrame,
    values: Mapping[str, float],
    classes: Sequence[LandfillClass],
    processes: Sequence[Process],
) -> pd.DataFrame:
    """Return the lines with the columns MADE and MADE_FOR_SPONSOR added (m³, kg, kg CO2e).

    They are named in divert.workbook.columns.
    """
    kind = lines["kind"].to_numpy()
    volume, net = volumes(lines), nets(lines)
    density = lines["factor"].map(dict(values)).to_numpy(dtype=float)
    mass = np.where(np.isnan(net), volume * density, net)
    intake = kind == "intake"
    by_share = (lines["removed_share"] * mass).to_numpy()
    own_removed = np.where(lines["removed_given_kg"].notna(), lines["removed_given_kg"], by_share)
    received = np.where(intake, mass, 0.0)
    own_net = np.where(intake, mass - np.nan_to_num(own_removed), 0.0)
    share, mass = _charged(lines, mass, own_net)
    removed = np.where(intake, np.nan_to_num(own_removed), np.where(kind == REMOVED, mass, 0.0))
    residue = np.where(kind == RESIDUE, mass, 0.0)
    kept = received - removed - residue
    before = lines["before"].to_numpy()
    claimed = np.isin(before, CLAIMED)
    diverted = np.where(claimed, kept, 0.0)
    to_landfill = np.where(before == "landfill", diverted, 0.0)
    avoided = np.zeros(len(lines))
    for one in classes:
        mine = (lines["decay_class"] == one.decay_class) & (lines["landfill"] == one.landfill)
        avoided += np.where(mine, to_landfill * per_kg(one, values).within_100, 0.0)
    composted = np.where(before == "donated as food", 0.0, received - removed)
    process = np.zeros(len(lines))
    for part in processes:
        at = lines["landfill"] == part.landfill
        process += np.where(at, composted * process_per_kg(part, values), 0.0)
    factor_of = {name: values.get(fuel_key(name) or "", 0.0) for name in lines["name"].unique()}
    fuel_factor = lines["name"].map(factor_of).to_numpy(dtype=float)
    litres = lines["amount"].fillna(0.0).to_numpy()
    fuel = np.where(kind == "fuel", litres * fuel_factor, 0.0)
    funded = lines["funded"].fillna(0.0).to_numpy()
    return lines.assign(
        volume_m3=volume,
        net_kg=net,
        density=density,
        share=share,
        mass_kg=mass,
        received=received,
        own_net=own_net,
        removed=removed,
        residue=residue,
        diverted=diverted,
        not_claimed=np.where(claimed, 0.0, kept),
        landfill_avoided=avoided,
        process=process,
        fuel=fuel,
        supported=diverted * funded,
        supported_landfill=avoided * funded,
        supported_process=process * funded,
    )
