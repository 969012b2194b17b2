"""A small site worked out by hand: every figure of a quarter, in plain arithmetic from literals.

Densities, decay and warming numbers are written out here as published: food scraps 425 kg/m³
(Merseyside table), castings 650 (the built-in list), DOC 0.15 and 0.20, k 0.185 and 0.10 a year
(IPCC 2006, Volume 5, Tables 2.4 and 3.3; 40 CFR 98 Table HH-1), DOCf 0.5 and 0.7, composting 4 g CH4
and 0.24 g N2O per kg (Table 4.1), AR6 27 and 273, gasoline 8.78 kg CO2 per US gallon.
"""

from __future__ import annotations

import datetime as dt
import math
from functools import lru_cache

import pytest
from small_site import STARTED, reading, site

from divert.convert import work_out
from divert.core.period import read_period
from divert.factors import load_factors
from divert.figures.compute import figures_for
from divert.figures.contract import Figures
from divert.site.model import Landfill, Sponsor, Spread

AS_OF = dt.date(2025, 4, 20)
NORTH, SOUTH, BREWERY = "North kitchen", "South kitchen", "Brewery"
SCRAPS = {"material": "kitchen scraps"}


def on(year: int, month: int, day: int, **row: object) -> dict[str, object]:
    return {"date": dt.date(year, month, day), **row}


ROWS = (
    on(2024, 1, 20, source=BREWERY, material="spent grain", mass_kg=500.0),
    on(2024, 2, 14, source=NORTH, mass_kg=80.0, **SCRAPS),
    on(2024, 11, 5, source=SOUTH, mass_kg=60.0, **SCRAPS),
    on(2024, 12, 15, kind="removed", source=SOUTH, mass_kg=2.0),  # no intake that month
    on(2025, 1, 10, source=NORTH, mass_kg=100.0, removed_kg=5.0, **SCRAPS),
    on(2025, 1, 10, source=SOUTH, container="tote", count=3, fill=0.75, **SCRAPS),
    on(2025, 1, 17, source=SOUTH, container="pail", count=2, **SCRAPS),
    on(2025, 1, 31, kind="removed", source=SOUTH, mass_kg=3.0),
    on(2025, 2, 3, source=NORTH, container="tote", count=2, **SCRAPS),
    on(
        2025, 2, 3, source=BREWERY, material="spent grain", gross_kg=52.0, container="tote", count=1
    ),
    on(2025, 2, 20, source=NORTH, material="flowers", volume_m3=1.0, removed_share=0.1),
    on(2025, 2, 28, kind="removed", mass_kg=4.0),
    on(2025, 3, 5, source=NORTH, mass_kg=40.0, before="donated as food", **SCRAPS),
    on(2025, 3, 5, source=SOUTH, mass_kg=30.0, before="incinerator", **SCRAPS),
    on(2025, 3, 12, kind="moved", mass_kg=25.0, **SCRAPS),
    on(2025, 3, 12, before="moved on site", mass_kg=7.0, **SCRAPS),
    on(2025, 3, 12, kind="rejected", source=SOUTH, mass_kg=15.0, **SCRAPS),
    on(2025, 3, 13, kind="rejected", source=SOUTH, **SCRAPS),
    on(2025, 3, 28, kind="residue", mass_kg=12.0),
    on(2025, 2, 10, kind="fuel", name="gasoline", amount=20.0, unit="l"),
    on(2025, 3, 30, kind="disposed", mass_kg=200.0),
    on(2025, 3, 15, kind="sale", material="castings", count=5, amount=50.0, currency="USD"),
    on(2025, 3, 1, kind="activity", name="volunteer hours", amount=12.0, unit="hours"),
    on(2025, 3, 2, kind="activity", name="spent", amount=400.0, currency="USD"),
    on(2025, 3, 20, kind="harvest", material="castings", volume_m3=0.1, destination="garden"),
    on(2025, 4, 2, source=NORTH, mass_kg=33.0, **SCRAPS),  # after the quarter
)

# Masses of the quarter, row by row.
TOTES = 3 * 0.1 * 0.75 * 425  # published density
PAILS = 2 * 0.02 * 0.8 * 425  # nobody said how full, nor what is usual
USUAL = 2 * 0.1 * 0.9 * 425  # the container's usual fill
GRAIN = 52 - 1 * 2.0  # gross less tare
FLOWERS = 1.0 * 100  # stated density
RECEIVED = 100 + TOTES + PAILS + USUAL + GRAIN + FLOWERS + 40 + 30
REMOVED = 5 + 3 + 0.1 * FLOWERS + 4

