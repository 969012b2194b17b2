"""Every converted number in the data files, worked out again from the text it was published as.

The conversions are written out here from NIST Handbook 44, Appendix C, and not taken from the code.
"""

import csv
import re

import pytest
from each import failing

from divert.factors.load import DATA, NUMBERS

LB, FOOT, GALLON = 0.45359237, 0.3048, 231 * 0.0254**3  # kg, m, m³ (231 cubic inches)
BUSHEL = 2150.42 * 0.0254**3
PER = {
    "lb/yd3": LB / (3 * FOOT) ** 3,
    "lb/ft3": LB / FOOT**3,
    "lb/gal": LB / GALLON,
    "lb/bu": LB / BUSHEL,
    "kg/L": 1000.0,
    "kg/m3": 1.0,
    "lb/ft2": LB / FOOT**2,
    "worms per lb": 1 / LB,
    "lb per lb of worms per day": 7.0,
    "ft2 of bed per lb of food per week": LB / FOOT**2,
    "kg CO2 per US gallon": 1 / (GALLON * 1000),
    "g per kg wet": 0.001,
    "g per kg": 0.001,
    "%": 0.01,
    "% of wet waste": 0.01,
    "": 1.0,
}


def rows():
    for name in NUMBERS:
        with (DATA / f"{name}.csv").open(encoding="utf-8") as file:
            for row in csv.DictReader(file):
                yield name, row


ROWS = list(rows())
TYPICAL = {r["key"]: float(r["value"]) for _, r in ROWS if r["end"] == "typical"}


def expected(row):
    """Return the SI value that the published text says, or None where it prints none."""
    text = row["as_published"]
    if (middle := re.fullmatch(r"midpoint of ([\d.]+)-([\d.]+) (.+)", text)) is not None:
        return (float(middle[1]) + float(middle[2])) / 2 * PER[middle[3]]
    if (apart := re.fullmatch(r"([-+]\d+) %", text)) is not None:
        return TYPICAL[row["key"]] * (1 + float(apart[1]) / 100)
    if text == "61 % not captured":
        return 0.39
    if (plain := re.fullmatch(r"([\d.]+) ?(.*)", text)) is not None:
        return float(plain[1]) * PER[plain[2]]
    assert text in ("", "midpoint of both ends"), text
    return None


def as_published(name, row):
    want = expected(row)
    if want is None:
        assert row["note"]
        return
    # Densities are kept to the whole kg/m³; a midpoint may be that of the rounded ends.
    slack = 0.51 if name == "densities" else 1e-6 * max(1.0, abs(want))
    slack = 0.66 if row["as_published"].startswith("midpoint") and name == "densities" else slack
    # Water is 1.0 kg per litre by the rule, which the trade prints as 8.34 lb per gallon.
    slack = 1.0 if row["key"] == "water" else slack
    assert float(row["value"]) == pytest.approx(want, abs=slack)


def test_each_value_is_what_was_published():
    assert failing(as_published, ROWS) == {}


def test_how_many_numbers_are_checked_against_their_text():
    checked = [row for _, row in ROWS if expected(row) is not None]
    assert len(checked) > 0.9 * len(ROWS)


def test_midpoints_are_midpoints_of_their_ends():
    ends = {}
    for _, row in ROWS:
        ends.setdefault(row["key"], {})[row["end"]] = row
    for key, by_end in ends.items():
        text = by_end["typical"]["as_published"]
        if text.startswith("midpoint") and {"low", "high"} <= set(by_end):
            low, high = float(by_end["low"]["value"]), float(by_end["high"]["value"])
            # Ends of another document than the midpoint's are no ends of it.
            if len({by_end[end]["document"] for end in ("low", "typical", "high")}) == 1:
                assert float(by_end["typical"]["value"]) == pytest.approx(
                    (low + high) / 2, abs=1.0
                ), key


def test_straw_is_not_58_kg_per_cubic_metre():
    """NRAES-54 Table A.1 prints 58 lb/yd³ beside 34 kg/m³: the pound figure is not the kilogram one."""
    low = next(
        r
        for _, r in ROWS
        if r["key"] == "density.straw.chopped-or-bale-flakes" and r["end"] == "low"
    )
    assert float(low["value"]) == 34
    assert low["as_published"] == "58 lb/yd3"


def screening():
    with (DATA / "screening.csv").open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", screening(), ids=lambda r: f"{r['set']}-{r['class']}")
def test_screening_value_is_what_was_published(row):
    per = {"t CO2e per short ton": 1000 / (2000 * LB), "kg CO2e per tonne": 0.001}
    for column in ("landfilled", "composted"):
        if row[column]:
            number, unit = row[f"{column}_as_published"].split(" ", 1)
            assert float(row[column]) == pytest.approx(float(number) * per[unit], rel=1e-8)


def test_bands_are_what_is_printed_in_pounds():
    """The bands as printed: 3.5 and 7 lb per ft² per week; 1, 5.5 and 0.5 lb per gallon."""
    with (DATA / "bands.csv").open(encoding="utf-8") as file:
        band = {row["key"]: row for row in csv.DictReader(file)}
    feed = band["bed-feed"]
    assert float(feed["ordinary_high"]) == pytest.approx(3.5 * LB / FOOT**2, rel=1e-6)
    assert float(feed["ask_high"]) == pytest.approx(7 * LB / FOOT**2, rel=1e-6)
    load = band["food-load"]
    for column, pounds in (("ordinary_low", 1), ("ordinary_high", 5.5), ("ask_low", 0.5)):
        assert float(load[column]) == pytest.approx(pounds * LB / GALLON, rel=1e-6)
    assert float(load["ask_high"]) == 1000  # water; 8.34 lb/gal is it rounded down
    assert pytest.approx(1000, rel=0.001) == 8.34 * LB / GALLON
    stocking = band["bed-stocking"]
    assert float(stocking["ordinary_high"]) == pytest.approx(1.5 * LB / FOOT**2, rel=1e-6)
