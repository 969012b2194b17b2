"""site.toml read whole: every key in SI, checked against NIST Handbook 44's own numbers."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.site.model import Spread, in_force
from divert.site.read import read_site

WHOLE = """\
[site]
name = "Kestrel Bend Community Farm"
country = "US"
started = 2024-04-01
units = "us"
ton = "short"
gallon = "us"
dates = "month first"
year_starts = "July"
language = "en"
currency = "USD"
logo = "logo.svg"
colour = "#2F6B4F"
scale_accuracy = 0.02

[landfill]
climate = "temperate wet"
kind = "managed"
covered = true
gas_captured = { low = 0.0, typical = 0.5, high = 0.75 }
gwp = "AR6"
fee = "85 USD per short ton"

[[container]]
name = "pail"
also = ["bucket", "5 gal pail"]
volume = "5 gal"
tare = "1.9 lb"
usual_fill = 0.9

[[material]]
name = "kitchen scraps"
also = ["food scraps", "food waste"]
like = "food-scraps"
before = "landfill"
density = { low = 400, typical = 500, high = 650, unit = "lb/yd3" }
proof = "letter of 2024-05-02"

[[source]]
name = "Quillmarsh School kitchen"
also = ["quillmarsh", "school"]

[[sponsor]]
name = "Two Oaks Credit Union"
funds = 0.25
[[sponsor]]
name = "Quillmarsh School"
supplies = ["quillmarsh"]
email = "kitchen@quillmarsh.example"

[[bed]]
name = "Bed 1"
kind = "flow-through"
size = "3 ft x 10 ft"
worms = "1 lb/ft2"

[[grant]]
name = "Soil and Streams Fund"
number = "SSF-118"
from = 2024-07-01
to = 2026-06-30
share = 0.4

[target]
2026 = "5 tonne"
2025 = "12 short ton"

[report]
prepared_by = "RT"
activities = ["volunteer hours"]
name_sources = false
share_notes = true
equivalence = true

[closed]
weeks = ["2024-12-23/2025-01-05"]

[[answer]]
about = "log 2024.xlsx!Jan!F14"
reason = "two carts were joined, the count is right"
by = "RT"
on = 2025-02-03

