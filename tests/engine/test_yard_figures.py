"""What a yard needs to know: each figure worked out by hand on a site small enough for it."""

from __future__ import annotations

import dataclasses
import datetime as dt

import pytest
from small_site import STARTED, worked

from divert.convert import Workings
from divert.core.period import read_period
from divert.figures.compute import figures_for
from divert.figures.contract import Figures
from divert.site.model import Material, Source, Sponsor
from divert.trace import trace

AS_OF = dt.date(2025, 12, 31)
NORTH, SOUTH = "North kitchen", "South kitchen"


def shown(workings: Workings, label: str = "2025", sponsor: str | None = None) -> Figures:
    return figures_for(workings, read_period(label, as_of=AS_OF, started=STARTED), AS_OF, sponsor)


def load(month: int, day: int, kg: float, source: str = NORTH, **more: object) -> dict[str, object]:
    return {"date": dt.date(2025, month, day), "source": source, "material": "kitchen scraps",
            "mass_kg": kg, **more}  # fmt: skip


def test_contamination_by_source_and_quarter() -> None:
    """North sends 100 kg a month; 2 kg are picked out of each load to June, 10 of July's to September's."""
    rows = [load(m, 5, 100.0, removed_kg=2.0 if m < 7 else 10.0) for m in range(1, 10)]
    rows += [load(m, 6, 50.0, SOUTH, removed_kg=1.0) for m in range(1, 10)]
    found = shown(worked(*rows), "2025-Q3").contamination
    north = {c.quarter: c for c in found if c.source == NORTH}
    assert list(north) == ["2025-Q1", "2025-Q2", "2025-Q3"]
    assert north["2025-Q1"].share.central == pytest.approx(0.02)
    assert north["2025-Q3"].share.central == pytest.approx(0.1)
    assert (north["2025-Q3"].received_kg, north["2025-Q3"].removed_kg) == (300.0, 30.0)
    # The scale errs alike above and below the line.
    assert north["2025-Q3"].share.high == pytest.approx(0.1, rel=1e-6)
    assert [(c.source, c.quarter) for c in found if c.growing] == [(NORTH, "2025-Q3")]


def test_a_share_on_a_density_has_the_densitys_range() -> None:
    """4 kg weighed out of 1 m³ at 235 to 599 kg/m³, drawn flat and loads scattering by 15 %."""
    row = {k: v for k, v in load(2, 5, 0.0, removed_kg=4.0).items() if k != "mass_kg"}
    (found,) = shown(worked({**row, "volume_m3": 1.0})).contamination
    assert found.share.central == pytest.approx(4 / 425)
    assert 4 / 650 < found.share.low < 4 / 560 and 4 / 270 < found.share.high < 4 / 190


def test_who_takes_part_month_by_month() -> None:
    rows = [load(1, 2, 5.0), load(1, 9, 5.0), load(1, 23, 5.0), load(1, 23, 5.0, SOUTH),
            load(2, 6, 5.0), load(12, 20, 5.0, "Brewery")]  # fmt: skip
    january, february, *_, december = shown(worked(*rows)).participation
    assert (january.active, january.loads, january.new, january.lost) == (2, 4, 2, 1)  # South
    assert january.days_between == pytest.approx((7 + 14) / 2)
    assert (february.active, february.new, february.lost) == (1, 0, 1)  # North's last
    assert february.days_between == 14
    assert (december.active, december.new, december.lost) == (1, 1, 0)  # eleven days are not gone


@pytest.mark.parametrize(("day", "lost"), [(2, 1), (3, 0)])
def test_a_source_is_lost_once_it_has_not_come_for_90_days(day: int, lost: int) -> None:
    """From 2 October to the last of December are 29 + 30 + 31 = 90 days."""
    october = {p.month: p for p in shown(worked(load(10, day, 5.0))).participation}["2025-10"]
    assert october.lost == lost


