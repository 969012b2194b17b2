"""Ranges: repeatable draws that add up, and independent errors that average out as they should."""

from __future__ import annotations

import dataclasses
import datetime as dt
import itertools
import math

import numpy as np
import pytest
from small_site import STARTED, reading, site, worked

from divert.convert import draws, work_out
from divert.convert.amounts import Amounts, amounts, coefficients
from divert.convert.cells import Cells
from divert.convert.density import ratio_estimate
from divert.convert.draws import DRAWS
from divert.core.period import read_period
from divert.factors import load_factors
from divert.figures.compute import figures_for
from divert.site.model import Container, Material, Spread

FACTORS = load_factors()
AS_OF = dt.date(2025, 12, 31)
NORTH = {"source": "North kitchen", "material": "kitchen scraps"}
SOUTH = {"source": "South kitchen", "material": "kitchen scraps"}


OWN = math.hypot(0.125 / math.sqrt(6) / 0.5, 0.15)  # own error of one load read as half full


def on(month: int, day: int, **row: object) -> dict[str, object]:
    return {"date": dt.date(2025, month, day), **row}


ROWS = (
    on(1, 5, **NORTH, container="tote", count=2, fill=0.75),
    on(1, 9, **NORTH, container="tote", count=1),
    on(1, 20, **SOUTH, container="pail", count=4, fill=1.0),
    on(2, 3, **SOUTH, mass_kg=75.0, removed_share=0.1),
    on(2, 4, **NORTH, volume_m3=0.2, removed_share=0.1),
    on(3, 8, **SOUTH, container="pail", count=3, removed_kg=2.0),
    on(3, 9, source="Brewery", material="spent grain", volume_m3=0.3),
    on(3, 12, source="North kitchen", material="flowers", container="tote", count=1, fill=0.5),
    on(3, 30, kind="residue", mass_kg=6.0),
    on(2, 27, kind="removed", source="South kitchen", mass_kg=1.0),
)


def whole(cells: Cells, what: str = "received") -> Amounts:
    return amounts(cells, coefficients(cells, what), np.zeros(len(cells.mass_kg), int), 1)  # type: ignore[arg-type]


def own_error(cells: Cells) -> np.ndarray:
    """Return the independent part of the drawn sum: what is left where nothing is shared."""
    alone = dataclasses.replace(cells, shared=np.zeros_like(cells.shared))
    return whole(alone).drawn[0]


def test_reading_again_draws_again() -> None:
    first, second = worked(*ROWS).cells(), worked(*ROWS).cells()
    assert np.array_equal(whole(first, "diverted").drawn, whole(second, "diverted").drawn)
    period = read_period("2025", as_of=AS_OF, started=STARTED)
    one, two = (figures_for(worked(*ROWS), period, AS_OF) for _ in range(2))
    assert one == two


def test_the_order_of_rows_draws_alike() -> None:
    forward, back = worked(*ROWS[:8]).cells(), worked(*reversed(ROWS[:8])).cells()
    assert whole(back).drawn == pytest.approx(whole(forward).drawn, rel=1e-12)


@pytest.mark.parametrize("what", ["received", "diverted", "removed", "residue", "not claimed"])
def test_sources_and_months_add_up_to_the_site_draw_by_draw(what: str) -> None:
    cells = worked(*ROWS).cells()
    coefficient = coefficients(cells, what)  # type: ignore[arg-type]
    site_drawn = whole(cells, what).drawn[0]
    for group, groups in (
        (cells.source, len(cells.sources)),
        (cells.stretch, len(cells.starts)),
        (cells.material, len(cells.materials)),
    ):
        parts = amounts(cells, coefficient, group, groups)
        assert parts.drawn.sum(axis=0) == pytest.approx(site_drawn, rel=1e-9, abs=1e-9)


def test_the_balance_holds_draw_by_draw() -> None:
    cells = worked(*ROWS).cells()
    parts = [whole(cells, w).drawn for w in ("diverted", "not claimed", "removed", "residue")]
    assert sum(parts) == pytest.approx(whole(cells).drawn, rel=1e-9)


