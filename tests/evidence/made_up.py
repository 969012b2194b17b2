"""A made-up yard with something of everything, for the tests of evidence, recheck and trace."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pandas as pd

from divert.convert import Workings, work_out
from divert.core import ledger as books
from divert.core.findings import Finding, Where
from divert.core.reading import SET_ASIDE_COLUMNS, SKIPPED_COLUMNS, InputFile, Reading
from divert.core.words import Text
from divert.factors import load_factors
from divert.site.model import (
    Bed,
    Container,
    Grant,
    Landfill,
    Material,
    Report,
    Site,
    Source,
    Sponsor,
    Spread,
)

AS_OF = dt.date(2025, 7, 5)
OWN = "Quillmarsh School kitchen"
SECRET_NOTE = "ask Rosalind on 555 0199"
SOURCES = (OWN, "Harrow Lane Brewery", "Marigold Stem Florist", "Tern Street Kitchen")

SITE = Site(
    folder=Path("nowhere"),
    name="Kestrel Bend Community Farm",
    units="us",
    started=dt.date(2024, 4, 1),
    landfills=(
        Landfill(gas_captured=Spread(0.0, 0.5, 0.75), fee_per_kg=0.09),
        Landfill(
            climate="temperate dry", gas_by_class=(("food", Spread(0.3, 0.39, 0.5)),),
            gas_captured=Spread(0.6, 0.6, 0.6), since=dt.date(2025, 5, 10), fee_per_kg=0.1,
        ),
    ),
    containers=(
        Container("tote", volume_m3=0.24, tare_kg=11.0, usual_fill=0.85),
        Container("pail", volume_m3=0.0189, tare_kg=0.9),
        Container("pail", volume_m3=0.0227, tare_kg=1.1, since=dt.date(2025, 1, 1)),
    ),
    materials=(
        Material("kitchen scraps", also=("food scraps",), like="food-scraps", before="landfill"),
        Material("spent grain", like="spent-grain", before="fed to animals"),
        Material("cut flowers", like="cut-flowers", before="incinerator",
                 density=Spread(80.0, 100.0, 130.0)),
        Material("office paper", like="office-paper", before="landfill"),
    ),
    sources=tuple(Source(name, also=(name.split()[0].lower(),)) for name in SOURCES),
    sponsors=(
        Sponsor("Two Oaks Credit Union", funds=0.25),
        Sponsor("Two Oaks Credit Union", funds=0.4, since=dt.date(2025, 4, 15)),
        Sponsor("Quillmarsh School", supplies=(OWN,), funds=0.1),
    ),
    beds=(Bed("Bed 1", area_m2=3.0, worms_kg_per_m2=5.0), Bed("Bed 2", area_m2=6.0)),
    grants=(Grant("Soil and Streams Fund", "SSF-118", dt.date(2024, 7, 1), dt.date(2026, 6, 30)),),
    targets_kg=((2024, 5000.0), (2025, 9000.0)),
    report=Report(activities=("volunteer hours",)),
    toml="[site]\nname = \"Kestrel Bend Community Farm\"\n",
)  # fmt: skip


def rows(seed: int = 1, count: int = 400) -> list[dict[str, object]]:
    """Return ledger rows over fifteen months: loads of every basis, and all that is not a load."""
    pick = random.Random(seed)
    out: list[dict[str, object]] = []
    for number in range(count):
        day = dt.date(2024, 4, 1) + dt.timedelta(days=pick.randrange(455))
        row: dict[str, object] = {
            "kind": "intake", "date": day, "source": pick.choice((*SOURCES, None)),
            "material": pick.choice(("kitchen scraps", "kitchen scraps", "spent grain",
                                     "cut flowers", "office paper")),
            "file": pick.choice(("log 2024.xlsx", "harrow log.csv")), "sheet": f"{day:%b}",
            "row": number + 2, "column": "F", "found": "",
            "note": SECRET_NOTE if number % 9 == 0 else "",
        }  # fmt: skip
        way = pick.randrange(5)
        count_ = float(pick.randint(1, 4))
        if way == 0:
            row |= {"mass_kg": round(pick.uniform(5, 90), 1), "found": "weighed"}
        elif way == 1:
            row |= {"count": count_, "container": "tote", "fill": pick.choice((0.5, 0.75, 1.0)),
                    "found": f"{count_:g} totes, how full said"}  # fmt: skip
        elif way == 2:
            row |= {"count": count_, "container": "pail", "found": f"{count_:g} pails"}
        elif way == 3:
            part = 0.5 if number % 4 == 0 else 0.0  # the last tote half full
            gross = round(40 + 11 * count_ + pick.uniform(0, 60), 1)
            row |= {"gross_kg": gross, "count": count_ - part, "container": "tote",
                    "found": "gross"}  # fmt: skip
        else:
            row |= {"volume_m3": round(pick.uniform(0.05, 0.6), 3), "found": "outright"}
        if pick.random() < 0.2:
            row |= {"removed_kg": round(pick.uniform(0.2, 3), 2)}
        elif pick.random() < 0.1:
            row |= {"removed_share": 0.05}
        if pick.random() < 0.05:
            row |= {"before": "donated as food"}
        if pick.random() < 0.2:
            row |= {"destination": "bed 1"}
        if pick.random() < 0.1 and row["material"] == "kitchen scraps":
            volume = round(pick.uniform(0.05, 0.3), 3)
            row |= {"mass_kg": round(volume * pick.uniform(380, 470), 1), "volume_m3": volume,
                    "count": None, "container": None, "gross_kg": None, "fill": None}  # fmt: skip
        out.append(row)
    base = {"kind": "process", "file": "piles.csv", "name": "Pile A"}
    for number, hot in enumerate((120.0, 131.0, 140.0, 138.0)):
        on = {**base, "date": dt.date(2025, 4, 10 + number), "row": number + 2}
        out += [{**on, "amount": hot, "unit": "°F"}, {**on, "amount": 48.5 + number, "unit": "%"}]
    out.append({**base, "date": dt.date(2025, 4, 12), "amount": 1.0, "unit": "turned", "row": 4})
    for month in range(15):
        day = dt.date(2024 + (month + 3) // 12, (month + 3) % 12 + 1, 20)
        base = {"date": day, "file": "log 2024.xlsx", "sheet": "Out", "row": month + 2}
        out += [
            {**base, "kind": "residue", "mass_kg": 4.0 + month / 3, "found": "residue"},
            {**base, "kind": "harvest", "material": "castings", "volume_m3": 0.4,
             "mass_kg": 210.0 + month, "destination": pick.choice(("school garden", "sold"))},
            {**base, "kind": "fuel", "name": "diesel", "amount": 12.5, "unit": "L"},
            {**base, "kind": "activity", "name": "volunteer hours", "amount": 31.0 + month,
             "unit": "hours"},
            {**base, "kind": "activity", "name": "Money spent", "amount": 400.0, "currency": "USD"},
            {**base, "kind": "sale", "material": "castings", "count": 10.0, "amount": 120.0,
             "destination": "Plum & Pear Market"},
            {**base, "kind": "disposed", "mass_kg": 30.0},
            {**base, "kind": "moved", "material": "castings", "mass_kg": 15.0},
        ]  # fmt: skip
        if month % 3 == 0:
            out += [
                {**base, "kind": "removed", "source": OWN, "mass_kg": 1.5, "found": "bag"},
                {**base, "kind": "removed", "mass_kg": 2.5, "found": "bags"},
                {**base, "kind": "rejected", "source": SOURCES[3], "material": "kitchen scraps",
                 "mass_kg": 44.0},
                {**base, "kind": "weigh-in", "material": "spent grain", "volume_m3": 0.2,
                 "mass_kg": 70.0 + month},
            ]  # fmt: skip
    return out


def reading(entries: list[dict[str, object]] | None = None) -> Reading:
    frame = books.tidy(pd.DataFrame(rows() if entries is None else entries))
    aside = [["log 2024.xlsx", "May", 31, "F", "see Rosalind", "quantity unreadable"]]
    skipped = [["log 2024.xlsx", "May", 40, "A", "Total", "total or subtotal", pd.NaT, 1]]
    finding = Finding(
        "refused", "quantity unreadable", Text("I cannot read the quantity."),
        Where("log 2024.xlsx", "May", 31, "F"), found="see Rosalind",
    )  # fmt: skip
    about_other = Finding(
        "query", "row repeated exactly", Text("Tern Street Kitchen has the same row twice."),
        Where("harrow log.csv", "", 12, "F"), found="3 totes",
    )  # fmt: skip
    return Reading(
        frame,
        pd.DataFrame(aside, columns=list(SET_ASIDE_COLUMNS)),
        pd.DataFrame(skipped, columns=list(SKIPPED_COLUMNS)),
        (finding, about_other),
        inputs=(
            InputFile("harrow log.csv", "ab" * 32, 900),
            InputFile("log 2024.xlsx", "cd" * 32, 12000),
        ),
    )


@lru_cache
def workings() -> Workings:
    return work_out(SITE, reading(), load_factors())


def site(**changes: object) -> Site:
    return replace(SITE, **changes)  # type: ignore[arg-type]
