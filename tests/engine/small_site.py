"""A site small enough to work out by hand, and a maker of ledger rows for it."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pandas as pd

from divert.convert import Workings, work_out
from divert.core import ledger as books
from divert.core.reading import Reading, reading_of
from divert.factors import load_factors
from divert.site.model import Container, Landfill, Material, Site, Source, Sponsor, Spread

STARTED = dt.date(2024, 1, 1)


def site(**changes: object) -> Site:
    values: dict[str, object] = {
        "folder": Path("nowhere"),
        "name": "Alder Hollow Yard",
        "units": "metric",
        "started": STARTED,
        "landfills": (Landfill(gas_captured=Spread(0.5, 0.5, 0.5)),),
        "containers": (
            Container("tote", volume_m3=0.1, tare_kg=2.0, usual_fill=0.9),
            Container("pail", volume_m3=0.02, tare_kg=1.0),
        ),
        "materials": (
            Material("kitchen scraps", like="food-scraps", before="landfill"),
            Material("spent grain", like="spent-grain"),
            Material("flowers", like="cut-flowers", density=Spread(80.0, 100.0, 120.0)),
        ),
        "sources": (Source("North kitchen"), Source("South kitchen"), Source("Brewery")),
        "sponsors": (
            Sponsor("Larch Bank", funds=0.25),
            Sponsor("North School", supplies=("North kitchen",)),
        ),
    }
    values.update(changes)
    return Site(**values)  # type: ignore[arg-type]


def entries(*rows: dict[str, object]) -> pd.DataFrame:
    filled = [
        {"kind": "intake", "file": "log.xlsx", "sheet": "Jan", "row": n + 2, "column": "D",
         "found": "", **row}
        for n, row in enumerate(rows)
    ]  # fmt: skip
    return books.tidy(pd.DataFrame(filled))


def reading(*rows: dict[str, object]) -> Reading:
    return reading_of(entries(*rows))


def worked(*rows: dict[str, object], here: Site | None = None, **changes: object) -> Workings:
    """Convert rows as the small site would, with changes to it, or as another one."""
    return work_out(here or site(**changes), reading(*rows), load_factors())
