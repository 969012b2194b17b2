"""What came out: harvest, yield and what the beds carry."""

from __future__ import annotations

import datetime as dt
from typing import Literal

import numpy as np

from divert.convert.capacity import bed_uses, harvest_yield, shared_by_area
from divert.convert.cells import Cells
from divert.convert.parts import gathered
from divert.convert.workings import Workings
from divert.core.findings import Finding
from divert.core.names import plain
from divert.core.period import same_day_last_year
from divert.figures.days import of_kind
from divert.figures.masses import ZERO
from divert.figures.stretches import DAY, inside, matching, ranges, total
from divert.figures.yard import BedLoad, Harvest, Yield
from divert.site.model import DONATED


def harvest(
    workings: Workings, out_cells: Cells, start: dt.date, end: dt.date
) -> tuple[Harvest, ...]:
    """Return what was taken out, by product and destination, largest first; m³ and kg."""
    rows = of_kind(workings.ledger, "harvest", start, end)
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


def harvests_set_aside(workings: Workings, start: dt.date, end: dt.date) -> int:
    """Return how many harvests of a period were refused for want of a volume or a mass."""
    entries = workings.reading.entries
    refused = entries.loc[entries.index.difference(workings.ledger.index)]
    return len(of_kind(refused, "harvest", start, end))


def yearly(
    workings: Workings, cells: Cells, out_cells: Cells, end: dt.date
) -> tuple[Yield | None, tuple[BedLoad, ...], list[Finding]]:
    """Return yield and bed loads over the 12 months that end with a day, and what they ask."""
    start = year_back(end)
    site = workings.site
    donated = matching(cells.before, cells.befores, (DONATED,))
    parts = gathered(cells, {}, inside(cells, start, end) & ~donated)
    received = ranges(parts.amounts("received"))[0]
    fed_kg = float(parts.centrals("fed", np.zeros(len(parts.what), np.int64), 1)[0])
    fed = received.times(fed_kg / received.central) if received.central > 0 else ZERO
    product = total(out_cells, "received", inside(out_cells, start, end))
    system = site.units
    days = (end - max(start, site.started)).days + 1
    share, _, asked = harvest_yield(
        product.central,
        fed_kg,
        _main_product(workings, out_cells, start, end),
        workings.factors,
        system,
        whole_year=site.started <= start,
    )
    loads: tuple[BedLoad, ...] = ()
    if site.beds:
        uses, more = bed_uses(
            site.beds, _feed_by_bed(workings, start, end, fed_kg), days / 7, workings.factors, system
        )  # fmt: skip
        asked += more
        loads = tuple(
            BedLoad(u.bed, u.feed_kg_per_m2_week, u.area_m2, u.worms_kg, u.band,
                    u.feed_kg_per_kg_worms_week)
            for u in uses
        )  # fmt: skip
    found = Yield(fed, product, share) if fed_kg > 0 or product.central > 0 else None
    return found, loads, asked


def _main_product(
    workings: Workings, out_cells: Cells, start: dt.date, end: dt.date
) -> Literal["castings", "compost"]:
    """Return which product most of the harvest was: its yield has a band of its own."""
    names = {m.material.name: m.key for m in workings.meanings}
    worm = np.array([names.get(m) == "castings" for m in out_cells.materials])
    mask = inside(out_cells, start, end)
    by_kind = [
        float(out_cells.mass_kg[mask & (worm[out_cells.material] == wanted)].sum())
        for wanted in (True, False)
    ]
    return "castings" if by_kind[0] >= by_kind[1] and workings.site.beds else "compost"


def year_back(end: dt.date) -> dt.date:
    """Return the first day of the 12 months that end with a day."""
    return same_day_last_year(end + DAY)


def _feed_by_bed(
    workings: Workings, start: dt.date, end: dt.date, fed_kg: float
) -> dict[str, float]:
    ledger = workings.ledger
    told = ledger.iloc[np.flatnonzero(ledger["destination"].cat.codes.to_numpy() >= 0)]
    rows = of_kind(told, "intake", start, end)
    by_bed = rows.groupby("destination", observed=True)["mass_kg"].sum()
    named = dict(zip(by_bed.index, by_bed.tolist(), strict=True))
    beds = {plain(b.name): b.name for b in workings.site.beds}
    own = {beds[plain(str(d))]: float(kg) for d, kg in named.items() if plain(str(d)) in beds}
    rest = max(0.0, fed_kg - sum(own.values()))
    spread = shared_by_area(rest, workings.site.beds)
    return {name: own.get(name, 0.0) + spread.get(name, 0.0) for name in {*own, *spread}}
