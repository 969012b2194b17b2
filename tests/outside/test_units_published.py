"""Units against NIST Handbook 44, Appendix C, and scipy.constants (CODATA and exact definitions)."""

import functools

import pytest
from scipy import constants

from divert.core import units
from divert.core.units import area_factor, quantity, rate, unit_factor

NIST_HANDBOOK_44 = (  # Appendix C, General Tables of Units of Measurement
    ("short ton", 907.18474, "mass", 1e-12),
    ("long ton", 1016.0469088, "mass", 1e-12),
    ("tonne", 1000.0, "mass", 1e-12),
    ("lb", 0.45359237, "mass", 1e-12),
    ("us gallon", 3.785411784e-3, "volume", 1e-12),
    ("imperial gallon", 4.54609e-3, "volume", 1e-12),
    ("yd3", 0.764554857984, "volume", 1e-12),
    ("ft3", 28.316846592e-3, "volume", 1e-12),
    ("bushel", 35.23907016688e-3, "volume", 1e-12),  # 2150.42 cubic inches
)


@pytest.mark.parametrize(("word", "si", "kind", "near"), NIST_HANDBOOK_44)
def test_nist_handbook_44(word, si, kind, near):
    factor, found = unit_factor(word)
    assert found == kind
    assert factor == pytest.approx(si, rel=near)


@pytest.mark.parametrize(
    ("word", "si"),
    [
        ("short ton", constants.short_ton),
        ("long ton", constants.long_ton),
        ("tonne", constants.metric_ton),
        ("lb", constants.lb),
        ("oz", constants.oz),
        ("us gallon", constants.gallon_US),
        ("imperial gallon", constants.gallon_imp),
        ("yd3", constants.yard**3),
        ("ft3", constants.foot**3),
        ("litre", constants.liter),
    ],
)
def test_scipy_constants(word, si):
    assert unit_factor(word)[0] == pytest.approx(si, rel=1e-12)


def test_the_three_tons_and_two_gallons_are_kept_apart():
    assert quantity("1 ton", "mass", ton="short") == pytest.approx(2000 * constants.lb)
    assert quantity("1 ton", "mass", ton="long") == pytest.approx(2240 * constants.lb)
    assert quantity("1 ton", "mass", ton="tonne") == pytest.approx(1000)
    assert quantity("1 gal", "volume", gallon="us") == pytest.approx(constants.gallon_US)
    assert quantity("1 gal", "volume", gallon="imperial") == pytest.approx(constants.gallon_imp)


def test_areas_and_quotients():
    assert area_factor("ft2") == pytest.approx(constants.foot**2)
    assert rate("1 lb/yd3", "mass", "volume") == pytest.approx(constants.lb / constants.yard**3)
    assert rate("1 lb/ft2", "mass", "area") == pytest.approx(constants.lb / constants.foot**2)


def test_constants_written_out_in_the_unit_file():
    assert pytest.approx(constants.lb) == units.KG_PER_LB
    assert pytest.approx(constants.short_ton) == units.KG_PER_SHORT_TON
    assert pytest.approx(constants.yard**3) == units.M3_PER_YD3


def test_pail_method():
    """Coker, Carolina Composting Council, and Washington State University: net lb in a 5-gallon pail
    times 40.4 is lb per cubic yard (201.974 / 5 = 40.395)."""
    pail_m3 = quantity("5 gal", "volume")
    per_yard = quantity("1 yd3", "volume") / pail_m3
    assert round(per_yard, 1) == 40.4
    assert per_yard == pytest.approx(201.974 / 5, rel=1e-5)


def test_bucket_method():
    """Zabaleta, after Cooperband (2002): a 20 L bucket at 10 kg gross and 1 kg tare is 450 kg/m³."""
    net_kg = quantity("10 kg", "mass") - quantity("1 kg", "mass")
    assert net_kg / quantity("20 L", "volume") == pytest.approx(450)


PINT = {
    "short ton": "short_ton", "long ton": "long_ton", "tonne": "metric_ton", "imperial gallon": "imperial_gallon",
    "cubic foot": "foot ** 3", "cubic yard": "yard ** 3", "cubic metre": "meter ** 3",
}  # fmt: skip


@functools.cache
def unit_registry():
    import pint  # not for the workers that only collect this

    return pint.UnitRegistry(cache_folder=None)


def test_every_unit_is_what_pint_takes_it_for():
    registry = unit_registry()
    for table, si in ((units.MASSES, "kilogram"), (units.VOLUMES, "meter ** 3")):
        for name, factor in table.items():
            known = registry.Quantity(1.0, PINT.get(name, name)).to(si).magnitude
            assert factor == pytest.approx(known, rel=1e-12), name
    spelled = set(units.SPELLINGS.values()) | {*units.TONS.values(), *units.GALLONS.values()}
    assert spelled == units.MASSES.keys() | units.VOLUMES.keys()


@pytest.mark.parametrize("word", ["ft", "in", "m", "cm", "yd"])
def test_every_length_is_what_pint_takes_it_for(word):
    registry = unit_registry()
    square = registry.Quantity(1.0, word).to("meter").magnitude ** 2
    assert area_factor(f"{word}2") == pytest.approx(square, rel=1e-12)
