"""Which published numbers a landfill calls on, and the rules for capture, oxidation and DOCf."""

import numpy as np
import pytest

from divert.convert.emission_factors import (
    CLASSES,
    docf_key,
    factor_keys,
    gas_captured,
    gas_is_stated,
    landfill_factor,
    names,
    oxidises,
    parameters,
    process_factor,
    process_parameters,
)
from divert.factors import load_factors
from divert.site.model import Landfill, Spread

FACTORS = load_factors()
KINDS = ("managed", "managed semi-aerobic", "unmanaged deep", "unmanaged shallow", "unknown")
CLIMATES = ("temperate dry", "temperate wet", "tropical dry", "tropical wet")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("climate", CLIMATES)
def test_every_landfill_and_class_has_its_numbers(kind, climate):
    landfill = Landfill(kind=kind, climate=climate)
    for decay_class in CLASSES:
        spreads = parameters(landfill, decay_class, FACTORS)
        assert set(spreads) == set(names(landfill, decay_class))
        for spread in spreads.values():
            assert 0 <= spread.low <= spread.typical <= spread.high
        assert landfill_factor(landfill, decay_class, FACTORS) > 0
        for key in factor_keys(landfill, decay_class, FACTORS):
            assert key in FACTORS


def test_headline_takes_the_lower_docf_and_sensitivity_the_higher():
    """IPCC 2006: 0.5. 2019 Refinement: food and garden 0.7, paper 0.5, wood 0.1."""
    for decay_class, lower, higher in (
        ("food", 0.5, 0.7),
        ("garden", 0.5, 0.7),
        ("paper", 0.5, 0.5),
        ("wood_straw", 0.1, 0.5),
    ):
        assert FACTORS.get(docf_key(decay_class, FACTORS)).value == lower
        assert FACTORS.get(docf_key(decay_class, FACTORS, "higher")).value == higher
        ratio = landfill_factor(Landfill(), decay_class, FACTORS, docf="higher") / landfill_factor(
            Landfill(), decay_class, FACTORS
        )
        assert ratio == pytest.approx(higher / lower)


def test_oxidation_only_where_managed_and_covered():
    assert oxidises(Landfill())
    assert oxidises(Landfill(kind="managed semi-aerobic"))
    assert not oxidises(Landfill(covered=False))
    for kind in ("unmanaged deep", "unmanaged shallow", "unknown"):
        assert not oxidises(Landfill(kind=kind))


def test_capture_as_stated_by_class_then_for_all_then_by_kind():
    food = Spread(0.39, 0.39, 0.39)
    every = Spread(0.2, 0.3, 0.4)
    landfill = Landfill(gas_captured=every, gas_by_class=(("food", food),))
    assert gas_captured(landfill, "food", FACTORS) == food
    assert gas_captured(landfill, "paper", FACTORS) == every
    assert names(landfill, "food").gas_captured == "gas_captured.food"
    assert names(landfill, "paper").gas_captured == "gas_captured.all"
    only_food = Landfill(gas_by_class=(("food", food),))
    assert gas_captured(only_food, "paper", FACTORS) == Spread(0.0, 0.5, 0.75)
    assert gas_is_stated(only_food, "food") and not gas_is_stated(only_food, "paper")
    assert gas_captured(Landfill(kind="unmanaged deep"), "food", FACTORS) == Spread(0, 0, 0)


def test_not_knowing_the_landfill_never_raises_the_claim():
    for decay_class in CLASSES:
        unknown = landfill_factor(Landfill(kind="unknown"), decay_class, FACTORS)
        managed = landfill_factor(Landfill(), decay_class, FACTORS)
        assert unknown < managed


def test_draws_of_one_give_the_central_value():
    landfill = Landfill(climate="tropical dry", kind="unmanaged shallow", gwp="AR4")
    for decay_class in CLASSES:
        values = {
            name: np.array([s.typical, s.low, s.high])
            for name, s in parameters(landfill, decay_class, FACTORS).items()
        }
        drawn = landfill_factor(landfill, decay_class, FACTORS, values)
        assert drawn.shape == (3,)
        assert drawn[0] == pytest.approx(landfill_factor(landfill, decay_class, FACTORS))
        assert drawn[1] < drawn[0] < drawn[2]


def test_material_without_a_decay_class_avoids_nothing():
    assert landfill_factor(Landfill(), "", FACTORS) == 0


def test_full_capture_leaves_nothing():
    everything = Landfill(gas_captured=Spread(1.0, 1.0, 1.0))
    assert landfill_factor(everything, "food", FACTORS) == 0


def test_process_factor_over_draws():
    values = {name: np.array([s.typical, s.low]) for name, s in process_parameters(FACTORS).items()}
    drawn = process_factor(Landfill(gwp="AR5"), FACTORS, values)
    # 4 g and 0.24 g; 0.03 g and 0.06 g per kg, at 28 and 265
    assert drawn == pytest.approx([0.1756, 0.00003 * 28 + 0.00006 * 265])


def test_warming_potentials_are_those_the_landfill_names():
    by_report = [landfill_factor(Landfill(gwp=g), "food", FACTORS) for g in ("AR4", "AR5", "AR6")]
    assert by_report[1] / by_report[0] == pytest.approx(28 / 25)
    assert by_report[2] / by_report[1] == pytest.approx(27 / 28)