# The removed row of February names no source: over the site's month, net of what each row lost.
FEBRUARY = USUAL + GRAIN + 0.9 * FLOWERS
north_net = 95 + USUAL - 4 * USUAL / FEBRUARY
grain_net = GRAIN - 4 * GRAIN / FEBRUARY
flowers_net = 0.9 * FLOWERS - 4 * 0.9 * FLOWERS / FEBRUARY
south_net = TOTES + PAILS - 3
# Residue of March 2025 falls on April 2024 to March 2025: the 60 kg of November are in, 2024's first
# quarter is out.
WINDOW = north_net + grain_net + flowers_net + (south_net + 60) + 40 + 30
r = 12 / WINDOW
NORTH_SCRAPS = north_net - r * north_net  # claimed, landfill
SOUTH_SCRAPS = south_net - r * (south_net + 60)
BURNT = 30 - r * 30
FLORAL = flowers_net - r * flowers_net
ANIMALS = grain_net - r * grain_net
DONATED = 40 - r * 40
DIVERTED = NORTH_SCRAPS + SOUTH_SCRAPS + BURNT + FLORAL
NOT_CLAIMED = ANIMALS + DONATED


def per_kg(doc: float, k: float, docf: float = 0.5, years: float = 100) -> float:
    return (
        doc * docf * 1.0 * 0.5 * 16 / 12 * (1 - math.exp(-k * years)) * (1 - 0.5) * (1 - 0.1) * 27
    )


FOOD_KG = NORTH_SCRAPS + SOUTH_SCRAPS
LANDFILL = FOOD_KG * per_kg(0.15, 0.185) + FLORAL * per_kg(0.20, 0.10)
COMPOSTING_PER_KG = 0.004 * 27 + 0.00024 * 273
PROCESS = (RECEIVED - REMOVED - 40) * COMPOSTING_PER_KG
FUEL = 20 * 8.78 / 3.785411784


@lru_cache
def figures(sponsor: str | None = None, label: str = "2025-Q1") -> Figures:
    here = site(
        landfills=(Landfill(gas_captured=Spread(0.5, 0.5, 0.5), fee_per_kg=0.06),),
        sponsors=(
            Sponsor("Larch Bank", funds=0.25, since=dt.date(2024, 6, 1)),
            Sponsor("Larch Bank", funds=0.5, since=dt.date(2025, 2, 1)),
            Sponsor("North School", supplies=(NORTH,)),
        ),
        targets_kg=((2025, 1000.0), (2026, 2000.0)),
        closed=((dt.date(2025, 1, 1), dt.date(2025, 1, 5)),),
    )
    period = read_period(label, as_of=AS_OF, started=STARTED)
    return figures_for(work_out(here, reading(*ROWS), load_factors()), period, AS_OF, sponsor)


def near(value: float) -> object:
    return pytest.approx(value, rel=1e-9, abs=1e-9)


def test_the_balance() -> None:
    mass = figures().mass
    assert mass.received.central == near(RECEIVED)
    assert mass.removed.central == near(REMOVED)
    assert mass.residue.central == near(12)
    assert mass.diverted.central == near(DIVERTED)
    assert mass.not_claimed.central == near(NOT_CLAIMED)
    assert mass.thrown_away is not None and mass.thrown_away.central == near(REMOVED + 12)
    assert near(DIVERTED + NOT_CLAIMED + REMOVED + 12) == RECEIVED


def test_what_is_not_claimed_and_what_is_by_fate() -> None:
    shown = figures()
    assert {k: v.central for k, v in shown.not_claimed.items()} == {
        "fed to animals": near(ANIMALS),
        "donated as food": near(DONATED),
    }
    assert {k: v.central for k, v in shown.diverted_by_before.items()} == {
        "landfill": near(FOOD_KG + FLORAL),
        "incinerator": near(BURNT),
    }


def test_moved_and_rejected_are_listed_only() -> None:
    assert figures().moved.central == near(25 + 7)
    assert figures().rejected.central == near(15)  # the other load has no weight


