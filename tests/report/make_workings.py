"""A small yard's entries, converted by the tool itself, for the tests that write whole reports."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pandas as pd

from divert.convert import Workings, work_out
from divert.core.reading import reading_of
from divert.factors import load_factors
from divert.site.model import Container, Landfill, Material, Site, Source, Sponsor, Spread

AS_OF = dt.date(2025, 7, 3)


def small_site(folder: Path, **changes: object) -> Site:
    """Return a site of three sources and three sponsors."""
    values: dict[str, object] = {
        "folder": folder,
        "name": "Alder Hollow Yard",
        "units": "us",
        "started": dt.date(2024, 1, 1),
        "landfills": (Landfill(gas_captured=Spread(0.5, 0.5, 0.5)),),
        "containers": (Container("tote", volume_m3=0.1, tare_kg=2.0, usual_fill=0.9),),
        "materials": (
            Material("kitchen scraps", like="food-scraps", before="landfill"),
            Material("spent grain", like="spent-grain", before="fed to animals"),
        ),
        "sources": (Source("North kitchen"), Source("Otter Street canteen"), Source("Brewery")),
        "sponsors": (
            Sponsor("Larch Bank", funds=0.25),
            Sponsor("North School", supplies=("North kitchen",), email="kitchen@north.example"),
            Sponsor("Otter Street", supplies=("Otter Street canteen",), funds=0.1),
        ),
        "toml": "[site]",
    }
    return Site(**{**values, **changes})  # type: ignore[arg-type]


def small_workings(folder: Path, **changes: object) -> Workings:
    """Return a year and a half of entries: totes by volume and weighed grain, every second week."""
    rows: list[dict[str, object]] = []
    day, n = dt.date(2024, 1, 3), 0
    while day < dt.date(2025, 6, 29):
        for source in ("North kitchen", "Otter Street canteen"):
            rows.append(
                {"kind": "intake", "date": day, "source": source, "material": "kitchen scraps",
                 "container": "tote", "count": float(1 + n % 3), "fill": (0.5, 0.75, 1.0)[n % 3],
                 "removed_kg": 1.5 if n % 4 == 0 else 0.0}
            )  # fmt: skip
        rows.append(
            {"kind": "intake", "date": day, "source": "Brewery", "material": "spent grain",
             "mass_kg": 40.0 + n}
        )  # fmt: skip
        day, n = day + dt.timedelta(days=14), n + 1
    rows.append({"kind": "harvest", "date": dt.date(2025, 5, 3), "material": "castings",
                 "mass_kg": 300.0, "destination": "school gardens"})  # fmt: skip
    rows.append({"kind": "residue", "date": dt.date(2025, 5, 3), "mass_kg": 40.0})
    frame = pd.DataFrame(
        [{"file": "log.xlsx", "sheet": "Log", "row": i + 2, "column": "D", "found": "", **row}
         for i, row in enumerate(rows)]
    )  # fmt: skip
    reading = reading_of(frame)
    return work_out(small_site(folder, **changes), reading, load_factors(None))
