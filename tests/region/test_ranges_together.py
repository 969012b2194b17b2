"""Ranges of many yards: what is shared stays, what is a yard's own averages out."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from known_truth import YEAR, figures, loads, sum_of_drawn, truths

from divert.region.addend import Addend, added_all
from divert.region.result import shared_share
from divert.region.stamp import Stamp
from divert.region.whole import Whole

YARDS = 16
STAMP = Stamp("x", "x", 10_000, YEAR.label, YEAR.start, YEAR.end, YEAR.end)


def half_width(one: Whole) -> float:
    """Return half the width of a figure's 90 % interval, as a share of its central value."""
    found = one.range()
    return (found.high - found.low) / 2 / found.central


def summed(**columns: float) -> tuple[Whole, Whole, float | None]:
    """Return one yard, the sum of sixteen like it, and the share that they have in common."""
    found = [figures(f"yard {n}", loads(40, n, **columns)).figures for n in range(YARDS)]
    total = added_all([Addend(STAMP, figures=one) for one in found])
    again = next(name for name in total.figures if "again" in name)
    shared = shared_share(total.figure("mass.diverted"), total.figure(again))
    return found[0]["mass.diverted"], total.figure("mass.diverted"), shared


def test_scales_err_apart_so_the_range_narrows_with_the_root_of_their_number() -> None:
    one, total, shared = summed(mass_kg=10.0)
    assert one.central == 400_000_000 and total.central == 16 * one.central
    # One scale errs by 1 %: its 90 % interval reaches 1.645 % either way; sixteen, a fourth of that.
    assert half_width(one) == pytest.approx(0.01645, rel=0.03)
    assert half_width(total) == pytest.approx(0.01645 / 4, rel=0.06)
    assert shared is not None and shared < 0.05


def test_a_published_density_is_shared_so_its_range_does_not_narrow() -> None:
    one, total, shared = summed(volume_m3=0.5)
    assert half_width(total) == pytest.approx(half_width(one), rel=0.12)
    assert shared is not None and shared > 0.9


def test_yards_come_to_the_range_of_one_big_site_that_holds_all_their_rows() -> None:
    frames = [loads(40, n, volume_m3=0.5) for n in range(YARDS)]
    parts = [
        Addend(STAMP, figures=figures(f"yard {n}", frame, scale=0.0).figures)
        for n, frame in enumerate(frames)
    ]
    big = figures("big", pd.concat(frames, ignore_index=True).sort_values("date"), scale=0.0)
    for name in ("mass.diverted", "emissions.landfill_avoided"):
        together, alone = added_all(parts).figure(name), big.figures[name]
        assert together.central == pytest.approx(alone.central, abs=2 * YARDS)
        for mine, theirs in zip(
            np.quantile(together.drawn, [0.05, 0.5, 0.95]),
            np.quantile(alone.drawn, [0.05, 0.5, 0.95]),
            strict=True,
        ):
            assert mine == pytest.approx(theirs, rel=0.02)


def test_nine_of_ten_truths_lie_in_a_region_s_range() -> None:
    """Of 4,000 truths 90 % in two standard errors of 0.5 %, and what the range's own ends err by."""
    low, high = np.quantile(sum_of_drawn(0, 6, 40), [0.05, 0.95])
    true = truths(1, 4000, 6, 40)
    assert np.mean((low <= true) & (true <= high)) == pytest.approx(0.90, abs=0.02)
