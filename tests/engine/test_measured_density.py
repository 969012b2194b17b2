"""The site's own density: how weigh-ins make it, and when it is used."""

from __future__ import annotations

import dataclasses
import datetime as dt
import math

import numpy as np
import pytest
from small_site import reading, site, worked

from divert.convert import Workings, work_out
from divert.convert.density import more_to_halve, ratio_estimate
from divert.convert.draws import DRAWS
from divert.convert.shared_draws import density_draws
from divert.factors import load_factors
from divert.site.model import Material, Spread

DAY = dt.date(2025, 1, 10)
NORTH = {"date": DAY, "source": "North kitchen"}
SCRAPS = {**NORTH, "material": "kitchen scraps"}
PLACE = "in pails and carts"


def weigh_in(mass_kg: float, count: float = 1, fill: float | None = 1.0, **more: object):
    values = {**SCRAPS, "kind": "weigh-in", "mass_kg": mass_kg, "container": "tote"}
    return {**values, "count": count, **({} if fill is None else {"fill": fill}), **more}


def in_use(workings: Workings, material: str = "kitchen scraps"):
    return next(d for d in workings.in_use if d.material == material)


def test_ratio_estimate_by_hand() -> None:
    m, v = np.array([30.0, 50.0, 70.0]), np.array([0.1, 0.1, 0.2])
    found = ratio_estimate(m, v, Spread(235.0, 425.0, 599.0))
    assert found.rho == pytest.approx(150 / 0.4)  # 375 kg/m³
    # What each load lies from 375 kg/m³: -7.5, +12.5, -5 kg.
    s = math.sqrt((7.5**2 + 12.5**2 + 5**2) / 2)
    assert found.s_kg == pytest.approx(s)
    assert found.se == pytest.approx(s / (0.4 / 3 * math.sqrt(3)))
    assert found.load_scatter == pytest.approx(s / 50)
    assert found.cut == (117.5, 1198.0)


def test_what_was_measured_is_never_cut_to_nothing() -> None:
    """Six weigh-ins at 104 kg/m³ where 237 to 415 is published: drawn down to 52, and up to 830."""
    light = ratio_estimate(np.full(6, 10.4), np.full(6, 0.1), Spread(237.0, 300.0, 415.0))
    assert light.cut == pytest.approx((52.0, 830.0))
    heavy = ratio_estimate(np.full(6, 90.0), np.full(6, 0.1), Spread(237.0, 300.0, 415.0))
    assert heavy.cut == pytest.approx((118.5, 1800.0))


def test_the_eyes_own_error_is_taken_out_of_how_weigh_ins_scatter() -> None:
    """Four loads of a 0.1 m³ tote read as half full, 20 kg on average: each fill errs by 0.125/sqrt(6)
    of a tote of 40 kg, 2.04 kg."""
    m, v = np.array([17.0, 19.0, 21.0, 23.0]), np.full(4, 0.05)
    found = ratio_estimate(m, v, None, np.full(4, 0.5))
    s2 = (9 + 1 + 1 + 9) / 3
    assert found.eye_kg == pytest.approx(40 * 0.125 / math.sqrt(6))
    assert found.load_scatter == pytest.approx(math.sqrt(s2 - found.eye_kg**2) / 20)
    assert found.eye_lever == pytest.approx(2.0)  # a tenth of a tote more is a fifth more volume
    alike = ratio_estimate(np.array([19.9, 20.0, 20.1, 20.0]), v, None, np.full(4, 0.5))
    assert alike.load_scatter == 0


def test_loads_that_agree_still_carry_the_error_of_the_eye() -> None:
    same = ratio_estimate(np.full(4, 40.0), np.full(4, 0.1), None)
    assert same.se == pytest.approx(400 * 0.125 / math.sqrt(3) / math.sqrt(4))
    assert same.cut == (0.0, math.inf)


def test_three_weigh_ins_make_a_density_and_two_do_not() -> None:
    loads = [weigh_in(40.0), weigh_in(42.0), weigh_in(44.0)]
    asked = {**SCRAPS, "volume_m3": 1.0}
    two = worked(*loads[:2], asked)
    assert two.ledger["mass_kg"].iloc[-1] == pytest.approx(425.0)  # as published
    assert two.ledger["basis"].iloc[-1] == "published density"
    three = worked(*loads, asked)
    assert three.ledger["mass_kg"].iloc[-1] == pytest.approx(126 / 0.3)
    assert three.ledger["basis"].iloc[-1] == "measured density"
    shown = next(d for d in three.densities if d.material == "kitchen scraps")
    assert (shown.weigh_ins, shown.basis) == (3, "measured density")
    assert shown.value == pytest.approx(420.0)
    assert (shown.published_low, shown.published_high) == (235, 599)