def test_fills_read_by_eye_average_out_as_a_direct_simulation_says() -> None:
    """400 pails of 8.5 kg, each fill's error of an eighth half the eye's own bias, half its own.

    The bias moves all by up to 0.125/sqrt(2); what is each reading's own averages out, as does the
    15 % by which loads differ from their mean: sd sqrt(400) x 8.5 x sqrt(0.125²/6 + 0.15²).
    """
    density = Material("kitchen scraps", before="landfill", density=Spread(425.0, 425.0, 425.0))
    rows = [
        on(1 + n % 6, 1 + n % 28, source=f"Kitchen {n % 8}", material="kitchen scraps",
           container="pail", count=1, fill=1.0) for n in range(400)
    ]  # fmt: skip
    cells = worked(*rows, here=site(materials=(density,))).cells()
    drawn, own = whole(cells).drawn[0], own_error(cells)
    rng, part = np.random.default_rng(7), 0.125 / math.sqrt(2)
    apart = rng.uniform(-part, part, (20_000, 400)) + 0.15 * rng.standard_normal((20_000, 400))
    assert (8.5 * apart).sum(axis=1).std() == pytest.approx(20 * 8.5 * 0.1584, rel=0.03)
    # 48 cells whose draws come from one pool: their sum's sd scatters by a few per cent.
    assert own.std() == pytest.approx((8.5 * apart).sum(axis=1).std(), rel=0.05)
    direct = 8.5 * (400 * (1 + rng.uniform(-part, part, 20_000)) + apart.sum(axis=1))
    assert drawn.mean() == pytest.approx(direct.mean(), rel=0.002)
    ends = np.quantile(direct, [0.05, 0.95])
    assert np.quantile(drawn, [0.05, 0.95]) == pytest.approx(ends, rel=0.005)


def test_own_errors_of_many_cells_are_not_related() -> None:
    """Over many names of a site, independent parts add by variance, not by size."""
    ratios = []
    for n in range(40):
        rows = [on(1 + m, 5, source=f"Kitchen {n} {m % 5}", material="kitchen scraps",
                   container="pail", count=1, fill=0.5) for m in range(12)]  # fmt: skip
        cells = worked(*rows).cells()
        ratios.append(own_error(cells).var() / float((cells.sd_kg**2).sum()))
    # 12 cells leave 66 cross products; each drawn correlation has an sd of 1/sqrt(10,000).
    assert np.mean(ratios) == pytest.approx(1.0, abs=0.02)
    assert np.std(ratios) < 0.06


def test_a_month_cut_in_two_errs_as_much_as_a_whole_one() -> None:
    two = worked(on(1, 5, **NORTH, container="tote", count=1, fill=0.5),
                 on(1, 25, **NORTH, container="tote", count=1, fill=0.5))  # fmt: skip
    # 21.25 kg each: of the fill 0.5 its own error, sd 0.125/sqrt(6), and loads that scatter by 15 %.
    expected = 21.25 * OWN * math.sqrt(2)
    assert own_error(two.cells()).std() == pytest.approx(expected, rel=0.03)
    cut = two.cells([dt.date(2025, 1, 15)])
    assert own_error(cut).std() == pytest.approx(expected, rel=0.03)


def test_a_density_that_changed_in_the_month_errs_apart() -> None:
    versions = (
        Material("kitchen scraps", density=Spread(400.0, 400.0, 400.0)),
        Material("kitchen scraps", density=Spread(500.0, 500.0, 500.0), since=dt.date(2025, 1, 15)),
    )
    here = site(materials=versions)
    rows = [on(1, day, **NORTH, container="tote", count=1, fill=0.5) for day in (5, 25)]
    expected = math.hypot(20, 25) * OWN
    assert own_error(worked(*rows, here=here).cells()).std() == pytest.approx(expected, rel=0.03)


def test_weighed_rows_share_the_scale_and_nothing_else() -> None:
    rows = [on(m, 1, **NORTH, mass_kg=100.0) for m in range(1, 13)]
    drawn = whole(worked(*rows).cells()).drawn[0]
    assert drawn.std() / 1200 == pytest.approx(0.01, rel=0.03)  # 1 %, however many rows
    finer = whole(worked(*rows, here=site(scale_accuracy=0.002)).cells()).drawn[0]
    assert finer.std() / 1200 == pytest.approx(0.002, rel=0.03)


