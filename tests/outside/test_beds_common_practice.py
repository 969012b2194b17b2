"""Bed facts of common practice, with no published source, as check values."""

import pytest

from divert.convert.capacity import bed_capacity, worm_count
from divert.core.units import area, quantity, rate
from divert.factors import load_factors

FACTORS = load_factors()


def test_a_pound_of_red_wigglers_is_about_a_thousand_worms():
    """Common practice, no source."""
    assert worm_count(quantity("1 lb", "mass"), FACTORS) == pytest.approx(1000, rel=1e-6)


def test_a_three_by_ten_foot_bed_holds_thirty_to_forty_five_thousand():
    """Common practice, no source: 1 to 1.5 lb of worms per square foot, 30 square feet."""
    held = bed_capacity(area("3 ft x 10 ft"), FACTORS)
    assert held.low == pytest.approx(30_000, rel=1e-5)
    assert held.high == pytest.approx(45_000, rel=1e-5)


def test_the_ordinary_feed_band_is_the_usual_rule_by_hand():
    """Common practice: 0.5 lb per lb of worms a day, 7 days, at 1 lb of worms per ft²: 3.5 lb/ft²."""
    by_hand = 0.5 * 7 * rate("1 lb/ft2", "mass", "area")
    assert FACTORS.bands["bed-feed"].ordinary[1] == pytest.approx(by_hand, rel=1e-6)
