"""The set of numbers in use: complete, ordered, each with its source and standing."""

import dataclasses

import pytest

from divert.core.names import plain
from divert.factors import load_factors, slug
from divert.factors.model import STANDINGS
from divert.site.model import BEFORES

FACTORS = load_factors()


def test_every_factor_has_a_source_a_standing_and_ends_in_order():
    for factor in FACTORS.all():
        assert factor.low <= factor.value <= factor.high, factor.key
        for end in factor.ends:
            assert end.document, factor.key
            assert end.standing in STANDINGS, factor.key


def test_mixed_standings_are_told_end_by_end():
    food = FACTORS.density("food-scraps", "in pails and carts")
    assert food is not None
    assert (food.low, food.value, food.high) == (235, 425, 599)
    assert food.standing == "low quoted; typical read; high read"
    assert food.as_published == "low: 396 lb/yd3; typical: 0.425 kg/L; high: 5 lb/gal"
    assert "Merseyside" in food.source and "BioCycle 53(7) (2012), page 34" in food.source
    assert not food.unsure
    castings = FACTORS.get("density.castings.screened")
    assert castings.standing == "proxy"
    assert castings.unsure


def test_a_document_that_carries_all_ends_is_named_once():
    managed = FACTORS.get("mcf.managed").source
    assert managed.count("IPCC 2006") == 1
    assert managed.endswith("Chapter 3, Table 3.5 and Chapter 3, Table 3.1")
    assert FACTORS.get("docf_2019.food").source.count("2019 Refinement") == 1


def test_default_condition_is_taken_where_none_is_named():
    assert FACTORS.density("straw") == FACTORS.get("density.straw.loose")
    assert FACTORS.density("leaves") == FACTORS.get("density.leaves.state-not-known")
    assert FACTORS.density("leaves", "Compacted") == FACTORS.get("density.leaves.compacted")
    assert FACTORS.density("leaves", "frozen") is None
    assert FACTORS.density("moon dust", "loose") is None


def test_where_the_state_decides_a_state_nobody_wrote_spans_all_of_them():
    """Oregon DEQ (2005): grass 40 to 1500, leaves up to 500 lb/yd3, in whatever state."""
    for key in ("grass", "leaves", "newspaper"):
        every = [f for f in FACTORS.all() if f.key.startswith(f"density.{key}.")]
        unknown = FACTORS.density(key)
        assert unknown.low == min(f.low for f in every)
        assert unknown.high == max(f.high for f in every)
    assert FACTORS.density("grass").low == pytest.approx(40 * 0.593276, abs=0.5)
    assert FACTORS.density("grass").high == pytest.approx(1500 * 0.593276, abs=0.5)
    assert FACTORS.density("leaves").high == pytest.approx(500 * 0.593276, abs=0.5)


def test_every_material_can_be_weighed_by_volume_and_decays_as_a_known_class():
    for material in FACTORS.materials.values():
        assert FACTORS.density(material.key) is not None, material.key
        assert material.usual_fate in BEFORES, material.key
        if material.decay_class:
            assert f"doc.{material.decay_class}" in FACTORS
            assert f"k.{material.decay_class}.temperate-wet" in FACTORS
    assert FACTORS.materials["stable-manure"].decay_class == ""


def test_every_density_belongs_to_a_material():
    for factor in FACTORS.all():
        if factor.key.startswith("density."):
            assert factor.key.split(".")[1] in FACTORS.materials, factor.key


def test_no_everyday_name_means_two_materials():
    seen = {}
    for material in FACTORS.materials.values():
        for spelling in {plain(s) for s in (material.key, material.name, *material.also)}:
            assert seen.setdefault(spelling, material.key) == material.key, spelling


def test_names_are_known_in_english_and_french():
    meant = {plain(s): m.key for m in FACTORS.materials.values() for s in (m.name, *m.also)}
    for text, key in (
        ("Food waste", "food-scraps"),
        ("marc de café", "coffee-grounds"),
        ("Feuilles mortes", "leaves"),
        ("Kitchen Scraps", "food-scraps"),
        ("copeaux de bois", "wood-chips"),
        ("horse manure", "stable-manure"),
    ):
        assert meant[plain(text)] == key


