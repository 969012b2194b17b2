"""Beds and yields against their bands: asked about, with the band and its source printed."""

import pytest
from told import tells

from divert.convert.capacity import (
    bed_uses,
    harvest_yield,
    shared_by_area,
    worm_mass_kg,
)
from divert.core.units import area, rate
from divert.factors import load_factors
from divert.site.model import Bed

FACTORS = load_factors()
LB_FT2 = rate("1 lb/ft2", "mass", "area")
BED = Bed("Bed 1", area_m2=area("3 ft x 10 ft"), worms_kg_per_m2=LB_FT2)
LB = 0.45359237


def feed(pounds_per_ft2_week):
    """Feed of a 30 ft² bed over 52 weeks, kg."""
    return {"Bed 1": pounds_per_ft2_week * 30 * LB * 52}


@pytest.mark.parametrize(
    ("pounds", "band", "asked"),
    [(1.0, "ordinary", 0), (3.5, "ordinary", 0), (5.0, "ask", 2), (8.0, "implausible", 2)],
)
def test_feed_by_area_falls_into_its_band(pounds, band, asked):
    (use,), findings = bed_uses([BED], feed(pounds), 52, FACTORS)
    assert use.band == band
    assert use.feed_kg_per_m2_week == pytest.approx(pounds * LB_FT2)
    # 1 lb of worms per ft²: so many lb a week and ft² are so many per lb of worms
    assert use.feed_kg_per_kg_worms_week == pytest.approx(pounds)
    assert len(findings) == asked
    assert all(f.level == "query" and f.code == "outside the ordinary band" for f in findings)


def test_question_prints_the_band_and_its_source():
    _, findings = bed_uses([BED], feed(8.0), 52, FACTORS)
    message = str(findings[0].message)
    assert "8 lb per ft² per week" in message
    assert "up to 3.5 lb per ft² per week" in message
    assert "beyond 7 lb per ft² per week" in message
    assert "Common practice, no published source" in message
    _, metric = bed_uses([BED], feed(8.0), 52, FACTORS, "metric")
    # 8 x 0.45359237 / 0.09290304 = 39.06
    assert "39.1 kg per m² per week" in str(metric[0].message)


def test_worms_of_a_bed():
    (use,), _ = bed_uses([BED], {}, 52, FACTORS)
    assert (use.bed, use.area_m2) == ("Bed 1", pytest.approx(30 * 0.3048**2))
    assert worm_mass_kg(BED) == pytest.approx(30 * LB)
    assert use.worms == pytest.approx(30_000, rel=1e-5)
    assert use.feed_kg_per_m2_week is None
    assert use.band == ""


def test_stocking_outside_common_practice_is_asked_about():
    crowded = Bed("Bed 2", area_m2=2.0, worms_kg_per_m2=3 * LB_FT2)
    _, findings = bed_uses([crowded], {}, 52, FACTORS)
    assert [f.name for f in findings] == ["Bed 2: bed-stocking"]
    assert "3 lb of worms per ft²" in str(findings[0].message)


def test_a_bed_of_unstated_size():
    (use,), findings = bed_uses([Bed("Bin")], {"Bin": 100.0}, 52, FACTORS)
    assert (use.area_m2, use.worms_kg, use.feed_kg_per_m2_week, use.band) == (None, None, None, "")
    assert not findings


def test_feed_is_shared_by_area():
    beds = [Bed("a", area_m2=1.0), Bed("b", area_m2=3.0), Bed("c")]
    assert shared_by_area(400.0, beds) == {"a": 100.0, "b": 300.0}
    assert shared_by_area(400.0, [Bed("c")]) == {"c": 400.0}
    assert shared_by_area(400.0, [Bed("c"), Bed("d")]) == {}


def test_no_weeks():
    with pytest.raises(ValueError, match="weeks"):
        bed_uses([BED], {}, 0, FACTORS)


@pytest.mark.parametrize(
    ("product", "out", "fed", "band", "code"),
    [
        ("castings", 300, 1000, "ordinary", None),
        ("castings", 600, 1000, "ask", "outside the ordinary band"),
        ("castings", 850, 1000, "implausible", "outside the ordinary band"),
        ("castings", 50, 1000, "ask", "outside the ordinary band"),
        ("compost", 550, 1000, "ordinary", None),
        ("compost", 700, 1000, "ask", "outside the ordinary band"),
        ("castings", 1001, 1000, "implausible", "product larger than feed"),
        ("compost", 5, 0, "implausible", "product larger than feed"),
        ("compost", 0, 0, "", None),
        ("castings", 0, 1000, "", None),
    ],
)
def test_yield_falls_into_its_band(product, out, fed, band, code):
    share, place, findings = harvest_yield(out, fed, product, FACTORS)
    assert place == band
    assert [f.code for f in findings] == ([code] if code else [])
    assert share == (pytest.approx(out / fed) if fed else None)


def test_a_low_yield_is_no_question_before_a_year_has_passed():
    assert harvest_yield(50, 1000, "castings", FACTORS, whole_year=False) == (0.05, "", [])
    _, place, findings = harvest_yield(900, 1000, "castings", FACTORS, whole_year=False)
    assert place == "implausible" and len(findings) == 1


def test_yield_question_in_words():
    _, _, findings = harvest_yield(850, 1000, "castings", FACTORS)
    message = str(findings[0].message)
    assert tells(message, "castings|12 months|85 %|fed")
    assert "10 to 50 %" in message and "beyond 80 %" in message