def test_by_source_material_and_month() -> None:
    shown = figures()
    sources = {p.name: p for p in shown.by_source}
    assert sources[NORTH].received.central == near(100 + USUAL + FLOWERS + 40)
    assert sources[NORTH].diverted.central == near(NORTH_SCRAPS + FLORAL)
    assert sources[NORTH].not_claimed.central == near(DONATED)
    thrown = 5 + 10 + 4 * (USUAL + 0.9 * FLOWERS) / FEBRUARY + r * (north_net + flowers_net + 40)
    assert sources[NORTH].thrown_away.central == near(thrown)
    assert sources[SOUTH].diverted.central == near(SOUTH_SCRAPS + BURNT)
    assert sources[BREWERY].diverted.central == near(0)
    assert sources[BREWERY].not_claimed.central == near(ANIMALS)
    assert [p.name for p in shown.by_source] == [NORTH, SOUTH, BREWERY]
    materials = {p.name: p for p in shown.by_material}
    assert materials["flowers"].diverted.central == near(FLORAL)
    assert materials["spent grain"].received.central == near(GRAIN)
    assert [m.month for m in shown.by_month] == ["2025-01", "2025-02", "2025-03"]
    assert [m.received.central for m in shown.by_month] == [
        near(100 + TOTES + PAILS), near(USUAL + GRAIN + FLOWERS), near(70)
    ]  # fmt: skip
    claimed_residue = r * (north_net + south_net + 60 + 30 + flowers_net)
    assert [m.diverted.central for m in shown.by_month] == [
        near(95 + south_net),
        near(north_net - 95 + flowers_net),
        near(30 - claimed_residue),
    ]
    # March 2024 and January 2024 brought nothing that was claimed; February 80 kg.
    last_year = [m.same_month_last_year for m in shown.by_month]
    assert [m and m.central for m in last_year] == [near(0), near(80), near(0)]


def test_basis_shares() -> None:
    basis = figures().basis
    assert basis["weighed"] == near((100 + GRAIN + 40 + 30) / RECEIVED)
    assert basis["published density"] == near((TOTES + PAILS + USUAL) / RECEIVED)
    assert basis["stated density"] == near(FLOWERS / RECEIVED)
    assert basis["measured density"] == 0


def test_emissions() -> None:
    shown = figures()
    assert shown.emissions.landfill_avoided.central == near(LANDFILL)
    assert shown.emissions.process.central == near(PROCESS)
    assert shown.emissions.fuel.central == near(FUEL)
    assert shown.emissions.net_avoided.central == near(LANDFILL - PROCESS - FUEL)
    twenty = FOOD_KG * per_kg(0.15, 0.185, years=20) + FLORAL * per_kg(0.20, 0.10, years=20)
    assert shown.emissions_within["20"].central == near(twenty)
    assert shown.emissions_within["100"].central == near(LANDFILL)
    higher = FOOD_KG * per_kg(0.15, 0.185, 0.7) + FLORAL * per_kg(0.20, 0.10, 0.7)
    assert shown.sensitivity["landfill_avoided"] == near(higher)
    methane = {m.year: m.kg_ch4 for m in shown.methane_by_year}
    assert methane[2025] == 0  # six months' delay: nothing in the year of deposit
    food, floral = (w * doc * 0.5 * 0.5 * 16 / 12 * 0.5 * 0.9
                    for w, doc in ((FOOD_KG, 0.15), (FLORAL, 0.20)))  # fmt: skip
    for n in (1, 2, 10):
        made = food * (math.exp(-0.185 * (n - 1)) - math.exp(-0.185 * n))
        made += floral * (math.exp(-0.10 * (n - 1)) - math.exp(-0.10 * n))
        assert methane[2025 + n] == near(made)
    assert sum(methane.values()) == near(LANDFILL / 27)


def test_screening_is_landfill_against_landfill() -> None:
    # US EPA, Emission Factors for Greenhouse Gas Inventories (2026), Table 9: food waste landfilled
    # 0.68 t CO2e per short ton of 907.18474 kg.
    rows = {(s.set, s.class_): s for s in figures().screening}
    food = rows["us-2026", "food"]
    assert food.landfill_avoided == pytest.approx(FOOD_KG * 680 / 907.18474, rel=1e-8)
    assert food.ours == near(FOOD_KG * per_kg(0.15, 0.185))


def test_neighbouring_periods_cumulative_and_targets() -> None:
    shown = figures()
    assert shown.previous is not None and shown.same_period_last_year is not None
    # The 2 kg of December found no load in their month: residue, over the year's 640 kg.
    quarter_four = 60 - 2 * (80 + 60) / 640
    assert shown.previous.period == "2024-Q4"
    assert shown.previous.diverted.central == near(quarter_four)  # type: ignore[union-attr]
    assert shown.previous.received.central == near(60)  # type: ignore[union-attr]
    assert shown.same_period_last_year.diverted.central == near(80)  # type: ignore[union-attr]
    assert shown.same_period_last_year.received.central == near(580)  # type: ignore[union-attr]
    assert shown.cumulative.since == STARTED
    assert shown.cumulative.diverted.central == near(80 + quarter_four + DIVERTED)
    assert [(t.year, t.target) for t in shown.targets] == [(2025, 1000.0)]
    assert shown.targets[0].diverted.central == near(DIVERTED)
    years = {s.label: s for s in shown.by_year}
    assert years["2024"].diverted.central == near(80 + quarter_four)
    assert years["2024"].weighed_kg == near(640)
    assert not years["2024"].partial and years["2025"].partial


