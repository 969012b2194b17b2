"""Loads that cannot be, and loads worth asking about."""

import datetime as dt
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from divert.convert.naming import density_spreads, meanings
from divert.convert.plausible import heavier_than_water, worth_asking
from divert.core import ledger
from divert.factors import load_factors
from divert.site.model import Site, Spread

FACTORS = load_factors()
GALLON_M3 = 0.003785411784
LB = 0.45359237


def frame(*rows):
    """Return a converted ledger of loads given in pounds and gallons (as filled)."""
    table = []
    for number, row in enumerate(rows, start=2):
        given = {
            "kind": "intake", "material": "food scraps", "condition": "in pails and carts",
            "basis": "weighed", "fill": 1.0, "fill_used": 1.0, "decay_class": "food",
            "source": "Quillmarsh School kitchen",
            "file": "log.xlsx", "sheet": "Jan", "row": number, "column": "F", "found": "?", **row,
        }  # fmt: skip
        given["mass_kg"] = given.pop("lb", np.nan) * LB
        given["volume_m3"] = given.pop("gal", np.nan) * GALLON_M3
        table.append(given)
    whole = pd.DataFrame(table)
    extra = {c: whole[c] for c in ("fill_used", "decay_class")}
    return ledger.tidy(whole).assign(**extra)


def check_rows(loads, factors, published=None, system="us"):
    """Return what is heavier than water, and what is said of that and of the rest."""
    weighed = (loads["basis"] == "weighed") | (loads["kind"] == "weigh-in")
    loads = loads.assign(net_kg=loads["mass_kg"].where(weighed))
    heavy, findings = heavier_than_water(loads, factors, system)
    published = built_in(loads, factors) if published is None else published
    loads = loads.assign(too_heavy=heavy)
    return heavy, findings + worth_asking(loads, factors, published, system)


def built_in(loads, factors):
    """Return the published ranges of the loads' materials, as the built-in list knows them."""
    site = Site(Path("nowhere"), "Alder Hollow Yard", "us", dt.date(2024, 1, 1))
    pairs = {(str(m), str(c)) for m, c in zip(loads["material"], loads["condition"], strict=True)}
    known = meanings(sorted({material for material, _ in pairs}), site, factors)
    asked = [(known[material][0], condition) for material, condition in sorted(pairs)]
    return {pair: spread for pair, (spread, _) in density_spreads(asked, factors).items()}


def codes(findings):
    return [(f.level, f.code, f.where.row) for f in findings]


OUTRIGHT = {"fill": np.nan, "fill_used": np.nan}  # a volume given as such: no eye read a fill


def test_food_heavier_than_water_is_asked_about():
    """Water is 8.345 lb per US gallon (1.0 kg/L)."""
    mask, findings = check_rows(
        frame({"lb": 8.35 * 5, "gal": 5, **OUTRIGHT}, {"lb": 8.34 * 5, "gal": 5, **OUTRIGHT},
              {"lb": 20, "gal": 5, **OUTRIGHT}), FACTORS
    )  # fmt: skip
    assert list(mask) == [True, False, False]
    assert codes(findings) == [
        ("query", "heavier than water allows", 2),
        ("query", "implausible density", 3),
    ]
    assert "8.35 lb per gallon" in str(findings[0].message)
    assert str(findings[0].where) == "log.xlsx!Jan!F2"


def test_a_load_as_heavy_as_water_is_not_heavier():
    """3.785411784 kg in each US gallon, and 0.1 + 0.2 kg in 0.3 L, are 1.0 kg/L but for rounding."""
    loads = frame({"lb": 1, "gal": 1, **OUTRIGHT}, {"lb": 1, "gal": 1, **OUTRIGHT})
    loads["mass_kg"] = [3.785411784 * 7, 0.1 + 0.2]
    loads["volume_m3"] = [0.003785411784 * 7, 0.0003]
    mask, _ = check_rows(loads, FACTORS)
    assert not mask.any()


def test_the_fill_counts_through_the_volume_as_filled():
    """30 lb in a 5-gallon pail half full: 12 lb per gallon, and 9.6 were it five eighths full."""
    mask, _ = check_rows(frame({"lb": 30, "gal": 2.5, "fill": 0.5, "fill_used": 0.5}), FACTORS)
    assert list(mask) == [True]


def test_a_fill_read_by_eye_may_have_been_an_eighth_more():
    """A 5-gallon pail read as half full holds 2.5 gallons, at five eighths 3.125: 26.08 lb of water."""
    half = {"gal": 2.5, "fill": 0.5, "fill_used": 0.5}
    mask, _ = check_rows(frame({"lb": 26.0, **half}, {"lb": 26.2, **half}), FACTORS)
    assert list(mask) == [False, True]


def test_a_fill_nobody_wrote_down_may_have_been_the_brim():
    """38 lb in a 5-gallon pail is 7.6 lb per gallon brim-full, and 9.5 at the assumed 80 %."""
    unknown = {"fill": np.nan, "fill_used": 0.8}
    mask, findings = check_rows(
        frame(
            {"lb": 38, "gal": 4, **unknown},
            {"lb": 25, "gal": 4, **unknown},
            {"lb": 50, "gal": 4, **unknown},
        ),
        FACTORS,
    )
    assert list(mask) == [False, False, True]
    assert codes(findings) == [
        ("query", "heavier than water allows", 4),
        ("query", "implausible density", 2),
    ]