def test_a_sponsor_is_told_of_the_sources_it_had_at_the_time() -> None:
    """North to the last of March, South from 1 April: 10 + 20 kg are its own, 40 and 5 are not."""
    school = (
        Sponsor("North School", supplies=(NORTH,)),
        Sponsor("North School", supplies=(SOUTH,), since=dt.date(2025, 4, 1)),
    )
    rows = [load(3, 31, 10.0), load(3, 31, 40.0, SOUTH), load(4, 1, 5.0), load(4, 1, 20.0, SOUTH)]
    own = shown(worked(*rows, sponsors=school), sponsor="North School").supplied
    assert own is not None and own.received.central == pytest.approx(30.0)
    assert own.share == pytest.approx(30 / 75)


def test_the_mix_by_hand() -> None:
    """100 kg of food (69 % moisture, 2.4 % N and C:N 15 of dry) with 20 kg of straw (12 %, 0.7 %, 80)."""
    rows = [load(3, 4, 100.0), {**load(3, 5, 20.0), "material": "straw"}]
    mix = shown(worked(*rows)).feed_mix
    assert mix is not None
    march = mix.months[2]
    dry = (31.0, 17.6)
    nitrogen = dry[0] * 0.024 + dry[1] * 0.007
    carbon = dry[0] * 0.024 * 15 + dry[1] * 0.007 * 80
    assert march.carbon_to_nitrogen == pytest.approx(carbon / nitrogen)  # 24.3
    assert march.moisture == pytest.approx((69 + 2.4) / 120)
    assert (march.fed_kg, march.known_share, march.band) == (120.0, 1.0, "ask")
    assert mix.months[0].carbon_to_nitrogen is None  # nothing went in
    food = next(m for m in mix.materials if m.material == "kitchen scraps")
    assert food.standing == "memory" and "NRAES-54" in food.source


def test_a_mix_outside_what_is_reasonable_is_a_question() -> None:
    asked = [f for f in shown(worked(load(3, 4, 100.0))).findings if f.name == "feed mix"]
    assert [f.level for f in asked] == ["query"]
    assert "69 %" in str(asked[0].message) and "nothing was changed" in str(asked[0].message)
    assert "one month" in str(asked[0].message)
    both = shown(worked(load(3, 4, 100.0), load(4, 4, 100.0))).findings
    (of_two,) = [str(f.message) for f in both if f.name == "feed mix"]
    assert "2 months" in of_two


def test_volume_reduction_over_twelve_months() -> None:
    """2 m³ and 425 kg of scraps (1 m³ at the published 425 kg/m³) in, 0.6 m³ of compost out."""
    rows = [
        {**load(3, 4, 0.0), "mass_kg": None, "volume_m3": 2.0}, load(4, 4, 425.0),
        {"kind": "harvest", "date": dt.date(2025, 9, 1), "material": "compost", "volume_m3": 0.6},
    ]  # fmt: skip
    found = shown(worked(*rows)).volume_reduction
    assert found is not None
    assert (found.in_m3, found.out_m3) == (pytest.approx(3.0), pytest.approx(0.6))
    assert found.share == pytest.approx(0.2)


def test_stock_is_half_of_what_was_fed_less_harvest_and_runs_into_the_permit() -> None:
    """1,200 kg fed in 2025, half of it lost, 200 kg harvested: 400 kg, 400 kg a year. Permit 800 kg."""
    rows = [load(m, 1, 100.0) for m in range(1, 13)]
    rows.append({"kind": "harvest", "date": dt.date(2025, 9, 1), "material": "compost",
                 "mass_kg": 200.0})  # fmt: skip
    found = shown(worked(*rows, permit_limit_kg=800.0)).stock
    assert found is not None and found.how == "worked out"
    assert found.kg.central == pytest.approx(400.0)
    assert (found.kg.low, found.kg.high) == (pytest.approx(280.0), pytest.approx(520.0))
    assert found.full_on is not None
    assert abs((found.full_on - AS_OF).days - 365) <= 1


