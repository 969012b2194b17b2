"""The decay function's own rules: shapes, order of capture and oxidation, delay, refusals."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from divert.convert.decay import DecayClass, methane, within

FOOD = DecayClass("food", [1000.0, 0.0, 500.0], doc=0.15, k=0.185)


def test_delay_only_moves_the_series_by_a_year():
    late = methane([FOOD], years=10, delay="six months").generated
    early = methane([FOOD], years=10, delay="none").generated
    assert late[0] == 0
    assert late[1:] == pytest.approx(early[:-1])


def test_oxidation_acts_on_what_capture_leaves():
    """100 kg, 40 % captured leaves 60; 10 % of that is oxidised: 54 (and not 100 - 40 - 10 = 50)."""
    bare = methane([FOOD], years=6).generated
    both = methane([FOOD], years=6, gas_captured=0.4, oxidation=0.1)
    assert both.released == pytest.approx(bare * 0.54)
    assert both.generated == pytest.approx(bare)
    warm = methane([FOOD], years=6, gas_captured=0.4, oxidation=0.1, gwp=27.0)
    assert warm.co2e == pytest.approx(bare * 0.54 * 27)


def test_correction_factor_scales_what_is_released():
    plain = methane([FOOD], years=5)
    less = methane([FOOD], years=5, correction=0.85)
    assert less.released == pytest.approx(plain.released * 0.85)


def test_classes_add_and_may_have_their_own_capture_and_docf():
    wood = DecayClass("wood", [1000.0], doc=0.43, k=0.03, docf=0.1, gas_captured=0.6)
    alone = methane([wood], years=4, docf=0.5, gas_captured=0.0)
    # 1000 x 0.43 x 0.1 x 0.5 x 16/12 x (1 - exp(-0.03)) x 0.4
    assert alone.released[1] == pytest.approx(
        1000 * 0.43 * 0.1 * 0.5 * 16 / 12 * (1 - np.exp(-0.03)) * 0.4
    )
    both = methane([FOOD, wood], years=4)
    parts = methane([FOOD], years=4).released + methane([wood], years=4).released
    assert both.released == pytest.approx(parts)


def test_draws_give_the_same_as_one_call_for_each():
    doc = np.array([0.08, 0.15, 0.20])
    k = np.array([0.1, 0.185, 0.2])
    captured = np.array([0.0, 0.5, 0.75])
    mass = np.array([[900.0, 400.0], [1000.0, 500.0], [1100.0, 600.0]])
    drawn = methane(
        [DecayClass("food", mass, doc=doc, k=k, docf=np.array([0.4, 0.5, 0.6]))],
        years=7,
        gas_captured=captured,
        mcf=np.array([0.9, 1.0, 1.0]),
        oxidation=0.1,
        gwp=28,
    )
    assert drawn.co2e.shape == (3, 7)
    for i in range(3):
        one = methane(
            [DecayClass("food", mass[i], doc=doc[i], k=k[i], docf=(0.4, 0.5, 0.6)[i])],
            years=7,
            gas_captured=captured[i],
            mcf=(0.9, 1.0, 1.0)[i],
            oxidation=0.1,
            gwp=28,
        )
        assert drawn.co2e[i] == pytest.approx(one.co2e)


def test_one_mass_with_drawn_rates_is_one_series_a_draw():
    drawn = methane([DecayClass("food", [1000.0], doc=0.15, k=np.array([0.1, 0.2]))], years=3)
    assert drawn.generated.shape == (2, 3)


@given(
    mass=st.lists(st.floats(0, 1e6), min_size=1, max_size=6),
    k=st.floats(0.01, 0.7),
    horizon=st.integers(1, 60),
)
def test_the_first_years_of_one_deposit_are_within_its_horizon(mass, k, horizon):
    years = len(mass) + horizon
    made = methane([DecayClass("food", mass[:1], doc=0.15, k=k)], years=years).generated
    assert made[: horizon + 1].sum() == pytest.approx(mass[0] * 0.05 * within(horizon, k))
    whole = methane([DecayClass("food", mass, doc=0.15, k=k)], years=years).generated
    assert whole.sum() <= sum(mass) * 0.05 * (1 + 1e-12)


@pytest.mark.parametrize(
    "wrong",
    [
        {"oxidation": 1.1},
        {"gas_captured": -0.1},
        {"gas_captured": 1.2},
        {"docf": 2},
        {"mcf": float("nan")},
        {"methane_share": 50},
        {"gwp": -1},
        {"correction": -0.1},
        {"years": 0},
        {"delay": "a while"},
    ],
)
def test_values_that_cannot_be_are_refused(wrong):
    with pytest.raises(ValueError, match=next(iter(wrong))):
        methane([FOOD], **{"years": 5, **wrong})


@pytest.mark.parametrize("wrong", [{"doc": 15}, {"k": -0.1}, {"mass": [-1.0]}, {"docf": 1.01}])
def test_classes_that_cannot_be_are_refused(wrong):
    values = {"name": "food", "mass": [1.0], "doc": 0.15, "k": 0.1, **wrong}
    with pytest.raises(ValueError, match=f"{next(iter(wrong))} of food"):
        methane([DecayClass(**values)], years=5)