def test_manure_may_be_heavier_than_food():
    heavy = {"material": "horse manure with bedding", "condition": "loose", "decay_class": ""}
    mask, findings = check_rows(frame({"lb": 9 * 5, "gal": 5, **heavy}), FACTORS)
    assert not mask.any()
    # 9 lb/gal is 1,078 kg/m³, under twice the published high of 818
    assert not findings
    _, findings = check_rows(frame({"lb": 14 * 5, "gal": 5, **heavy}), FACTORS)
    assert codes(findings) == [("query", "implausible density", 2)]


def test_food_known_to_be_dense_is_not_asked_about():
    """Coffee grounds run up to 721 kg/m³ (6.0 lb/gal), above the general food band of 5.5."""
    coffee = {"material": "coffee grounds", "condition": "wet"}
    _, findings = check_rows(
        frame({"lb": 5.9 * 5, "gal": 5, **coffee}, {"lb": 5.9 * 5, "gal": 5}), FACTORS
    )
    assert codes(findings) == [("query", "implausible density", 3)]


def test_very_light_food_is_asked_about():
    _, findings = check_rows(frame({"lb": 2, "gal": 5}), FACTORS)
    assert codes(findings) == [("query", "implausible density", 2)]


def test_rows_without_both_or_on_a_density_are_left_alone():
    mask, findings = check_rows(
        frame({"lb": 900}, {"gal": 5}, {"lb": 50, "gal": 5, "basis": "stated density"}), FACTORS
    )
    assert not mask.any()
    assert not findings


def test_a_weigh_in_is_held_to_it_too():
    mask, _ = check_rows(frame({"lb": 50, "gal": 5, "kind": "weigh-in", "basis": None}), FACTORS)
    assert list(mask) == [True]


def test_published_ranges_may_be_given_by_name_and_condition():
    leaves = {"material": "Oak leaf mix", "condition": "loose", "decay_class": "garden"}
    loads = frame({"lb": 10, "gal": 5, **leaves})  # 2 lb/gal, 240 kg/m³
    _, none = check_rows(loads, FACTORS)
    assert not none
    _, findings = check_rows(loads, FACTORS, {("Oak leaf mix", "loose"): Spread(50, 80, 110)})
    assert codes(findings) == [("query", "implausible density", 2)]


def test_many_odd_loads_of_one_material_are_one_question():
    _, findings = check_rows(frame(*({"lb": 2, "gal": 5} for _ in range(11))), FACTORS)
    (only,) = findings
    assert only.rows == 11
    assert only.about == "implausible density: food scraps"


def test_more_removed_than_came():
    _, findings = check_rows(frame({"lb": 20, "gal": 5, "removed_kg": 21 * LB}), FACTORS)
    assert codes(findings) == [("query", "contamination high", 2)]


def test_the_mask_stands_on_the_ledgers_own_index():
    loads = frame({"lb": 20, "gal": 5}, {"lb": 50, "gal": 5}).set_index(pd.Index([7, 3]))
    mask, _ = check_rows(loads, FACTORS)
    assert mask[3] and not mask[7]


def test_an_empty_ledger():
    mask, findings = check_rows(frame({"lb": 1, "gal": 1}).iloc[:0], FACTORS)
    assert len(mask) == 0
    assert not findings


@pytest.mark.parametrize("system", ["us", "metric"])
def test_cells_are_looked_up_in_the_right_order(system):
    """Each material keeps its own range, whatever the order of rows and categories."""
    loads = frame(
        {
            "lb": 1.0,
            "gal": 5,
            "material": "straw",
            "condition": "loose",
            "decay_class": "wood_straw",
        },
        {"lb": 20, "gal": 5},
        {"lb": 38, "gal": 5, "material": "fruit pomace or juice pulp", "condition": "wet"},
        {"lb": 20, "gal": 5, "material": "no such thing", "condition": None, "decay_class": None},
        {"lb": 1.0, "gal": 5, "material": "leaves", "condition": "loose", "decay_class": "garden"},
    )
    _, findings = check_rows(loads, FACTORS, system=system)
    # 0.2 lb/gal is 24 kg/m³: fine for straw (24 to 111), too light for leaves (59 to 178)
    assert codes(findings) == [("query", "implausible density", 6)]


def test_thousands_of_heavy_loads_are_listed_without_a_sentence_each():
    loads = frame({"lb": 50, "gal": 5}, {"lb": 20, "gal": 5})
    many = pd.concat([loads.iloc[:1]] * 2500 + [loads.iloc[1:]], ignore_index=True)
    many["row"] = range(2, 2503)
    mask, findings = check_rows(many, FACTORS)
    refused = [f for f in findings if f.code == "heavier than water allows"]
    assert mask.sum() == sum(f.rows for f in refused) == 2500
    assert len(refused) == 1001
    assert [f.where.row for f in refused[:1000]] == list(range(2, 1002))
    assert refused[-1].where.row == 1002