def test_a_stocktake_goes_before_what_is_worked_out() -> None:
    rows = [load(m, 1, 100.0) for m in range(1, 13)]
    rows.append({"kind": "activity", "date": dt.date(2025, 11, 15), "name": "Stocktake",
                 "amount": 900.0, "unit": "kg"})  # fmt: skip
    found = shown(worked(*rows)).stock
    assert found is not None and found.counted_on == dt.date(2025, 11, 15)
    assert found.kg.central == pytest.approx(900.0 + 50.0)  # half of December's 100 kg
    assert found.limit_kg is None and found.full_on is None


def test_what_came_on_the_day_of_a_stocktake_lay_there_when_it_was_taken() -> None:
    """900 kg were counted on 15 November, its own 60 kg among them; of the 40 kg after, 20 stay."""
    rows = [load(11, 15, 60.0), load(11, 16, 40.0)]
    rows.append({"kind": "activity", "date": dt.date(2025, 11, 15), "name": "Stocktake",
                 "amount": 900.0, "unit": "kg"})  # fmt: skip
    found = shown(worked(*rows)).stock
    assert found is not None and found.kg.central == pytest.approx(920.0)


def test_the_longest_hot_run_is_listed_as_recorded() -> None:
    """131 °F is 55 °C. A day without a reading, or with one below, ends a run."""
    readings = [(1, 140.0), (2, 131.0), (3, 135.0), (4, 120.0), (5, 150.0), (7, 150.0)]
    rows = [{"kind": "process", "date": dt.date(2025, 5, day), "name": "Pile A", "amount": f,
             "unit": "°F"} for day, f in readings]  # fmt: skip
    rows.append({"kind": "process", "date": dt.date(2025, 5, 3), "name": "Pile A", "amount": 55.0,
                 "unit": "%"})  # moisture is no temperature  # fmt: skip
    rows += [{"kind": "process", "date": dt.date(2025, 5, 4), "name": "Pile A", "amount": n,
              "unit": unit} for n, unit in ((48.0, "%"), (2.0, "turned"))]  # fmt: skip
    (pile,) = shown(worked(load(1, 1, 5.0), *rows)).process_log
    assert (pile.driest, pile.wettest, pile.turned) == (0.48, 0.55, 2.0)
    assert (pile.days, pile.start, pile.end) == (3, dt.date(2025, 5, 1), dt.date(2025, 5, 3))
    assert pile.hottest_c == pytest.approx((150 - 32) * 5 / 9)
    assert pile.entries == 6


def test_what_the_law_kept_out_anyhow_is_received_and_not_claimed() -> None:
    scraps = Material("kitchen scraps", like="food-scraps", before="landfill",
                      required_by_law=dt.date(2025, 6, 1))  # fmt: skip
    exempt = Source(SOUTH, required_by_law=False)
    rows = [load(5, 31, 10.0), load(6, 1, 20.0), load(6, 2, 40.0, SOUTH)]
    rows.append({"kind": "removed", "date": dt.date(2025, 6, 3), "source": NORTH, "mass_kg": 2.0})
    found = shown(worked(*rows, materials=(scraps,), sources=(Source(NORTH), exempt)))
    assert found.mass.received.central == 70.0
    assert found.not_claimed["required by law"].central == pytest.approx(18.0)
    assert found.mass.diverted.central == pytest.approx(50.0)
    assert not [f for f in found.findings if f.code == "required by law not stated"]


def test_the_law_is_asked_about_once_a_year_where_it_may_be_so() -> None:
    def asked(**changes: object) -> list[str]:
        found = worked(
            load(1, 5, 10.0), {**load(6, 5, 10.0), "date": dt.date(2024, 6, 5)}, **changes
        )
        return [f.name for f in found.findings if f.code == "required by law not stated"]

    assert asked() == ["2025"]
    assert asked(country="AQ") == []
    assert asked(year_starts=7) == ["2025"]


