"""The 5th and 95th percentile of draws, found from those near them alone."""

import numpy as np
import pytest

from divert.convert import draws

COUNT = 10_000
IN_ORDER = np.arange(COUNT, dtype=float)
SHUFFLED = np.random.default_rng(5).permutation(IN_ORDER)


def beginning_with(first):
    """Return the numbers with some of them at every place that is looked at beforehand."""
    at = np.zeros(COUNT, dtype=bool)
    at[:: draws.SAMPLED] = True
    out = np.empty(COUNT)
    out[at], out[~at] = first, np.setdiff1d(IN_ORDER, first)
    return out


LOOKED_AT = COUNT // draws.SAMPLED
ROWS = {
    "rising": IN_ORDER,
    "falling": IN_ORDER[::-1].copy(),
    "shuffled": SHUFFLED,
    "the least are looked at": beginning_with(IN_ORDER[:LOOKED_AT]),
    "the greatest are looked at": beginning_with(IN_ORDER[-LOOKED_AT:]),
    "the middle is looked at": beginning_with(IN_ORDER[5000 : 5000 + LOOKED_AT]),
}


@pytest.mark.parametrize("row", ROWS.values(), ids=list(ROWS))
def test_of_all_numbers_up_to_9999_in_any_order(row):
    """The places are 0.05 x 9,999 = 499.95 and 0.95 x 9,999 = 9,499.05, counted from 0."""
    low, high = draws.interval(row)
    assert (float(low), float(high)) == (pytest.approx(499.95), pytest.approx(9499.05))


def test_rows_of_few_draws_or_of_one_value():
    low, high = draws.interval(np.array([[3.0, 1.0, 2.0], [4.0, 4.0, 4.0]]))
    # Of three the places are 0.1 and 1.9.
    assert low.tolist() == [pytest.approx(1.1), 4.0]
    assert high.tolist() == [pytest.approx(2.9), 4.0]


def test_rows_are_told_apart_and_are_numpys_to_the_last_bit():
    rows = np.stack([np.round(SHUFFLED / 700), -SHUFFLED, np.zeros(COUNT), SHUFFLED % 2])
    for ours, its in zip(draws.interval(rows), np.quantile(rows, draws.ENDS, axis=1), strict=True):
        assert ours.shape == (4,)
        assert ours.tolist() == its.tolist()