def test_an_intake_row_with_weight_and_recorded_fill_teaches_too() -> None:
    rows = [weigh_in(m, kind="intake") for m in (20.0, 20.0, 23.0)]
    taught = worked(*rows, {**SCRAPS, "volume_m3": 1.0})
    assert taught.ledger["mass_kg"].iloc[-1] == pytest.approx(63 / 0.3)
    assert list(taught.ledger["basis"][:3]) == ["weighed"] * 3  # counted once, as weighed


def test_a_weigh_in_whose_fill_nobody_wrote_does_not_teach() -> None:
    rows = [weigh_in(40.0), weigh_in(42.0), weigh_in(44.0, fill=None)]
    asked = worked(*rows, {**SCRAPS, "volume_m3": 1.0})
    assert asked.ledger["basis"].iloc[-1] == "published density"
    # A volume given outright needs no fill; a gross weight teaches its net (tote: 2 kg empty).
    taught = worked(
        weigh_in(40.0), weigh_in(math.nan, gross_kg=44.0),
        {**SCRAPS, "kind": "weigh-in", "mass_kg": 88.0, "volume_m3": 0.2},
        {**SCRAPS, "volume_m3": 1.0},
    )  # fmt: skip
    assert taught.ledger["mass_kg"].iloc[-1] == pytest.approx((40 + 42 + 88) / 0.4)


def test_measured_goes_before_stated_and_stated_before_published() -> None:
    own = Material("kitchen scraps", like="food-scraps", density=Spread(300.0, 350.0, 400.0))
    loads = [weigh_in(40.0), weigh_in(42.0), weigh_in(44.0)]
    asked = {**SCRAPS, "volume_m3": 1.0}
    stated = worked(asked, materials=(own,))
    assert stated.ledger["mass_kg"].iloc[0] == pytest.approx(350.0)
    assert stated.ledger["basis"].iloc[0] == "stated density"
    measured = worked(*loads, asked, materials=(own,))
    assert measured.ledger["mass_kg"].iloc[-1] == pytest.approx(420.0)
    assert measured.ledger["factor"].iloc[-1] == "measured.kitchen-scraps.in-pails-and-carts"


def test_weigh_ins_teach_their_own_condition_only() -> None:
    loads = [weigh_in(m, condition="dry") for m in (20.0, 21.0, 22.0)]
    taught = worked(*loads, {**SCRAPS, "volume_m3": 1.0}, {**SCRAPS, "volume_m3": 1.0,
                                                           "condition": "dry"})  # fmt: skip
    assert list(taught.ledger["basis"][-2:]) == ["published density", "measured density"]


def test_a_weigh_in_heavier_than_water_teaches_nothing_and_is_asked_about() -> None:
    # 150 kg in a full 0.1 m³ tote is heavier than water; 110 kg is not, were it an eighth fuller.
    rows = [weigh_in(40.0), weigh_in(42.0), weigh_in(44.0), weigh_in(150.0)]
    kept = worked(*rows, {**SCRAPS, "volume_m3": 1.0})
    assert kept.ledger["mass_kg"].iloc[-1] == pytest.approx(420.0)
    assert kept.set_aside.empty
    assert [(f.level, f.where.row) for f in kept.findings if f.code.startswith("heavier")] == [
        ("query", 5)
    ]
    wet = worked(*(weigh_in(m) for m in (95.0, 100.0, 110.0)), {**SCRAPS, "volume_m3": 1.0})
    assert wet.ledger["mass_kg"].iloc[-1] == pytest.approx(305 / 0.3)  # no tail is cut


def test_a_load_heavier_than_water_counts_as_weighed() -> None:
    heavy = worked({**SCRAPS, "mass_kg": 150.0, "container": "tote", "count": 1, "fill": 1.0})
    assert heavy.ledger["mass_kg"].tolist() == [150.0]
    assert heavy.ledger["basis"].tolist() == ["weighed"]


def test_where_a_heavy_weigh_in_was_the_third_the_published_density_holds() -> None:
    rows = [weigh_in(40.0), weigh_in(42.0), weigh_in(150.0)]
    kept = worked(*rows, {**SCRAPS, "volume_m3": 1.0})
    assert kept.ledger["mass_kg"].iloc[-1] == pytest.approx(425.0)