def test_how_much_of_the_claim_rests_on_an_assumed_fate() -> None:
    silent = Material("kitchen scraps", like="food-scraps")
    told = Source(SOUTH, before="landfill")
    rows = [load(2, 5, 30.0), load(2, 6, 10.0, SOUTH), load(2, 7, 20.0, before="landfill")]
    workings = worked(*rows, materials=(silent,), sources=(Source(NORTH), told))
    figures = shown(workings, sponsor="North School")
    fate = figures.assumed_fate
    assert fate is not None and (fate.claimed_kg, fate.assumed_kg, fate.share) == (60.0, 30.0, 0.5)
    assert figures.supplied is not None and figures.supplied.assumed_fate is not None
    assert figures.supplied.assumed_fate.share == pytest.approx(30 / 50)
    (asked,) = [f for f in workings.findings if f.code == "usual fate not stated"]
    assert asked.rows == 1 and asked.mass_kg == 30.0
    assert figures.mass.diverted.central == 60.0  # claimed until the site says otherwise


def test_what_was_picked_out_is_counted_once_where_the_dumpster_holds_it() -> None:
    rows = [load(2, 5, 100.0, removed_kg=10.0),
            {"kind": "disposed", "date": dt.date(2025, 2, 9), "mass_kg": 30.0}]  # fmt: skip
    apart = shown(worked(*rows))
    assert apart.diversion_rate is not None
    assert apart.diversion_rate.rate == pytest.approx(90 / (90 + 10 + 30))
    assert [f.code for f in apart.findings if f.code.startswith("disposed may")]
    once = shown(worked(*rows, disposed_holds_removed=True))
    assert once.diversion_rate is not None and once.diversion_rate.counted_once
    assert once.diversion_rate.rate == pytest.approx(90 / (90 + 30))
    assert not [f for f in once.findings if f.code.startswith("disposed may")]


def test_how_much_rests_on_numbers_of_each_standing() -> None:
    """60 kg weighed, 42.5 kg on a density whose typical value was read, 36 on one from memory."""
    rows = [load(2, 5, 60.0), {**load(2, 6, 0.0), "mass_kg": None, "volume_m3": 0.1},
            {**load(2, 7, 0.0), "mass_kg": None, "material": "fruit", "volume_m3": 0.1}]  # fmt: skip
    found = shown(worked(*rows)).standing
    whole = 60 + 42.5 + 35.9
    assert found["mass"]["weighed"] == pytest.approx(60 / whole)
    assert found["mass"]["read"] == pytest.approx(42.5 / whole)
    assert found["mass"]["memory"] == pytest.approx(35.9 / whole)
    assert sum(found["mass"].values()) == pytest.approx(1.0)
    assert sum(found["landfill_avoided"].values()) == pytest.approx(1.0)


def test_a_state_nobody_wrote_is_asked_about_once_it_weighs() -> None:
    grass = {**load(2, 6, 0.0), "mass_kg": None, "material": "grass", "volume_m3": 1.0}
    few, many = worked(grass, load(2, 5, 5000.0)), worked(grass, load(2, 5, 1000.0))
    assert not [f for f in few.findings if f.code == "state not recorded"]
    (asked,) = [f for f in many.findings if f.code == "state not recorded"]
    assert asked.name == "grass" and "24 to 890" in str(asked.message)
    told = worked({**grass, "condition": "compacted"}, load(2, 5, 100.0))
    assert not [f for f in told.findings if f.code == "state not recorded"]
    assert dataclasses.asdict(asked)["rows"] == 1


def test_counted_figures_of_the_yard_are_traced_to_their_rows() -> None:
    rows = [load(5, 1, 10.0), load(5, 2, 10.0), load(6, 1, 10.0)]
    rows += [{"kind": "process", "date": dt.date(2025, 5, day), "name": "Pile A", "amount": 140.0,
              "unit": "°F"} for day in (1, 2)]  # fmt: skip
    workings, period = worked(*rows), read_period("2025", as_of=AS_OF, started=STARTED)
    for figure, count in (
        ("participation[2025-05].active", 2), ("process_log[Pile A].days", 2), ("stock.kg", 3),
        ("contamination[0].share", 0), ("feed_mix.months[2025-05].moisture", 2),
    ):  # fmt: skip
        assert len(trace(workings, figure, period, AS_OF).rows) == count, figure
