"""Rounding: three significant digits of the total, parts that add up to it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from divert.figures.numbers.rounding import add_up, quantum_for, steps


@pytest.mark.parametrize(
    ("total", "quantum"),
    # By hand: 7,490.3 to three digits is 7,490; 61.27 is 61.3; 999.6 is 1,000, which is 1.00e3.
    [(7490.3, 10), (61.27, 0.1), (999.6, 10), (999.4, 1), (0.08372, 0.0001), (-7490.3, 10), (0, 1)],
)
def test_the_rounding_unit_gives_three_digits(total: float, quantum: float) -> None:
    assert quantum_for(total) == pytest.approx(quantum)


def test_halves_go_away_from_zero() -> None:
    assert [steps(v, 10) for v in (125, 124.9, -125, 5, -5)] == [13, 12, -13, 1, -1]


def test_the_largest_remainders_gain_the_missing_units() -> None:
    # 3 x 333.33 of 1,000 in tens: floors 33 + 33 + 33 = 99, one unit is missing; the first gains it.
    assert add_up([333.33, 333.33, 333.34], 100, 10) == [33, 33, 34]
    # 12.6 + 12.6 + 74.8 = 100: floors 12 + 12 + 74 = 98, remainders .6 .6 .8: the last and the first.
    assert add_up([12.6, 12.6, 74.8], 100, 1) == [13, 12, 75]


def test_negative_parts_add_up_too() -> None:
    # -4.4 + 104.4 = 100: floors -5 and 104 come to 99; remainders .6 and .4: the first gains.
    assert add_up([-4.4, 104.4], 100, 1) == [-4, 104]


def test_parts_that_are_not_the_totals_parts_are_refused() -> None:
    with pytest.raises(ValueError, match="parts"):
        add_up([1.0, 2.0], 30, 1)


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=40), st.sampled_from([0.01, 0.1, 1, 10]))
def test_parts_always_add_to_the_printed_total(parts: list[float], quantum: float) -> None:
    whole = steps(sum(parts), quantum)
    counted = add_up(parts, whole, quantum)
    assert sum(counted) == whole
    assert all(abs(n - part / quantum) <= 1 + 1e-6 for n, part in zip(counted, parts, strict=True))
