"""A site's own factor file, good and bad."""

import pytest

from divert.core.findings import CannotRun
from divert.factors import load_factors, sources_table

HEAD = "key,value,low,high,unit,source,standing\n"


def own(tmp_path, text, encoding="utf-8"):
    (tmp_path / "factors.csv").write_text(text, encoding=encoding)
    return load_factors(tmp_path)


def refused(tmp_path, text):
    with pytest.raises(CannotRun) as problem:
        own(tmp_path, text)
    assert problem.value.exit_status == 2
    message = str(problem.value)
    assert message.startswith("factors.csv")
    assert "\n" not in message
    return message


def test_no_file_is_the_built_in_set(tmp_path):
    assert load_factors(tmp_path) is load_factors()


def test_a_density_in_pounds_is_converted(tmp_path):
    factors = own(
        tmp_path,
        HEAD + "density.leaves.loose,200,150,250,lb/yd3,County weigh-bridge trial 2024,read\n",
    )
    leaves = factors.get("density.leaves.loose")
    # 1 lb/yd³ = 0.45359237 / 0.764554857984 kg/m³ (NIST Handbook 44)
    assert leaves.value == pytest.approx(200 * 0.45359237 / 0.764554857984)
    assert leaves.low == pytest.approx(150 * 0.45359237 / 0.764554857984)
    assert leaves.high == pytest.approx(250 * 0.45359237 / 0.764554857984)
    assert leaves.source == "County weigh-bridge trial 2024"
    assert leaves.as_published == "low: 150 lb/yd3; typical: 200 lb/yd3; high: 250 lb/yd3"
    assert leaves.own
    assert factors.fingerprint != load_factors().fingerprint
    assert any(row.key == "density.leaves.loose" for row in sources_table(factors))


def test_a_density_without_ends_gets_twenty_percent(tmp_path):
    factors = own(tmp_path, HEAD + "density.hay.loose,100,,,kg/m3,Own scale,read\n")
    hay = factors.get("density.hay.loose")
    assert (hay.low, hay.value, hay.high) == pytest.approx((80, 100, 120))


def test_a_new_condition_and_a_new_material(tmp_path):
    factors = own(
        tmp_path,
        HEAD
        + "density.leaves.vacuumed,300,,,kg/m3,Own scale 2025,read\n"
        + "density.bread.loose,0.25,0.2,0.3,kg/L,Bakery trial,quoted\n",
    )
    assert factors.density("leaves", "vacuumed").value == pytest.approx(300)
    assert factors.density("bread").value == pytest.approx(250)
    assert factors.materials["bread"].decay_class == ""  # no class: never any landfill methane
    assert "bread" not in load_factors().materials


def test_other_units(tmp_path):
    factors = own(
        tmp_path,
        HEAD
        + "composting.ch4,2,1,3,g CH4 per kg wet,Trial A,read\n"
        + "fuel.diesel,10.0,,,kg CO2 per US gallon,Supplier,quoted\n"
        + "oxidation.covered,10,0,20,%,Landfill report,read\n"
        + "k.food.temperate-wet,0.15,0.1,0.2,1/yr,Landfill report,read\n"
        + "gwp.AR6.ch4,27.9,,,,Report,memory\n",
    )
    assert factors.get("composting.ch4").value == pytest.approx(0.002)
    assert factors.get("fuel.diesel").value == pytest.approx(10 / 3.785411784)
    assert factors.get("oxidation.covered").high == pytest.approx(0.2)
    assert factors.get("gwp.AR6.ch4").low == 27.9


def test_no_standing_counts_as_memory(tmp_path):
    factors = own(tmp_path, "key,value,unit,source\ndensity.hay.loose,100,kg/m3,Somewhere\n")
    assert factors.get("density.hay.loose").standing == "memory"


def test_semicolons_windows_text_and_blank_lines(tmp_path):
    text = "Key;Value;Low;High;Unit;Source;Standing\n\n"
    text += "density.hay.loose;90;;;kg/m3;Essai à la ferme;read\n;;;;;;\n"
    factors = own(tmp_path, text, encoding="cp1252")
    assert factors.get("density.hay.loose").source == "Essai à la ferme"


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("density.hay.loose,100,,,kg/m3,,read", "no source"),
        ("density.hay.loose,0,,,kg/m3,Own,read", "above zero"),
        ("density.hay.loose,-3,,,kg/m3,Own,read", "above zero"),
        ("density.hay.loose,100,120,130,kg/m3,Own,read", "120"),
        ("density.hay.loose,ninety,,,kg/m3,Own,read", "ninety"),
        ("density.hay.loose,nan,,,kg/m3,Own,read", "nan"),
        ("density.hay.loose,,,,kg/m3,Own,read", "no value"),
        ("density.hay.loose,100,,,kg,Own,read", "kg"),
        ("density.hay.loose,100,,,furlong,Own,read", "furlong"),
        ("density.hay.loose,100,,,kg/m3,Own,hearsay", "hearsay"),
        ("density.hay.lose,100,,,kg/m3,Own,read", "density.hay.loose"),
        ("doc.fod,0.15,,,share,Own,read", "doc.food"),
        ("doc.food,1.5,,,share,Own,read", "above 1"),
        ("mcf.managed,150,,,%,Own,read", "above 1"),
        ("oxidation.covered,-0.1,,,share,Own,read", "below zero"),
        ("zzzz,1,,,share,Own,read", "density.<material>.<condition>"),
        ("density.hay.loose,100,,,kg/m3,Own,read,extra", "quotes"),
    ],
)
def test_what_is_refused_and_how(tmp_path, row, says):
    message = refused(tmp_path, HEAD + row + "\n")
    assert says in message
    assert "line 2" in message


def test_a_key_given_twice(tmp_path):
    row = "density.hay.loose,100,,,kg/m3,Own,read\n"
    assert "second time" in refused(tmp_path, HEAD + row + row)


def test_wrong_headings(tmp_path):
    assert "first line" in refused(tmp_path, "what,how much\nhay,100\n")
    assert "first line" in refused(tmp_path, "")
