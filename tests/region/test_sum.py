"""Addends: the same bits in any order, one stamp, and the same figures as the yards' own."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from made_yards import AS_OF, write_region, write_yard

from divert.convert.draws import DRAWS
from divert.core.period import Period, read_period
from divert.core.range import Range
from divert.figures.compute import figures_for
from divert.inventory.open_site import open_site
from divert.region.addend import Addend, OtherStamp, added, added_all, same
from divert.region.figures_of_yard import PARTS
from divert.region.listing import Region, Yard, read_region
from divert.region.result import RegionFigures, region_figures
from divert.region.together import FIRST_DAY, stamp_of
from divert.region.whole import MG_PER_KG, whole
from divert.region.yard import addend_of

YEAR = read_period("2025", as_of=AS_OF, started=FIRST_DAY)


@pytest.fixture(scope="module")
def region(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_region(tmp_path_factory.mktemp("region"), 4, 60)


@pytest.fixture(scope="module")
def addends(region: Path) -> list[Addend]:
    yards = read_region(region / "yards.toml").yards
    return [addend_of(yard, YEAR, stamp_of(YEAR, AS_OF)) for yard in yards]


def figures(total: Addend, period: Period = YEAR) -> RegionFigures:
    return region_figures(total, Region("here", (), Path("nowhere")), period)


def test_the_sum_is_the_same_in_any_order(addends: list[Addend]) -> None:
    a, b, c, d = addends
    one = added_all(addends)
    assert same(one, added(added(d, b), added(c, a)))
    assert same(one, added(added(added(c, a), d), b))
    assert not same(one, added_all([a, b, c]))


def test_a_yard_alone_has_its_own_figures(region: Path, addends: list[Addend]) -> None:
    for place, addend in enumerate(addends):
        workings = open_site(region / f"yard-{place:04d}", as_of=AS_OF)
        own, found = figures_for(workings, YEAR, AS_OF), figures(addend)
        for name in ("received", "diverted", "removed", "residue", "not_claimed"):
            mine, theirs = getattr(found.mass, name), getattr(own.mass, name)
            for end in ("central", "low", "high"):
                assert getattr(mine, end) == pytest.approx(getattr(theirs, end), abs=1e-5)
        assert found.emissions.net_avoided.low == pytest.approx(
            own.emissions.net_avoided.low, abs=1e-5
        )
        assert found.emissions_within["20"].high == pytest.approx(
            own.emissions_within["20"].high, abs=1e-5
        )
        assert [m.month for m in found.by_month] == [m.month for m in own.by_month]
        for mine_m, own_m in zip(found.by_month, own.by_month, strict=True):
            # Days that only this one cuts at may part a month's own errors in another way.
            assert mine_m.diverted.central == pytest.approx(own_m.diverted.central, abs=1e-5)
            assert (
                mine_m.same_month_last_year is not None and own_m.same_month_last_year is not None
            )
            assert mine_m.same_month_last_year.central == pytest.approx(
                own_m.same_month_last_year.central, abs=1e-5
            )
        assert sum(p.received.central for p in found.by_material) == pytest.approx(
            own.mass.received.central
        )


def test_centrals_add_and_ranges_do_not(addends: list[Addend]) -> None:
    total, alone = figures(added_all(addends)), [figures(a) for a in addends]
    assert total.mass.diverted.central == pytest.approx(sum(f.mass.diverted.central for f in alone))
    widths = [f.mass.diverted.high - f.mass.diverted.low for f in alone]
    width = total.mass.diverted.high - total.mass.diverted.low
    assert max(widths) < width < 0.99 * sum(widths)
    assert total.shared is not None and 0 < total.shared < 1


def test_a_region_s_net_is_what_was_avoided_less_composting_and_fuel(addends: list[Addend]) -> None:
    """1,000 kg avoided, 150 kg of composting and 30 kg of diesel leave 820 kg; residue is thrown out."""
    given = {
        "emissions.landfill_avoided": 1000.0, "emissions.process": 150.0, "emissions.fuel": 30.0,
        "mass.diverted": 500.0, "mass.not claimed": 40.0, "mass.removed": 7.0, "mass.residue": 3.0,
    }  # fmt: skip
    exact = {name: whole(kg, np.full(DRAWS, kg)) for name, kg in given.items()}
    found = figures(replace(addends[0], figures=exact))
    assert found.emissions.net_avoided == Range(820.0, 820.0, 820.0)
    assert found.emissions_within["100"] == Range(1000.0, 1000.0, 1000.0)
    assert found.mass.received.central == 550.0
    assert found.shared is None  # nothing of it varies


def test_parts_balance_to_the_milligram(addends: list[Addend]) -> None:
    total = added_all(addends)
    received = sum(total.figure(f"mass.{part}").central for part in PARTS)
    assert received == sum(yard.received for yard in total.yards)
    assert sum(total.bases.values()) == pytest.approx(received, abs=20)
    by_group = sum(value.central for (_, what), value in total.groups.items() if what == "received")
    assert by_group == received


def test_other_factors_version_or_days_are_not_added(addends: list[Addend]) -> None:
    one, other = addends[:2]
    for change in ({"version": "0"}, {"factors": "0"}, {"draws": 5}, {"end": dt.date(2025, 6, 30)}):
        with pytest.raises(OtherStamp, match=next(iter(change))):
            added(one, replace(other, stamp=replace(other.stamp, **change)))  # type: ignore[arg-type]


def test_a_yard_without_entries_in_the_period_adds_zero(tmp_path: Path) -> None:
    write_yard(tmp_path / "yard", 1, 30)
    early = read_period("2023", as_of=AS_OF, started=FIRST_DAY)
    found = addend_of(Yard(0, tmp_path / "yard", "yard"), early, stamp_of(early, AS_OF))
    total = figures(found, early)
    assert not found.failed and len(found.yards) == 1
    assert (total.mass.diverted.central, total.mass.diverted.low, total.mass.diverted.high) == (
        0,
        0,
        0,
    )
    assert total.shared is None


def test_whole_milligrams_hold_what_they_are_given() -> None:
    kg = np.array([0.0, 1e-7, 1.2345674, 9e11])
    held = whole(1.2345678, kg)
    assert held.central == 1_234_568
    assert held.drawn.tolist() == [0, 0, 1_234_567, 900_000_000_000_000_000]
    assert (held.plus(held, -1).drawn == 0).all()
    assert MG_PER_KG * 1000 == 10**9  # a tonne in milligrams
