"""What lies on the site, how much the volume shrinks, and when the permit's limit would be passed."""

from __future__ import annotations

import datetime as dt

import numpy as np

from divert.convert.columns import of_names
from divert.convert.workings import Workings
from divert.core.names import plain
from divert.core.range import Range
from divert.core.units import UnknownUnit, unit_factor
from divert.figures.days import days_between, of_kind
from divert.figures.stretches import DAY
from divert.figures.yard import Stock, VolumeReduction
from divert.site.model import DONATED

STOCKTAKE = frozenset(plain(w) for w in ("stocktake", "stock take", "stock", "inventaire"))
PRODUCT = "compost"  # of the built-in list: what stands for a stock given by volume
YEAR_DAYS = 365.25


def volume_reduction(workings: Workings, start: dt.date, end: dt.date) -> VolumeReduction | None:
    """Return product out over material in, m³, between two days; None where either is unknown.

    A weighed load without a volume takes the density in use for its material.
    """
    ledger = workings.ledger
    here = days_between(ledger, start, end)
    fed = here & of_names(ledger["kind"], ("intake",)) & ~of_names(ledger["before"], (DONATED,))
    out = here & of_names(ledger["kind"], ("harvest",))
    in_m3, out_m3 = (float(_volumes(workings)[mask].sum()) for mask in (fed, out))
    if in_m3 <= 0 or out_m3 <= 0:
        return None
    return VolumeReduction(in_m3, out_m3, out_m3 / in_m3)


def _volumes(workings: Workings) -> np.ndarray:
    ledger = workings.ledger
    known = ledger["volume_m3"].to_numpy()
    density = np.full(len(ledger), np.nan)
    for one in workings.in_use:
        rows = of_names(ledger["material"], (one.material,))
        rows &= of_names(ledger["condition"], (one.condition,))
        density[rows] = one.spread.typical or np.nan
    return np.nan_to_num(np.where(np.isnan(known), ledger["mass_kg"].to_numpy() / density, known))


def stock(workings: Workings, year_start: dt.date, end: dt.date) -> Stock | None:
    """Return what lies on the site at a day's end; None where nothing was fed or counted.

    The last stocktake by then, and since it what was fed less half of its mass less what was
    harvested (beds.solids_lost: common practice). ``year_start`` opens the 12 months of the pace.
    """
    site, factors = workings.site, workings.factors
    counted_on, counted = _stocktake(workings, end)
    since = site.started if counted_on is None else counted_on + DAY
    fed, harvested = _flows(workings, since, end)
    lost = factors.get("beds.solids_lost")
    if counted is None and fed <= 0:
        return None
    base = counted or 0.0
    ends = [max(0.0, base + fed * (1 - share) - harvested) for share in
            (lost.value, lost.high, lost.low)]  # fmt: skip
    kg = Range(ends[0], min(ends[1], ends[0]), max(ends[2], ends[0]))
    limit = site.permit_limit_kg
    if site.permit_limit_m3 is not None:
        limit = site.permit_limit_m3 * (_compost_kg_m3(workings) or 0.0) or None
    how = "stocktake" if counted is not None and fed == harvested == 0 else "worked out"
    full_on = _full_on(workings, year_start, end, kg, limit)
    return Stock(kg, how, counted_on, limit, full_on, counted, since)


def _flows(workings: Workings, start: dt.date, end: dt.date) -> tuple[float, float]:
    """Return what was fed (received less removed, not donated) and harvested, kg."""
    charges = workings.charges
    ledger = workings.ledger
    here = days_between(ledger, start, end)
    mass = np.nan_to_num(ledger["mass_kg"].to_numpy())
    intake = here & of_names(ledger["kind"], ("intake",)) & ~of_names(ledger["before"], (DONATED,))
    fed = mass[intake].sum() - np.nan_to_num(ledger["removed_kg"].to_numpy()[intake]).sum()
    if len(charges):  # what was picked out, and written on a row of its own
        taken = days_between(charges, start, end) & (charges["what"] == "removed").to_numpy()
        taken &= (charges["before"] != DONATED).to_numpy()
        fed -= charges["mass_kg"].to_numpy()[taken].sum()
    out = here & of_names(ledger["kind"], ("harvest",))
    return float(fed), float(mass[out].sum())


def _stocktake(workings: Workings, end: dt.date) -> tuple[dt.date | None, float | None]:
    """Return the day and the kg of the last stocktake: an activity of that name with an amount."""
    rows = of_kind(workings.ledger, "activity", dt.date.min + DAY, end)
    rows = rows[[plain(str(name)) in STOCKTAKE for name in rows["name"]]]
    if rows.empty:
        return None, None
    day = rows["date"].max()
    kg = 0.0
    for amount, unit in rows.loc[rows["date"] == day, ["amount", "unit"]].itertuples(index=False):
        size = _unit_kg(workings, str(unit))
        if size is None:
            return None, None
        kg += float(amount) * size
    return day.date(), kg


def _unit_kg(workings: Workings, unit: str) -> float | None:
    """Return the kg of one unit, a volume at the density of finished compost."""
    site = workings.site
    try:
        size, kind = unit_factor(unit, ton=site.ton, gallon=site.gallon)
    except UnknownUnit:
        return None
    if kind == "mass":
        return size
    density = _compost_kg_m3(workings)
    return size * density if kind == "volume" and density is not None else None


def _compost_kg_m3(workings: Workings) -> float | None:
    density = workings.factors.density(PRODUCT)
    return None if density is None else density.value


def _full_on(
    workings: Workings, start: dt.date, end: dt.date, kg: Range, limit: float | None
) -> dt.date | None:
    if limit is None:
        return None
    if kg.central >= limit:
        return end
    first = max(start, workings.site.started)
    fed, harvested = _flows(workings, first, end)
    kept = 1 - workings.factors.get("beds.solids_lost").value
    pace = (fed * kept - harvested) / ((end - first).days + 1)  # kg a day
    days = (limit - kg.central) / pace if pace > 0 else float("inf")
    return end + dt.timedelta(days=int(days)) if days < 100 * YEAR_DAYS else None
