"""The draws against scipy.stats, the uncertainties package, and IPCC error propagation.

10,000 draws of a seeded generator: a quantile p of a density f has a standard error of
sqrt(p (1 - p) / 10,000) / f; each test states how many of these it allows.
"""

import math

import numpy as np
import pytest
from uncertainties import ufloat

from divert.convert import draws
from divert.convert.density import t_quantile


@pytest.fixture(scope="module")
def stats():
    """Return scipy.stats: every worker collects this file, and one of them runs it."""
    from scipy import stats

    return stats


QUANTILES = (0.05, 0.25, 0.5, 0.75, 0.95)
FOUR = 4.0  # standard errors: beyond them lies one correct quantile in 16,000


def allowed(distribution, p):
    """Return four standard errors of the p-quantile of 10,000 draws."""
    density = distribution.pdf(distribution.ppf(p))
    return FOUR * math.sqrt(p * (1 - p) / draws.DRAWS) / density


@pytest.mark.parametrize(
    ("low", "typical", "high"),
    [
        (235, 425, 599),
        (0.9, 1.0, 1.0),
        (0.0, 0.5, 0.75),
        (0.06, 0.06, 0.10),
        (0.00003, 0.004, 0.008),
    ],
)
def test_triangular_against_scipy_stats(low, typical, high, stats):
    span = high - low
    exact = stats.triang((typical - low) / span, loc=low, scale=span)
    drawn = draws.triangular("a name of its own", low, typical, high)
    for p in QUANTILES:
        assert np.quantile(drawn, p) == pytest.approx(exact.ppf(p), abs=allowed(exact, p))
    assert drawn.min() >= low and drawn.max() <= high


@pytest.mark.parametrize("degrees", [2, 3, 9, 40])
def test_student_against_scipy_stats(degrees, stats):
    exact = stats.t(degrees, loc=450, scale=12)
    drawn = draws.student(f"density with {degrees}", 450, 12, degrees)
    for p in QUANTILES:
        assert np.quantile(drawn, p) == pytest.approx(exact.ppf(p), abs=allowed(exact, p))


@pytest.mark.parametrize("degrees", [2, 3, 5, 9, 20, 100])
def test_t_quantile_against_scipy_stats(degrees, stats):
    """Within 1 % of the exact 95 % point, as the expansion used claims."""
    assert t_quantile(0.95, degrees) == pytest.approx(stats.t.ppf(0.95, degrees), rel=0.01)


def test_normal_and_uniform_against_scipy_stats(stats):
    for drawn, exact in (
        (draws.normal("scale", 1.0, 0.01), stats.norm(1.0, 0.01)),
        (draws.uniform("fill", 0.775, 1.025), stats.uniform(0.775, 0.25)),
    ):
        for p in QUANTILES:
            assert np.quantile(drawn, p) == pytest.approx(exact.ppf(p), abs=allowed(exact, p))


def test_a_linear_normal_case_against_the_uncertainties_package(stats):
    """3 a + 2 b - c with independent normal errors, where linear propagation is exact.

    The standard deviation of n draws has a relative standard error of 1/sqrt(2 n), 0.7 %; four of
    these are allowed, and four of sd/sqrt(n) for the mean.
    """
    a, b, c = ufloat(100, 5), ufloat(40, 8), ufloat(30, 12)
    exact = 3 * a + 2 * b - c
    drawn = 3 * draws.normal("a", 100, 5) + 2 * draws.normal("b", 40, 8) - draws.normal("c", 30, 12)
    n = draws.DRAWS
    assert drawn.mean() == pytest.approx(
        exact.nominal_value, abs=FOUR * exact.std_dev / math.sqrt(n)
    )
    assert drawn.std() == pytest.approx(exact.std_dev, rel=FOUR / math.sqrt(2 * n))
    low, high = draws.interval(drawn)
    spread = stats.norm(exact.nominal_value, exact.std_dev)
    assert float(low) == pytest.approx(spread.ppf(0.05), abs=allowed(spread, 0.05))
    assert float(high) == pytest.approx(spread.ppf(0.95), abs=allowed(spread, 0.95))


def test_what_is_shared_does_not_average_out_against_the_uncertainties_package():
    """Two loads on one density: their sum's error is twice one load's, not the square root of two."""
    density = ufloat(450, 40)
    exact = 2 * density + 3 * density
    shared = draws.normal("density", 450, 40)
    assert (2 * shared + 3 * shared).std() == pytest.approx(
        exact.std_dev, rel=FOUR / math.sqrt(2 * draws.DRAWS)
    )


def test_ipcc_approach_1_against_the_draws_on_two_sources():
    """IPCC 2006 Guidelines, Volume 1, Chapter 3: equation 3.1 (product) and 3.2 (sum).

    Two sources, activity times factor with normal uncertainties of 5 % and 10 %, 3 % and 20 % (half
    the 95 % interval over the mean). Equation 3.1 leaves out the product of the two variances, under
    0.1 % here; four standard errors of a standard deviation, 2.8 %, are allowed for the draws.
    """
    sources = ((1000.0, 0.05, 0.6, 0.10), (400.0, 0.03, 1.2, 0.20))
    half_width = 1.96
    emissions, relative = [], []
    drawn = np.zeros(draws.DRAWS)
    for number, (activity, u_activity, factor, u_factor) in enumerate(sources):
        emissions.append(activity * factor)
        relative.append(math.hypot(u_activity, u_factor))  # equation 3.1
        drawn += draws.normal(
            f"activity {number}", activity, activity * u_activity / half_width
        ) * draws.normal(f"factor {number}", factor, factor * u_factor / half_width)
    total = sum(emissions)
    u_total = (
        math.hypot(*(e * u for e, u in zip(emissions, relative, strict=True))) / total
    )  # equation 3.2
    assert half_width * drawn.std() / drawn.mean() == pytest.approx(u_total, rel=0.03)


def test_independent_errors_add_by_variance():
    """Sums of independent standard normals against the root of the sum of squares (statistics)."""
    sds = np.array([3.0, 4.0, 12.0])
    names = np.array([11, 20_011, 9_007], dtype=np.uint64)
    offset, sign = draws.own_place(names)
    weights = np.zeros((1, draws.POOL))
    np.add.at(weights[0], offset, sds * sign)
    drawn = draws.independent(weights)[0]
    assert drawn.std() == pytest.approx(13.0, rel=0.05)
    assert drawn.mean() == pytest.approx(0.0, abs=13 * FOUR / math.sqrt(draws.DRAWS))


def test_the_same_name_gives_the_same_draws_and_another_name_others():
    a, again, b = (draws.normal(n, 0, 1) for n in ("doc.food", "doc.food", "doc.paper"))
    assert np.array_equal(a, again)
    assert abs(np.corrcoef(a, b)[0, 1]) < FOUR / math.sqrt(draws.DRAWS)