def test_what_was_weighed_out_of_an_estimated_load_errs_with_the_scale() -> None:
    by_mass = worked(on(1, 5, **NORTH, volume_m3=1.0, removed_kg=20.0)).cells()
    assert whole(by_mass, "removed").drawn[0].std() / 20 == pytest.approx(0.01, rel=0.03)
    by_share = worked(on(1, 5, **NORTH, volume_m3=1.0, removed_share=0.1)).cells()
    load = whole(by_share).drawn[0]
    assert whole(by_share, "removed").drawn[0] == pytest.approx(0.1 * load)
    eye = worked(on(1, 5, **NORTH, container="tote", count=1, fill=0.5, removed_share=0.1)).cells()
    assert whole(eye, "removed").drawn[0] == pytest.approx(0.1 * whole(eye).drawn[0])


def shared_alone(cells: Cells) -> np.ndarray:
    """Return the drawn sum without the independent errors."""
    return whole(dataclasses.replace(cells, sd_kg=np.zeros_like(cells.sd_kg))).drawn[0]


def test_fill_nobody_wrote_is_one_draw_for_a_container_and_an_error_of_each_load() -> None:
    rows = [on(m, 1, **NORTH, container="tote", count=1) for m in range(1, 13)]
    same = Material("kitchen scraps", density=Spread(425.0, 425.0, 425.0))
    cells = worked(*rows, here=site(materials=(same,))).cells()
    # A usual fill of 0.9 is right to an eighth, one standard deviation, for all twelve together.
    relative = shared_alone(cells) / (12 * 0.1 * 425)
    assert relative.mean() == pytest.approx(0.9, abs=0.005)
    assert relative.std() == pytest.approx(0.125, rel=0.03)
    own = math.hypot(0.125 / math.sqrt(3) / 0.9, 0.15) * 0.1 * 0.9 * 425
    assert own_error(cells).std() == pytest.approx(own * math.sqrt(12), rel=0.05)
    unknown = (Container("tote", volume_m3=0.1),)
    here = site(materials=(same,), containers=unknown)
    relative = shared_alone(worked(*rows, here=here).cells()) / (12 * 0.1 * 425)
    assert relative.min() == pytest.approx(0.6, abs=0.001)
    assert relative.max() == pytest.approx(1.0, abs=0.001)


def test_the_eyes_bias_is_one_draw_for_all_it_reads() -> None:
    same = Material("kitchen scraps", density=Spread(400.0, 400.0, 400.0))
    rows = [on(m, 1, **NORTH, container="tote", count=1, fill=0.5) for m in range(1, 13)]
    cells = worked(*rows, here=site(materials=(same,))).cells()
    # 20 kg each; every fill of 0.5 reads too high or too low by up to 0.125/sqrt(2).
    relative = shared_alone(cells) / 240 - 1
    assert relative.max() == pytest.approx(0.125 / math.sqrt(2) / 0.5, rel=0.001)
    assert relative.min() == pytest.approx(-0.125 / math.sqrt(2) / 0.5, rel=0.001)


def test_the_eye_that_read_the_weigh_ins_too_errs_alike_on_both_sides() -> None:
    """Weigh-ins at the fill of the loads, on the intake sheet: a fill read too high lowers the density
    as it raises the volume, and only the square of the bias is left."""
    loads = [on(m, 1, **NORTH, container="tote", count=1, fill=0.5) for m in range(1, 13)]
    taught = [on(1, 2 + n, **NORTH, container="tote", count=1, fill=0.5, mass_kg=20.0)
              for n in range(9)]  # fmt: skip
    by_eye = worked(*taught, *loads)
    with_care = worked(*({**t, "kind": "weigh-in"} for t in taught), *loads)
    alike, apart = (
        float(np.std(shared_alone(w.cells([dt.date(2025, 1, 1)]))) / whole(w.cells()).central[0])
        for w in (by_eye, with_care)
    )
    # sd of the bias over the fill: 0.125/sqrt(6)/0.5 = 10.2 %; of the mean of nine weigh-ins, by the
    # eye alone: 0.125/sqrt(3)/3 = 2.4 %.
    assert alike < 0.03
    assert apart == pytest.approx(math.hypot(0.1021, 0.0241, 0.01), rel=0.06)


