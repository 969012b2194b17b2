"""What came out: harvest, yield and what the beds carry."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pandas as pd

from divert.convert.capacity import bed_uses, harvest_yield, shared_by_area
from divert.convert.cells import Cells
from divert.convert.workings import Workings
from divert.figures import BedLoad, Harvest, Yield
from divert.findings import Finding
from divert.names import plain
from divert.tally.masses import ZERO
from divert.tally.stretches import DAY, inside, total


def between(ledger: pd.DataFrame, start: dt.date, end: dt.date) -> pd.DataFrame:
    """Return the rows dated between two days, both included."""
    day = ledger["date"].to_numpy().astype("datetime64[D]")
    return ledger[(day >= np.datetime64(start, "D")) & (day <= np.datetime64(end, "D"))]


def harvest(
    workings: Workings, out_cells: Cells, start: dt.date, end: dt.date
) -> tuple[Harvest, ...]:
    """Return what was taken out, by product and destination, largest first; m³ and kg."""
    rows = between(workings.ledger, start, end)
    rows = rows[rows["kind"] == "harvest"]
    if rows.empty:
        return ()
    parts = []
    where = rows["destination"].astype(object).where(rows["destination"].notna(), "")
    product = rows["material"].astype(object).where(rows["material"].notna(), "")
    for (name, destination), group in rows.groupby([product, where]):
        volume = float(group["volume_m3"].sum(min_count=1))
        kg = float(group["mass_kg"].sum(min_count=1))
        central = None if np.isnan(kg) else kg
        mass = None
        if central is not None:
            codes = np.array([m == name for m in out_cells.materials])[out_cells.material]
            whole = total(out_cells, "received", inside(out_cells, start, end) & codes)
            share = central / whole.central if whole.central else 0.0
            mass = whole.times(share)
        parts.append(
            Harvest(str(name), None if np.isnan(volume) else volume, mass, str(destination))
        )
    return tuple(
        sorted(parts, key=lambda h: -(h.mass_kg.central if h.mass_kg else h.volume_m3 or 0.0))
    )


def yearly(
    workings: Workings, cells: Cells, out_cells: Cells, end: dt.date
) -> tuple[Yield | None, tuple[BedLoad, ...], list[Finding]]:
    """Return yield and bed loads over the 12 months that end with a day, and what they ask."""
    start = year_back(end)
    site = workings.site
    mask = inside(cells, start, end)
    donated = np.array([b == "donated as food" for b in cells.befores] + [False])[cells.before]
    received = total(cells, "received", mask & ~donated)
    removed = total(cells, "removed", mask & ~donated)
    fed_kg = received.central - removed.central
    fed = received.times(fed_kg / received.central) if received.central > 0 else ZERO
    product = total(out_cells, "received", inside(out_cells, start, end))
    system = "us" if site.units == "us" else "metric"
    kind = "castings" if site.beds else "compost"
    share, _, asked = harvest_yield(product.central, fed_kg, kind, workings.factors, system)  # type: ignore[arg-type]
    days = (end - max(start, site.started)).days + 1
    loads: tuple[BedLoad, ...] = ()
    if site.beds:
        uses, more = bed_uses(
            site.beds, _feed_by_bed(workings, start, end, fed_kg), days / 7, workings.factors, system  # type: ignore[arg-type]
        )  # fmt: skip
        asked += more
        loads = tuple(
            BedLoad(u.bed, u.feed_kg_per_m2_week, u.area_m2, u.worms_kg, u.band,
                    u.feed_kg_per_kg_worms_week)
            for u in uses
        )  # fmt: skip
    found = Yield(fed, product, share) if fed_kg > 0 or product.central > 0 else None
    return found, loads, asked


def year_back(end: dt.date) -> dt.date:
    """Return the first day of the 12 months that end with a day."""
    following = end + DAY
    try:
        return following.replace(year=following.year - 1)
    except ValueError:  # 29 February
        return following.replace(year=following.year - 1, day=28)


def _feed_by_bed(
    workings: Workings, start: dt.date, end: dt.date, fed_kg: float
) -> dict[str, float]:
    rows = between(workings.ledger, start, end)
    rows = rows[rows["kind"] == "intake"]
    named = rows.groupby("destination", observed=True)["mass_kg"].sum()
    beds = {plain(b.name): b.name for b in workings.site.beds}
    own = {beds[plain(str(d))]: float(kg) for d, kg in named.items() if plain(str(d)) in beds}
    rest = max(0.0, fed_kg - sum(own.values()))
    spread = shared_by_area(rest, workings.site.beds)
    return {name: own.get(name, 0.0) + spread.get(name, 0.0) for name in {*own, *spread}}
