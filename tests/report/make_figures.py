"""A made-up set of figures that balances, for the report tests: two years of a small worm yard.

Every number is put together from the monthly table below by sums, so that what a page shows can be
checked by hand. No engine of the tool is used.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from pathlib import Path

from divert.core.findings import Finding, Where
from divert.core.words import Text
from divert.figures.contract import (
    Activity,
    Compared,
    Cumulative,
    Density,
    DiversionRate,
    Emissions,
    FactorUsed,
    Figures,
    Mass,
    Money,
    Month,
    Part,
    PeriodShown,
    Range,
    Rows,
    Screening,
    Span,
    Supplied,
    Supported,
    Target,
    Weeks,
    YearMethane,
)
from divert.figures.yard import BedLoad, Harvest, Yield  # fmt: skip
from divert.site.model import Bed, Grant, Landfill, Report, Site, Source, Sponsor

LB = 0.45359237
SPREAD = (0.90, 1.13)

# Pounds received per month of 2024 and 2025, January to December.
RECEIVED_LB = {
    2024: (1100, 1010, 1390, 1720, 1880, 2030, 2090, 2140, 1990, 1870, 1560, 1190),
    2025: (1390, 1330, 1850, 2090, 2510, 2890, 2930, 2870, 2700, 2540, 2100, 1650),
}
# material: share of received, of which not claimed, of which thrown away
MATERIALS = {
    "Kitchen scraps": (0.46, 0.0, 0.10),
    "Spent grain": (0.22, 1.0, 0.0),
    "Juice pulp": (0.16, 0.0, 0.04),
    "Cut flowers": (0.08, 0.0, 0.12),
    "Office paper": (0.05, 0.0, 0.02),
    "Leaves": (0.03, 0.0, 0.05),
}
SOURCES = {
    "Quillmarsh School kitchen": 0.18,
    "Harrow Lane Brewery": 0.22,
    "Pressed & Poured Juice Bar": 0.16,
    "Marigold Stem Florist": 0.08,
    "Tern Street Kitchen": 0.28,
    "Alder House Offices": 0.08,
}


def around(central: float, spread: tuple[float, float] = SPREAD) -> Range:
    """Return a range about a central value."""
    low, high = sorted((central * spread[0], central * spread[1]))
    return Range(central, low, high)


def change(now: float, then: float) -> Range:
    """Return a difference known to a fiftieth of what is now."""
    return Range(now - then, now - then - now / 50, now - then + now / 50)


def part(name: str, received: float, not_claimed: float, thrown: float) -> Part:
    """Return a material or source from its masses in kg."""
    return Part(
        name,
        around(received),
        around(received - not_claimed - thrown),
        around(not_claimed),
        around(thrown),
    )


def materials(received_kg: float) -> tuple[Part, ...]:
    """Return the mix of a mass received."""
    out = []
    for name, (share, unclaimed, thrown) in MATERIALS.items():
        mass = received_kg * share
        out.append(part(name, mass, mass * unclaimed, mass * thrown))
    return tuple(out)


def total(parts: tuple[Part, ...]) -> Mass:
    """Return the masses of all parts together; a third of what was thrown away is residue."""
    thrown = sum(p.thrown_away.central for p in parts)
    return Mass(
        received=around(sum(p.received.central for p in parts)),
        removed=around(thrown * 2 / 3),
        residue=around(thrown / 3),
        not_claimed=around(sum(p.not_claimed.central for p in parts)),
        diverted=around(sum(p.diverted.central for p in parts)),
        thrown_away=around(thrown),
    )


DIVERTED = sum(share * (1 - a - b) for share, a, b in MATERIALS.values())


def month(year: int, number: int, share: float = 1.0, partial: bool = False) -> Month:
    """Return one month of the yard (or of a share of it)."""
    kg = RECEIVED_LB[year][number - 1] * LB * share
    before = RECEIVED_LB[2024][number - 1] * LB * DIVERTED * share if year == 2025 else None
    return Month(
        f"{year}-{number:02d}",
        around(kg),
        around(kg * DIVERTED),
        None if before is None else around(before),
        partial,
        None if before is None else change(kg * DIVERTED, before),
    )


def months(count_from: int, count_to: int, share: float = 1.0) -> tuple[Month, ...]:
    """Return months numbered from January 2024 = 0, both ends included."""
    return tuple(month(2024 + n // 12, n % 12 + 1, share) for n in range(count_from, count_to + 1))


def emissions(diverted: float) -> Emissions:
    """Return emissions of a diverted mass, as round factors give them."""
    return Emissions(
        landfill_avoided=around(diverted * 0.92, (0.45, 1.62)),
        process=around(diverted * 0.19, (0.6, 1.7)),
        fuel=around(diverted * 0.01, (1.0, 1.0)),
        net_avoided=around(diverted * 0.72, (0.38, 1.68)),
    )


def supplied(
    share: float, source: str, received: float, year: int, first: int, last: int
) -> Supplied:
    """Return what one source brought: a plain share of everything."""
    parts = materials(received * share)
    mass = total(parts)
    return Supplied(
        share=share,
        received=mass.received,
        diverted=mass.diverted,
        net_avoided=emissions(mass.diverted.central).net_avoided,
        mass=mass,
        by_material=parts,
        by_source=(
            Part(
                source,
                mass.received,
                mass.diverted,
                mass.not_claimed,
                around(mass.removed.central + mass.residue.central),
            ),
        ),
        by_month=tuple(month(year, m, share) for m in range(first, last + 1)),
        not_claimed_by={"fed to animals": mass.not_claimed},
        basis={"weighed": 0.91, "measured density": 0.09, "stated density": 0.0,
               "published density": 0.0},
        history=months(
            max(0, 12 * (year - 2024) + last - 24), 12 * (year - 2024) + last - 1, share
        ),
    )  # fmt: skip


def figures(
    *, sponsor: str | None = None, supplies: str | None = None, funds: float | None = None
) -> Figures:
    """Return the second quarter of 2025."""
    start, end = dt.date(2025, 4, 1), dt.date(2025, 6, 30)
    received = sum(RECEIVED_LB[2025][3:6]) * LB
    parts = materials(received)
    mass = total(parts)
    sources = []
    for name, share in SOURCES.items():
        sources.append(
            Part(
                name,
                around(received * share),
                around(mass.diverted.central * share),
                around(mass.not_claimed.central * share),
                around((mass.removed.central + mass.residue.central) * share),
            )
        )
    e = emissions(mass.diverted.central)
    last_year = sum(RECEIVED_LB[2024][3:6]) * LB
    return Figures(
        site="Kestrel Bend Community Farm",
        period=PeriodShown("2025-Q2", start, end, False, "quarter", dt.date(2025, 6, 28)),
        as_of=dt.date(2025, 7, 3),
        sponsor=sponsor,
        rows=Rows(seen=233, used=212, set_aside=5, skipped=16, queries=9),
        mass=mass,
        not_claimed={"fed to animals": mass.not_claimed},
        moved=around(210.0),
        rejected=around(64.0),
        basis={"weighed": 0.58, "measured density": 0.31, "stated density": 0.0,
               "published density": 0.11},
        by_material=parts,
        by_source=tuple(sources),
        by_month=tuple(month(2025, m) for m in (4, 5, 6)),
        emissions=e,
        emissions_within={"20": around(e.landfill_avoided.central * 0.86, (0.45, 1.62)),
                          "100": e.landfill_avoided},
        methane_by_year=tuple(
            YearMethane(2026 + i, mass.diverted.central * 0.0055 * 0.83**i) for i in range(30)
        ),
        sensitivity={"landfill_avoided": e.landfill_avoided.central * 1.21},
        screening=(
            Screening("Screening set A", "food", mass.diverted.central * 0.7,
                      mass.diverted.central * 0.66, "national average landfill"),
        ),
        harvest=(
            Harvest("worm castings", 0.62, around(277.0), "bagged for the spring plant sale"),
            Harvest("worm castings", 0.39, around(172.0), "school gardens"),
            Harvest("compost", 1.53, around(760.0), "own beds"),
        ),
        yield_=Yield(around(9200.0), around(3300.0), 3300 / 9200),
        beds=(
            BedLoad("Bed 1", 3.4, 2.787, 13.6, "ordinary", 0.7),
            BedLoad("Bed 2", 7.9, 2.787, 13.6, "ask", 1.62),
        ),
        diversion_rate=DiversionRate(mass.diverted, around(900.0), 0.69),
        activities=(
            Activity("volunteer hours", 146.0, "hours"),
            Activity("workshop visitors", 83.0, "people"),
        ),
        money=Money("USD", around(226.0), 940.0, 118.0, 1830.0, 760.0),
        supplied=supplied(0.18, supplies, received, 2025, 4, 6) if supplies else None,
        supported=Supported(funds, mass.diverted.times(funds), e.net_avoided.times(funds))
        if funds
        else None,
        previous=Compared(
            "2025-Q1", dt.date(2025, 1, 1), dt.date(2025, 3, 31),
            around(sum(RECEIVED_LB[2025][:3]) * LB * DIVERTED),
            around(sum(RECEIVED_LB[2025][:3]) * LB),
        ),
        same_period_last_year=Compared(
            "2024-Q2", dt.date(2024, 4, 1), dt.date(2024, 6, 30),
            around(last_year * DIVERTED), around(last_year),
            change=change(mass.diverted.central, last_year * DIVERTED),
        ),
        cumulative=Cumulative(dt.date(2024, 1, 1), around(
            (sum(RECEIVED_LB[2024]) + sum(RECEIVED_LB[2025][:6])) * LB * DIVERTED)),
        targets=(Target(2025, 12 * 907.18474, around(sum(RECEIVED_LB[2025][:6]) * LB * DIVERTED)),),
        weeks=Weeks(13, 12, 0, 1, (dt.date(2025, 5, 26),)),
        densities=(
            Density("Kitchen scraps", "loose", "measured density", 463.0, 431.0, 495.0, 14, 350.0,
                    650.0, 31),
            Density("Leaves", "loose", "published density", 120.0, 60.0, 180.0, 0),
        ),
        findings=(
            Finding("refused", "no date", Text("There is no date in this row."),
                    Where("log 2025.xlsx", "May", 14, "A")),
            Finding("query", "fill not recorded", Text("How full the totes were is not recorded."),
                    Where("log 2025.xlsx", "Apr"), rows=31, name="tote"),
        ),
        factors=(
            FactorUsed("density.leaves.loose", 120, 60, 180, "kg/m3",
                       "US EPA, Volume-to-Weight Conversion Factors, 2016, yard trimmings", "read",
                       0.03),
            FactorUsed("density.office-paper.loose", 90, 60, 130, "kg/m3", "Common practice",
                       "memory", 0.14),
            FactorUsed("doc.food", 0.15, 0.08, 0.20, "share",
                       "IPCC 2006 Guidelines, Volume 5, Table 2.4", "read"),
            FactorUsed("composting.ch4", 4, 0.03, 8, "g/kg",
                       "IPCC 2006 Guidelines, Volume 5, Table 4.1", "read"),
            FactorUsed("gwp.AR6.ch4", 27.0, 27.0, 27.0, "kg/kg",
                       "IPCC AR6, Working Group I, Table 7.15", "read"),
        ),
        history=months(0, 17),
        by_quarter=tuple(
            Span(
                f"{2024 + q // 4}-Q{q % 4 + 1}",
                dt.date(2024 + q // 4, q % 4 * 3 + 1, 1),
                dt.date(2024 + q // 4, q % 4 * 3 + 3, 30 if q % 4 in (1, 2) else 31),
                around(sum(RECEIVED_LB[2024 + q // 4][q % 4 * 3 : q % 4 * 3 + 3]) * LB),
                around(sum(RECEIVED_LB[2024 + q // 4][q % 4 * 3 : q % 4 * 3 + 3]) * LB * DIVERTED),
                sum(RECEIVED_LB[2024 + q // 4][q % 4 * 3 : q % 4 * 3 + 3]) * LB * 0.58,
                False,
            )
            for q in range(6)
        ),
        by_year=(
            Span("2024", dt.date(2024, 1, 1), dt.date(2024, 12, 31),
                 around(sum(RECEIVED_LB[2024]) * LB), around(sum(RECEIVED_LB[2024]) * LB * DIVERTED),
                 sum(RECEIVED_LB[2024]) * LB * 0.5, False),
            Span("2025", dt.date(2025, 1, 1), dt.date(2025, 6, 30),
                 around(sum(RECEIVED_LB[2025][:6]) * LB),
                 around(sum(RECEIVED_LB[2025][:6]) * LB * DIVERTED),
                 sum(RECEIVED_LB[2025][:6]) * LB * 0.58, True),
        ),
        diverted_by_before={"landfill": mass.diverted, "incinerator": Range(0.0, 0.0, 0.0)},
    )  # fmt: skip


def site(folder: Path, **changes: object) -> Site:
    """Return the yard's site; ``changes`` are fields of Site."""
    made = Site(
        folder=folder,
        name="Kestrel Bend Community Farm",
        units="us",
        started=dt.date(2024, 1, 1),
        landfills=(Landfill(fee_per_kg=0.0937),),
        sources=tuple(Source(name) for name in SOURCES),
        sponsors=(
            Sponsor("Two Oaks Credit Union", funds=0.25),
            Sponsor("Quillmarsh School", supplies=("Quillmarsh School kitchen",),
                    email="kitchen@quillmarsh.example"),
            Sponsor("Tern Street Kitchen", supplies=("Tern Street Kitchen",), funds=0.1),
        ),
        beds=(Bed("Bed 1", "flow-through", 2.787, 4.88), Bed("Bed 2", "flow-through", 2.787, 4.88)),
        grants=(Grant("Soil and Streams Fund", "SSF-118", dt.date(2024, 7, 1), dt.date(2026, 6, 30),
                      0.4),),
        targets_kg=((2025, 12 * 907.18474),),
        report=Report(activities=("volunteer hours", "workshop visitors")),
    )  # fmt: skip
    return dataclasses.replace(made, **changes)  # type: ignore[arg-type]