def test_loads_on_a_density_scatter_as_the_materials_own_weigh_ins_do_or_by_15_percent() -> None:
    load = on(1, 5, **NORTH, volume_m3=1.0)
    assert own_error(worked(load).cells()).std() == pytest.approx(0.15 * 425, rel=0.03)
    masses = (30.0, 40.0, 50.0, 35.0, 45.0, 40.0)  # s = sqrt(250 / 5) = 7.071 of 40 kg: 17.7 %
    taught = [on(1, 1 + n, **NORTH, kind="weigh-in", volume_m3=0.1, mass_kg=m)
              for n, m in enumerate(masses)]  # fmt: skip
    # Known from six loads only: as much wider as t with 5 degrees of freedom, 2.015 against 1.645.
    expected = 0.1768 * 2.015 / 1.645 * 400
    assert own_error(worked(load, *taught).cells()).std() == pytest.approx(expected, rel=0.03)
    frozen = worked({**load, "condition": "frozen"}, *taught)  # the material's, in another state
    assert own_error(frozen.cells()).std() == pytest.approx(expected / 400 * 425, rel=0.03)


def test_sites_share_published_densities_and_not_their_scales() -> None:
    here, there = site(), site(name="Withy Lane Yard")
    load = on(1, 5, **NORTH, volume_m3=1.0)
    assert np.array_equal(
        shared_alone(worked(load, here=here).cells()),
        shared_alone(worked(load, here=there).cells()),
    )
    weighed = on(1, 5, **NORTH, mass_kg=100.0)
    one, two = (whole(worked(weighed, here=s).cells()).drawn[0] for s in (here, there))
    assert abs(np.corrcoef(one, two)[0, 1]) < 0.04  # four standard errors of 1/sqrt(10,000)


def test_what_is_published_may_lie_anywhere_between_its_ends() -> None:
    load = on(1, 5, **NORTH, volume_m3=1.0)
    drawn = shared_alone(worked(load).cells())  # 235 to 599 kg/m3: flat quantiles
    assert np.quantile(drawn, [0.05, 0.5, 0.95]) == pytest.approx(
        [235 + 364 * p for p in (0.05, 0.5, 0.95)], abs=8
    )


def test_sponsors_add_draw_by_draw_to_the_site() -> None:
    cells = worked(*ROWS).cells()
    coefficient = coefficients(cells, "diverted")
    group = np.array([s == "North kitchen" for s in cells.sources])[cells.source].astype(int)
    both = amounts(cells, coefficient, group, 2).drawn
    assert both.sum(axis=0) == pytest.approx(whole(cells, "diverted").drawn[0], rel=1e-9)


def test_the_range_narrows_as_weigh_ins_are_added() -> None:
    """Loads scattering by 20 %: the mean width of the range of 100 m³ over 60 tries at each count."""
    rng = np.random.default_rng(3)
    widths = []
    for n in (3, 6, 12, 24, 48):
        wide = []
        for _ in range(60):
            volume = rng.choice([0.05, 0.1], n)
            mass = 400 * volume * rng.normal(1, 0.2, n).clip(0.3)
            found = ratio_estimate(mass, volume, None)
            drawn = draws.student("a density", found.rho, found.se, n - 1)
            low, high = np.quantile(drawn, [0.05, 0.95])
            wide.append(high - low)
        widths.append(float(np.mean(wide)))
    assert all(later < earlier for earlier, later in itertools.pairwise(widths))
    assert widths[-1] < widths[0] / 4


def test_a_cell_draws_alike_in_every_sum_it_enters() -> None:
    weights = np.zeros((3, draws.POOL))
    weights[0, 5], weights[1, 900], weights[2, 5], weights[2, 900] = 1.0, -2.0, 1.0, -2.0
    a, b, both = draws.independent(weights)
    assert both == pytest.approx(a + b, abs=1e-9)
    assert a == pytest.approx(draws.pool()[5 : 5 + DRAWS], abs=1e-9)
    assert draws.pool().std() == pytest.approx(1.0)


def test_a_number_of_a_sites_own_factor_file_is_drawn_for_the_site_alone() -> None:
    key = "density.food-scraps.in-pails-and-carts"
    stated = tuple(dataclasses.replace(f, own=f.key == key) for f in FACTORS.factors)
    own = dataclasses.replace(FACTORS, factors=stated)
    load = reading(on(1, 5, **NORTH, volume_m3=1.0))
    one, two = (
        whole(work_out(site(name=name), load, own).cells()).drawn[0] for name in ("Here", "There")
    )
    assert abs(np.corrcoef(one, two)[0, 1]) < 0.04