[[sheet]]
file = "log 2024.xlsx"
sheet = "Jan"
holds = "intake"
columns = { date = "A", source = "c", weight = "F" }
units = { weight = "lb" }
"""

# NIST Handbook 44, Appendix C: the pound, the US gallon of 231 cubic inches, the foot
LB, GAL, FT = 0.45359237, 231 * 0.0254**3, 0.3048


def site_of(folder: Path, text: str):
    (folder / "site.toml").write_text(text, encoding="utf-8")
    return read_site(folder)


def small(more: str = "") -> str:
    return f'[site]\nname = "Site"\nunits = "metric"\nstarted = 2024-04-01\n{more}'


def test_every_key_of_a_whole_file_arrives_in_si(tmp_path: Path) -> None:
    (tmp_path / "logo.svg").write_text("<svg/>")
    site = site_of(tmp_path, WHOLE)
    assert (site.name, site.country, site.units) == ("Kestrel Bend Community Farm", "US", "us")
    assert (site.year_starts, site.logo, site.colour) == (7, "logo.svg", "#2f6b4f")
    assert (site.started, site.dates) == (dt.date(2024, 4, 1), "month first")
    assert site.scale_accuracy == 0.02
    (pail,) = site.containers
    assert pail.also == ("bucket", "5 gal pail")
    assert pail.volume_m3 == pytest.approx(5 * GAL, rel=1e-12)
    assert pail.tare_kg == pytest.approx(1.9 * LB, rel=1e-12)
    assert pail.usual_fill == 0.9
    (landfill,) = site.landfills
    assert landfill.gas_captured == Spread(0.0, 0.5, 0.75)
    assert landfill.fee_per_kg == pytest.approx(85 / (2000 * LB), rel=1e-12)
    (scraps,) = site.materials
    assert scraps.density is not None
    pounds_per_yard = LB / (27 * FT**3)
    assert scraps.density.low == pytest.approx(400 * pounds_per_yard, rel=1e-12)
    assert scraps.density.high == pytest.approx(650 * pounds_per_yard, rel=1e-12)
    assert scraps.proof == "letter of 2024-05-02"
    assert site.sponsors[1].supplies == ("Quillmarsh School kitchen",)  # under its own name
    (bed,) = site.beds
    assert bed.area_m2 == pytest.approx(30 * FT**2, rel=1e-12)
    assert bed.worms_kg_per_m2 == pytest.approx(LB / FT**2, rel=1e-12)
    (grant,) = site.grants
    assert (grant.number, grant.end, grant.share) == ("SSF-118", dt.date(2026, 6, 30), 0.4)
    assert site.targets_kg == (
        (2025, pytest.approx(12 * 2000 * LB, rel=1e-12)),
        (2026, pytest.approx(5000.0)),
    )
    assert site.report.activities == ("volunteer hours",)
    assert (site.report.name_sources, site.report.share_notes) == (False, True)
    assert site.closed == ((dt.date(2024, 12, 23), dt.date(2025, 1, 5)),)
    assert site.answers[0].on == dt.date(2025, 2, 3)
    assert site.sheets[0].columns == (("date", "A"), ("source", "C"), ("weight", "F"))
    assert site.toml == WHOLE


def test_three_keys_are_enough_and_the_rest_has_defaults(tmp_path: Path) -> None:
    site = site_of(tmp_path, small())
    assert (site.country, site.ton, site.gallon, site.dates) == ("US", "short", "us", None)
    assert (site.year_starts, site.language, site.currency) == (1, "en", "USD")
    (landfill,) = site.landfills
    assert (landfill.climate, landfill.kind, landfill.gwp) == ("temperate wet", "managed", "AR6")
    assert landfill.gas_captured is None  # not stated: the tool asks
    assert site.scale_accuracy == 0.01


def test_a_bare_ton_and_gallon_follow_the_site(tmp_path: Path) -> None:
    text = small().replace("[site]", '[site]\nton = "long"\ngallon = "imperial"')
    site = site_of(
        tmp_path,
        text + '[[container]]\nname = "tote"\nvolume = "40 gal"\n[target]\n2025 = "2 ton"\n',
    )
    # NIST Handbook 44, Appendix C: long ton 2,240 lb; imperial gallon 4.54609 L
    assert site.targets_kg[0][1] == pytest.approx(2 * 2240 * LB, rel=1e-12)
    assert site.containers[0].volume_m3 == pytest.approx(40 * 0.00454609, rel=1e-12)


@pytest.mark.parametrize(
    ("written", "low", "typical", "high"),
    [
        ('"0.5 kg/L"', 400, 500, 600),
        ('{ typical = 500, unit = "kg/m3" }', 400, 500, 600),
        ('{ low = 400, high = 600, unit = "kg/m3" }', 400, 500, 600),
        ('{ low = 0.4, typical = 0.45, high = 0.6, unit = "kg/L" }', 400, 450, 600),
    ],
)
def test_a_density_may_be_written_in_several_ways(
    tmp_path: Path, written: str, low: float, typical: float, high: float
) -> None:
    site = site_of(tmp_path, small(f'[[material]]\nname = "x"\ndensity = {written}\n'))
    density = site.materials[0].density
    assert density is not None
    assert (density.low, density.typical, density.high) == pytest.approx((low, typical, high))


def test_gas_captured_may_be_one_number_or_one_per_class(tmp_path: Path) -> None:
    one = site_of(tmp_path, small("[landfill]\ngas_captured = 0.6\n")).landfills[0]
    assert (one.gas_captured, one.gas_by_class) == (Spread(0.6, 0.6, 0.6), ())
    text = "[landfill]\ngas_captured = { food = 0.39, paper = { low = 0.5, high = 0.7 } }\n"
    apart = site_of(tmp_path, small(text)).landfills[0]
    assert apart.gas_captured is None
    assert dict(apart.gas_by_class)["food"] == Spread(0.39, 0.39, 0.39)
    assert dict(apart.gas_by_class)["paper"].typical == pytest.approx(0.6)


def test_what_changed_is_written_again_and_the_rest_is_kept(tmp_path: Path) -> None:
    site = site_of(
        tmp_path,
        small(
            '[[container]]\nname = "pail"\nalso = ["bucket"]\nvolume = "20 L"\ntare = "0.8 kg"\n'
            '[[container]]\nname = "pail"\nfrom = 2025-04-01\ntare = "1.1 kg"\n'
            '[[source]]\nname = "Mill"\nbefore = "landfill"\nproof = "letter"\n'
            '[[source]]\nname = "Mill"\nfrom = 2025-01-01\nbefore = "composted"\n'
            "[landfill]\n".replace("[landfill]", "[[landfill]]")
            + "gas_captured = 0.2\n[[landfill]]\nfrom = 2025-07-01\ncovered = false\n"
        ),
    )
    before, after = dt.date(2025, 3, 31), dt.date(2025, 4, 1)
    assert in_force(site.containers, before).tare_kg == pytest.approx(0.8)
    new = in_force(site.containers, after)
    assert (new.tare_kg, new.volume_m3, new.also) == (
        pytest.approx(1.1),
        pytest.approx(0.02),
        ("bucket",),
    )
    assert site.sources[1].proof is None  # a proof belongs to the fate it was written with
    assert site.landfills[1].covered is False
    assert site.landfills[1].gas_captured == Spread(0.2, 0.2, 0.2)


def test_shares_that_follow_each_other_are_no_mistake(tmp_path: Path) -> None:
    site = site_of(
        tmp_path,
        small(
            '[[source]]\nname = "Mill"\n'
            '[[sponsor]]\nname = "A"\nfunds = 0.7\nsupplies = ["Mill"]\n'
            '[[sponsor]]\nname = "A"\nfrom = 2025-04-01\nfunds = 0.1\nsupplies = []\n'
            '[[sponsor]]\nname = "B"\nfrom = 2025-04-01\nfunds = 0.9\nsupplies = ["Mill"]\n'
        ),
    )
    assert [sponsor.funds for sponsor in site.sponsors] == [0.7, 0.1, 0.9]


def test_a_file_saved_by_a_windows_editor_is_read(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_bytes(b"\xef\xbb\xbf" + small().replace("\n", "\r\n").encode())
    assert read_site(tmp_path).name == "Site"


def test_like_may_name_a_material_of_the_sites_own_factor_file(tmp_path: Path) -> None:
    (tmp_path / "factors.csv").write_text(
        "key,value,low,high,unit,source,standing\n"
        "density.hop-cones.loose,120,90,150,kg/m3,our own scale 2025-03-01,read\n"
    )
    text = small('[[material]]\nname = "hops"\nlike = "hop-cones"\n')
    assert site_of(tmp_path, text).materials[0].like == "hop-cones"
