"""A yard whose figures are worked out in the head, and a maker of issued reports for it."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pandas as pd

from divert.convert import Workings, work_out
from divert.core.period import read_period
from divert.core.reading import Reading, reading_of
from divert.factors import FactorSet, load_factors
from divert.figures.compute import figures_for
from divert.register import Entry, Said, issuing
from divert.site.model import Container, Grant, Landfill, Material, Site, Source, Sponsor, Spread

AS_OF = dt.date(2025, 7, 5)
STARTED = dt.date(2025, 1, 1)


def site(folder: Path, **changes: object) -> Site:
    values: dict[str, object] = {
        "folder": folder,
        "name": "Alder Hollow Yard",
        "units": "metric",
        "started": STARTED,
        "landfills": (Landfill(gas_captured=Spread(0.5, 0.5, 0.5)),),
        "containers": (Container("tote", volume_m3=0.1, usual_fill=1.0),),
        "materials": (
            Material("kitchen scraps", like="food-scraps", before="landfill"),
            Material("flowers", like="cut-flowers", before="landfill",
                     density=Spread(90.0, 100.0, 110.0)),
            Material("straw", like="straw", before="landfill"),
        ),
        "sources": (Source("North kitchen"), Source("South kitchen")),
        "sponsors": (Sponsor("North School", supplies=("North kitchen",)),),
        "grants": (Grant("Soil and Streams Fund", "SSF-118", STARTED),),
        "toml": "[site]\nname = \"Alder Hollow Yard\"\n",
    }  # fmt: skip
    values.update(changes)
    return Site(**values)  # type: ignore[arg-type]


def load(day: str, kg: float | None = None, **more: object) -> dict[str, object]:
    row: dict[str, object] = {
        "kind": "intake", "date": day, "source": "North kitchen", "material": "kitchen scraps",
        "file": "log.xlsx", "sheet": "Q2", "column": "D", "mass_kg": kg,
    }  # fmt: skip
    return row | more


def reading(rows: list[dict[str, object]]) -> Reading:
    placed = [{"row": n + 2, **row} for n, row in enumerate(rows)]
    return reading_of(pd.DataFrame(placed))


def worked(
    rows: list[dict[str, object]], settings: Site, factors: FactorSet | None = None
) -> Workings:
    return work_out(settings, reading(rows), factors or load_factors())


def said(
    workings: Workings, label: str = "2025-Q2", audience: str = "board", name: str = "",
    as_of: dt.date = AS_OF, withdraws: str | None = None,
) -> Said:  # fmt: skip
    period = read_period(label, as_of=as_of, started=STARTED)
    sponsor = name if audience == "sponsor" else None
    sets = {"period": figures_for(workings, period, as_of, sponsor)}
    if audience == "grant":
        whole = read_period(f"2025-01-01/{period.end}", as_of=as_of, started=STARTED)
        sets["total"] = figures_for(workings, whole, as_of)
    return Said(audience, name, as_of, sets, withdraws)


def issue(workings: Workings, one: Said) -> Entry:
    """Issue a report whose PDF is a few words."""
    with issuing(workings.site.folder) as book:
        number = book.number_for(one, workings)
        if number.already is not None:
            return number.already
        pdf = f"report {number.text}".encode()
        return book.issue(number, one, workings, pdf, b"evidence", b"record")