def test_residue_of_a_quarter_with_no_intake_of_its_own_is_an_adjustment() -> None:
    december = figures(label="2024-12")
    assert december.mass.received.central == 0
    assert december.mass.residue.central == near(2)
    assert december.mass.removed.central == 0
    assert december.mass.diverted.central == near(-2 * 140 / 640)
    assert december.mass.not_claimed.central == near(-2 * 500 / 640)


def test_supplied() -> None:
    supplied = figures("North School").supplied
    assert supplied is not None
    brought = 100 + USUAL + FLOWERS + 40
    share = brought / RECEIVED
    assert supplied.share == near(share)
    assert supplied.received.central == near(brought)
    assert supplied.diverted.central == near(NORTH_SCRAPS + FLORAL)
    avoided = NORTH_SCRAPS * per_kg(0.15, 0.185) + FLORAL * per_kg(0.20, 0.10)
    composted = (north_net + flowers_net) * COMPOSTING_PER_KG
    assert supplied.net_avoided.central == near(avoided - composted - share * FUEL)
    assert supplied.basis["weighed"] == near(140 / brought)
    assert figures("North School").supported is None


def test_supported_follows_a_change_of_funds() -> None:
    supported = figures("Larch Bank").supported
    assert supported is not None
    january, later = 95 + south_net, DIVERTED - 95 - south_net
    funded = 0.25 * january + 0.5 * later
    assert supported.diverted.central == near(funded)
    assert supported.share == near(funded / DIVERTED)
    avoided = 0.25 * january * per_kg(0.15, 0.185) + 0.5 * (
        (FOOD_KG - january) * per_kg(0.15, 0.185) + FLORAL * per_kg(0.20, 0.10)
    )
    january_composted = 95 + south_net
    composted = 0.25 * january_composted + 0.5 * (RECEIVED - REMOVED - 40 - january_composted)
    expected = avoided - composted * COMPOSTING_PER_KG - funded / DIVERTED * FUEL
    assert supported.net_avoided.central == near(expected)
    assert figures("Larch Bank").supplied is None


def test_nothing_is_supported_before_a_sponsor_began() -> None:
    early = figures("Larch Bank", "2024-02").supported
    assert early is not None
    assert (early.diverted.central, early.share) == (0, 0)


def test_rate_money_activities_and_product() -> None:
    shown = figures()
    assert shown.diversion_rate is not None
    assert shown.diversion_rate.disposed.central == near(200)
    assert shown.diversion_rate.rate == near(DIVERTED / (DIVERTED + REMOVED + 12 + 200))
    money = shown.money
    assert money.disposal_fee_avoided is not None
    assert money.disposal_fee_avoided.central == near(0.06 * DIVERTED)
    assert (money.sales, money.bags, money.spent) == (50, 5, 400)
    assert money.spent_per_tonne == near(400 / (DIVERTED / 1000))
    # Nothing was spent in the quarters before this one, which is not recorded, and not zero.
    *earlier, now = shown.money_by_quarter
    assert [(q.spent, q.spent_per_tonne) for q in earlier] == [(None, None)] * len(earlier)
    assert (now.label, now.spent) == ("2025-Q1", 400)
    assert now.spent_per_tonne == near(400 / (DIVERTED / 1000))
    assert [(a.name, a.amount, a.unit) for a in shown.activities] == [
        ("volunteer hours", 12.0, "hours")
    ]
    (castings,) = shown.harvest
    assert (castings.product, castings.destination) == ("castings", "garden")
    assert castings.mass_kg is not None and castings.mass_kg.central == near(0.1 * 650)
    assert shown.yield_ is not None and shown.yield_.share is not None
    fed = 60 + RECEIVED - REMOVED - 40  # 12 months to the end of March
    assert shown.yield_.fed.central == near(fed)
    assert shown.yield_.share == near(65 / fed)


def test_weeks() -> None:
    # Thirteen weeks have their Thursday in the quarter, from that of Monday 30 December 2024, which
    # was closed. Entries fall in those of 6 and 13 January, 3 and 17 February, 3 and 10 March.
    weeks = figures().weeks
    assert (weeks.in_period, weeks.logged, weeks.closed, weeks.missing) == (13, 6, 1, 6)
    assert weeks.missing_weeks[0] == dt.date(2025, 1, 20)


def test_seen_is_used_and_set_aside_and_skipped() -> None:
    rows = figures().rows
    assert (rows.seen, rows.used, rows.set_aside, rows.skipped) == (len(ROWS), len(ROWS), 0, 0)


def test_ranges_hold_their_centre() -> None:
    shown = figures()
    for amount in (shown.mass.received, shown.mass.diverted, shown.emissions.net_avoided):
        assert amount.low < amount.central < amount.high
