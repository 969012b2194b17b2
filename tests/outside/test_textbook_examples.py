"""Published and textbook calculations, each with its source named, done again with the project's own.

The textbook landfill and the weights per cubic yard were read as quoted, not in the books themselves,
whose pages are therefore not known here.
"""

import datetime as dt
import math
from pathlib import Path

import pandas as pd
import pytest

from divert.convert import work_out
from divert.convert.decay import DecayClass, methane, within
from divert.core.period import read_period
from divert.core.reading import reading_of
from divert.core.units import KG_PER_LB, area, rate
from divert.factors import load_factors
from divert.figures.compute import figures_for
from divert.site.model import Material, Site

FACTORS = load_factors()
SHORT_TON_KG = 2000 * 0.45359237  # NIST Handbook 44, Appendix C
YARD3_M3 = 0.9144**3


@pytest.mark.parametrize(("half_life_years", "ninety_percent_years"), [(6, 19.92), (3, 9.96)])
def test_a_textbook_landfill_gives_nine_tenths_of_its_gas(half_life_years, ninety_percent_years):
    """Environmental engineering textbook (as quoted): half-lives of 6 and 3 years give 90 % of the
    methane by 19.92 and 9.96 years (printed with k cut to three digits or so)."""
    k = math.log(2) / half_life_years
    assert within(ninety_percent_years, k) == pytest.approx(0.9, abs=3e-4)


def test_a_textbook_landfill_by_its_twenty_fifth_year():
    """The same (as quoted): 94.35 % of the methane of a half-life of 6 years by 25 years, which is
    1 - exp(-25 k) with k printed as 0.115."""
    assert within(25, 0.115) == pytest.approx(0.9435, abs=1e-4)
    assert within(25, math.log(2) / 6) == pytest.approx(0.9435, abs=1e-3)
    year_by_year = methane([DecayClass("waste", [1.0], doc=1.0, k=0.115)], years=26).generated
    whole = 0.5 * 0.5 * 16 / 12
    assert year_by_year.sum() / whole == pytest.approx(0.9435, abs=1e-4)


@pytest.mark.parametrize(
    ("key", "pounds_per_yard3", "yards3_to_the_short_ton"),
    [
        ("density.grass.state-not-known", 667, 3),
        ("density.leaves.state-not-known", 400, 5),
        ("density.brush.loose", 500, 4),
    ],
)
def test_cubic_yards_to_the_short_ton(key, pounds_per_yard3, yards3_to_the_short_ton):
    """Massachusetts recycling regulations, organics weight conversions (quoted on
    www.lawnsite.com/archive/index.php/t-359023.html): grass 667, leaves 400 and brush 500 lb per cubic
    yard are 3, 5 and 4 cubic yards to the short ton."""
    printed = pounds_per_yard3 * KG_PER_LB / YARD3_M3
    assert SHORT_TON_KG / printed / YARD3_M3 == pytest.approx(yards3_to_the_short_ton, abs=0.002)
    factor = FACTORS.get(key)
    assert any(value == pytest.approx(printed, abs=0.6) for value in (factor.value, factor.high))


def test_a_square_foot_of_bed_for_a_pound_a_week():
    """NC State Extension, AG-473-18 (Worms Can Recycle Your Garbage): 1 ft² of bed per lb of food a week; a bin of 2 x 3 ft takes 6 lb a
    week, and 160 ft² carry 150 lb a week."""
    of_area = FACTORS.get("beds.feed_by_area").value  # kg per m² and week
    assert of_area == pytest.approx(rate("1 lb/ft2", "mass", "area"), rel=1e-6)
    assert of_area * area("2 ft x 3 ft") / KG_PER_LB == pytest.approx(6, rel=1e-6)
    assert of_area * area("160 ft2") / KG_PER_LB >= 150


def test_a_countrys_rate_of_recycling_and_composting():
    """US EPA, Advancing Sustainable Materials Management: 2018 Fact Sheet (December 2020), from memory:
    292.4 million short tons of municipal waste, 69 recycled and 25 composted, is a rate of 32.1 %."""
    site = Site(Path("nowhere"), "Alder Hollow Yard", "us", dt.date(2018, 1, 1),
                materials=(Material("scraps", like="food-scraps", before="landfill"),))  # fmt: skip
    entries = pd.DataFrame(
        {"kind": ["intake", "disposed"], "date": [dt.datetime(2018, 7, 1)] * 2,
         "material": ["scraps", None], "mass_kg": [94.0, 292.4 - 94.0]}
    )  # fmt: skip
    year = read_period("2018", as_of=dt.date(2019, 1, 1), started=site.started)
    workings = work_out(site, reading_of(entries), FACTORS)
    rate_of = figures_for(workings, year, dt.date(2019, 1, 1)).diversion_rate
    assert rate_of is not None and round(100 * rate_of.rate, 1) == 32.1