def test_a_row_left_without_a_density_by_a_heavy_weigh_in_is_refused() -> None:
    """Of three weigh-ins one is heavier than water; where nothing is published, two are no density."""
    known = load_factors()
    unlisted = dataclasses.replace(
        known, factors=tuple(f for f in known.factors if "density.food-scraps" not in f.key)
    )
    rows = [weigh_in(40.0), weigh_in(42.0), weigh_in(150.0), {**SCRAPS, "volume_m3": 1.0}]
    kept = work_out(site(), reading(*rows), unlisted)
    assert kept.set_aside["code"].tolist() == ["no quantity"]
    assert kept.set_aside["row"].tolist() == [5]
    assert not kept.ledger["mass_kg"].isna().any() and len(kept.ledger) == 3
    assert [f.where.row for f in kept.findings if f.level == "refused"] == [5]


def test_draws_follow_the_scaled_t_within_the_cuts() -> None:
    wild = [weigh_in(m) for m in (12.0, 40.0, 74.0)]
    density = in_use(worked(*wild, {**SCRAPS, "volume_m3": 1.0}))
    assert density.measured is not None
    drawn = density_draws(density, "Alder Hollow Yard", np.ones(DRAWS)) * 420.0
    assert drawn.min() == pytest.approx(117.5) and drawn.max() == pytest.approx(1198.0)
    calm = [weigh_in(m) for m in (36.0, 40.0, 44.0, 38.0, 42.0)]
    density = in_use(worked(*calm, {**SCRAPS, "volume_m3": 1.0}))
    measured = density.measured
    assert measured is not None
    drawn = density_draws(density, "Alder Hollow Yard", np.ones(DRAWS)) * measured.rho
    # 2.132 is Student's t for 4 degrees of freedom at 0.95 (any printed table of t).
    low, high = np.quantile(drawn, [0.05, 0.95])
    assert high - 400 == pytest.approx(2.132 * measured.se, rel=0.05)
    assert 400 - low == pytest.approx(2.132 * measured.se, rel=0.05)


def test_more_loads_to_halve_the_range() -> None:
    loads = [36.0, 40.0, 44.0, 38.0, 42.0]
    measured = ratio_estimate(np.array(loads), np.full(5, 0.1), None)
    more = more_to_halve(measured)
    # t falls as loads are added, so fewer than four times the loads are enough.
    need = 2.132 / math.sqrt(5) / 2
    table = {17: 1.746, 16: 1.753, 15: 1.761, 14: 1.771}  # t at 0.95 for n loads, printed
    enough = min(n for n, t in table.items() if t / math.sqrt(n) <= need)
    assert 5 + more == enough


def test_a_density_outside_the_published_range_is_asked_about_and_used() -> None:
    light = [weigh_in(m) for m in (15.0, 16.0, 17.0)]  # 160 kg/m³; published from 235
    taught = worked(*light, {**SCRAPS, "volume_m3": 1.0})
    assert taught.ledger["mass_kg"].iloc[-1] == pytest.approx(160.0)
    asked = [f for f in taught.findings
             if f.code == "measured density outside the published range"]  # fmt: skip
    assert [f.name for f in asked] == [f"kitchen scraps, {PLACE}"]
    usual = worked(*[weigh_in(m) for m in (40.0, 42.0, 44.0)])
    assert not [f for f in usual.findings if f.code.startswith("measured density")]


def test_a_gross_weight_without_an_empty_weight_is_asked_about() -> None:
    gross = {**SCRAPS, "gross_kg": 20.0}
    assert worked({**gross, "container": "tote", "count": 2}).ledger["mass_kg"].iloc[0] == 16.0
    asked = worked(gross)
    assert asked.ledger["mass_kg"].iloc[0] == 20.0
    assert [f.code for f in asked.findings if "weight" in f.code] == ["empty weight not known"]


def test_a_condition_without_a_density_is_asked_about() -> None:
    usual = {**SCRAPS, "volume_m3": 1.0}
    odd = worked(usual, {**usual, "condition": "frozen"})
    # 425 kg/m³ is the list's typical value for pails and carts.
    assert odd.ledger["mass_kg"].tolist() == [425.0, 425.0]
    asked = [f for f in odd.findings if f.code == "condition without a density"]
    assert [f.name for f in asked] == ["kitchen scraps, frozen"]
    assert "“in pails and carts”" in str(asked[0].message)
    weighed = worked(usual, {**SCRAPS, "mass_kg": 3.0, "condition": "frozen"})
    assert not [f for f in weighed.findings if f.code == "condition without a density"]