def test_slug():
    assert slug("in pails and carts") == "in-pails-and-carts"
    assert slug("Temperate wet") == "temperate-wet"


def test_published_constants():
    """IPCC 2006 Volume 5 (Tables 2.4, 3.1, 3.3, 4.1), the assessment reports' GWP-100 values."""
    for key, value in {
        "doc.food": 0.15,
        "doc.garden": 0.20,
        "doc.paper": 0.40,
        "doc.wood_straw": 0.43,
        "docf_2006.food": 0.5,
        "docf_2019.food": 0.7,
        "docf_2019.wood_straw": 0.1,
        "k.food.temperate-wet": 0.185,
        "k.food.tropical-wet": 0.40,
        "k.wood_straw.temperate-dry": 0.02,
        "mcf.managed": 1.0,
        "mcf.managed-semi-aerobic": 0.5,
        "mcf.unmanaged-deep": 0.8,
        "mcf.unmanaged-shallow": 0.4,
        "mcf.unknown": 0.6,
        "methane_share": 0.5,
        "oxidation.covered": 0.1,
        "oxidation.uncovered": 0.0,
        "composting.ch4": 0.004,
        "composting.n2o": 0.00024,
        "gwp.AR4.ch4": 25,
        "gwp.AR5.ch4": 28,
        "gwp.AR6.ch4": 27.0,
        "gwp.AR4.n2o": 298,
        "gwp.AR5.n2o": 265,
        "gwp.AR6.n2o": 273,
        "gas_captured.none": 0.0,
        "gas_captured.daily-cover": 0.5,
        "gas_captured.intermediate-cover": 0.65,
        "gas_captured.final-cover": 0.85,
    }.items():
        assert FACTORS.get(key).value == pytest.approx(value, rel=1e-12), key


def test_uncertainties_of_table_3_5():
    """IPCC 2006 Volume 5 Table 3.5: DOCf ± 20 %, MCF 1.0 -10/+0 %, 0.6 -50/+60 %, F ± 5 %."""
    for key, low, high in (
        ("docf_2006.food", 0.4, 0.6),
        ("mcf.managed", 0.9, 1.0),
        ("mcf.unknown", 0.3, 0.96),
        ("mcf.unmanaged-shallow", 0.28, 0.52),
        ("methane_share", 0.475, 0.525),
    ):
        factor = FACTORS.get(key)
        assert (factor.low, factor.high) == pytest.approx((low, high)), key


def test_nitrous_oxide_of_composting_is_the_corrected_value():
    """0.6 g per kg dry at the table's 60 % moisture is 0.24 g per kg wet, not the first printed 0.3."""
    assert FACTORS.get("composting.n2o").value * 1000 == pytest.approx(0.6 * (1 - 0.60))
    assert "0.3" in FACTORS.get("composting.n2o").note


def test_screening_rows_are_found_by_class_or_by_what_stands_in():
    us = FACTORS.screening_row("us-2026", "food")
    assert us is not None and us.landfilled == pytest.approx(0.7496, abs=5e-5)
    uk = FACTORS.screening_row("uk-2024", "leaves")
    assert uk is not None and uk.class_ == "garden"
    assert FACTORS.screening_row("uk-2024", "") is None


def test_fingerprint_changes_with_any_content_and_only_with_it():
    assert FACTORS.fingerprint == dataclasses.replace(FACTORS).fingerprint
    first = FACTORS.factors[0]
    moved = dataclasses.replace(first, value=first.value + 1e-9)
    changed = dataclasses.replace(FACTORS, factors=(moved, *FACTORS.factors[1:]))
    assert changed.fingerprint != FACTORS.fingerprint
    assert len(FACTORS.fingerprint) == 64


def test_the_set_cannot_be_changed():
    with pytest.raises(dataclasses.FrozenInstanceError):
        FACTORS.get("doc.food").value = 1.0
    with pytest.raises(TypeError):
        FACTORS.materials["x"] = None


def test_unknown_key():
    with pytest.raises(KeyError):
        FACTORS.get("doc.plastic")
    assert "doc.plastic" not in FACTORS
