"""A mistake in site.toml: one message with file, line, table, key, value and what is accepted."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from divert.core.findings import CannotRun
from divert.site.read import read_site

SITE = '[site]\nname = "Site"\nunits = "us"\nstarted = 2024-04-01\n'  # four lines
SPONSORS = '[[source]]\nname = "Mill"\n[[sponsor]]\nname = "A"\nsupplies = ["Mill"]\nfunds = 0.6\n'


def message(folder: Path, text: str) -> str:
    (folder / "site.toml").write_text(text, encoding="utf-8")
    with pytest.raises(CannotRun) as stopped:
        read_site(folder)
    said = str(stopped.value)
    assert "\n" not in said
    assert stopped.value.exit_status == 2
    return said


# what is written from line 5 on; the line it must name; further words it must hold
MISTAKES = [
    ('unit = "us"', 5, ['"unit"', 'Did you mean "units"']),
    ("fee = 3", 5, ['"fee"', "[landfill]"]),
    ("wheelbarrows = 3", 5, ["wheelbarrows", "scale_accuracy"]),
    ('ton = "metric"', 5, ["ton", '"metric"', '"short", "long", "tonne"']),
    ('gallon = "uk"', 5, ['"uk"', '"us", "imperial"']),
    ('dates = "dmy"', 5, ['"dmy"', '"month first", "day first"']),
    ('year_starts = "Juli"', 5, ['"Juli"', 'Did you mean "July"']),
    ("year_starts = 7", 5, ["= 7", '"January"']),
    ('language = "xx"', 5, ['"xx"', '"en"']),
    ('country = "Freedonia"', 5, ["Freedonia", "two letters"]),
    ('currency = "dollars"', 5, ["dollars", "three letters"]),
    ('colour = "leafy"', 5, ["leafy", "#2f6b4f"]),
    ("scale_accuracy = 2", 5, ["scale_accuracy = 2", "0.25"]),
    ("scale_accuracy = nan", 5, ["nan"]),
    ("scale_accuracy = true", 5, ["true"]),
    ('logo = "../secret.svg"', 5, ["../secret.svg", "inside the site folder"]),
    ('logo = "/etc/passwd.svg"', 5, ["inside the site folder"]),
    ('logo = "C:\\\\pics\\\\logo.svg"', 5, ["inside the site folder"]),
    ('logo = "gone.svg"', 5, ["no such file"]),
    ('logo = "site.toml"', 5, [".svg"]),
    ("[landfil]\ncovered = true", 5, ["landfil", 'did you mean "landfill"']),
    ("[zebra]\nx = 1", 5, ["zebra", "[[container]]"]),
    ('[landfill]\nclimate = "temperate wett"', 6, ["temperate wett", 'mean "temperate wet"']),
    ('[landfill]\nkind = "manged"', 6, ["manged", '"managed"']),
    ('[landfill]\ngwp = "AR7"', 6, ["AR7", '"AR4", "AR5", "AR6"']),
    ('[landfill]\ncovered = "yes"', 6, ['"yes"', "true or false"]),
    ("[landfill]\nname = 7", 6, ["7", "text in quotes"]),
    ("[landfill]\ngas_captured = 1.2", 6, ["1.2", "from 0 to 1"]),
    ("[landfill]\ngas_captured = { low = 0.5, typical = 0.4, high = 0.6 }", 6, ["0.4"]),
    ("[landfill]\ngas_captured = { foood = 0.4 }", 6, ["foood", "wood_straw"]),
    ("[landfill]\ngas_captured = { food = 1.4 }", 6, ["1.4", "from 0 to 1"]),
    ('[landfill]\nfee = "85 dollars"', 6, ["85 dollars", "85 USD per short ton"]),
    ('[landfill]\nfee = "85 EUR per tonne"', 6, ["EUR", "USD"]),
    ('[landfill]\nfee = "85 USD per yd3"', 6, ["per mass"]),
    ('[landfill]\nfee = "85 USD per cwt"', 6, ["cwt", "not known"]),
    ("[landfill]\nfrom = 2025", 6, ["2025", "2024-04-01"]),
    ('[[container]]\nvolume = "5 gal"', 5, ["name is missing"]),
    ('[[container]]\nname = "pail"\nvolume = "5 gall"', 7, ['"pail"', "gall", "5 gal"]),
    ('[[container]]\nname = "pail"\nvolume = 5', 7, ["volume = 5", '"240 L"']),
    ('[[container]]\nname = "pail"\nvolume = "0 gal"', 7, ["above zero"]),
    ('[[container]]\nname = "pail"\nvolume = "5 lb"', 7, ["5 lb", "volume"]),
    ('[[container]]\nname = "pail"\nvolume = "2,5 L"', 7, ["2,5 L", "point"]),
    ('[[container]]\nname = "pail"\ntare = "-1 lb"', 7, ["-1 lb", "zero or more"]),
    ('[[container]]\nname = "pail"\nusual_fill = 1.7', 7, ["1.7", "1.5"]),
    ('[[container]]\nname = "pail"\nalso = "bucket"', 7, ['"bucket"', "list"]),
    ('[[container]]\nname = "pail"\n[[container]]\nname = "pail"', 7, ["line 5", "from ="]),
    (
        '[[container]]\nname = "pail"\nalso = ["bin"]\n[[container]]\nname = "bin"',
        9,
        ['"bin"', '"pail"', "line 5"],
    ),
    ('[container]\nname = "pail"', 5, ["[[container]]"]),
    ('[[material]]\nname = "x"\nlike = "food-scrap"', 7, ["food-scrap", '"food-scraps"']),
    ('[[material]]\nname = "x"\nbefore = "landfil"', 7, ["landfil", '"landfill"']),
    (
        '[[material]]\nname = "x"\ndensity = { low = 0, typical = 5, high = 9, unit = "kg/m3" }',
        7,
        ["0 <"],
    ),
    (
        '[[material]]\nname = "x"\ndensity = { low = 9, typical = 5, high = 3, unit = "kg/m3" }',
        7,
        ["low ≤"],
    ),
    ('[[material]]\nname = "x"\ndensity = { typical = 5, unit = "kg" }', 7, ["mass on a volume"]),
    (
        '[[material]]\nname = "x"\ndensity = { typical = 5, unit = "kg/bag" }',
        7,
        ['"bag"', "not known"],
    ),
    ('[[material]]\nname = "x"\ndensity = { typical = 5 }', 7, ["mass on a volume"]),
    ('[[material]]\nname = "x"\ndensity = { usual = 5, unit = "kg/L" }', 7, ["usual", "typical"]),
    ('[[material]]\nname = "x"\ndensity = "-5 kg/L"', 7, ["-5 kg/L"]),
    ('[[material]]\nname = "x"\ndensity = 500', 7, ["density = 500"]),
    (SPONSORS + '[[sponsor]]\nname = "B"\nsupplies = ["Mil"]', 13, ["Mil", 'did you mean "Mill"']),
    (SPONSORS + '[[sponsor]]\nname = "B"\nsupplies = ["Mill"]', 13, ["Mill", '"A"', "line 9"]),
    (
        SPONSORS + '[[sponsor]]\nname = "B"\nfunds = 0.5',
        13,
        ['"A" 0.6', '"B" 0.5', "1.1", "at most 1"],
    ),
    (
        SPONSORS + '[[sponsor]]\nname = "B"\nfrom = 2025-04-01\nfunds = 0.5',
        14,
        ["April 1, 2025", "at most 1"],
    ),
    (SPONSORS + '[[grant]]\nname = "G"\nshare = 0.5', 13, ['"G" 0.5', "at most 1"]),
    (SPONSORS + '[[sponsor]]\nname = "B"\nfunds = 1.5', 13, ["1.5", "from 0 to 1"]),
    (SPONSORS + '[[sponsor]]\nname = "B"\nfunds = "25 %"', 13, ["25 %", "from 0 to 1"]),
    ('[[sponsor]]\nname = "B"\nemail = "a@b.example\\nBcc: x@y.example"', 7, ["one line"]),
    ('[[sponsor]]\nname = "B"\nemail = "kitchen"', 7, ["kitchen@school.example"]),
    ('[[bed]]\nname = "Bed 1"\nkind = "box"', 7, ["box", "windrow"]),
    ('[[bed]]\nname = "Bed 1"\nsize = "3 x 10"', 7, ["3 x 10", "3 ft x 10 ft"]),
    ('[[bed]]\nname = "Bed 1"\nsize = "0 ft x 10 ft"', 7, ["above zero"]),
    ('[[bed]]\nname = "Bed 1"\nworms = "1 lb"', 7, ["1 lb/ft2"]),
    ('[[bed]]\nname = "Bed 1"\n[[bed]]\nname = "bed 1"', 8, ["line 5"]),
    ('[[grant]]\nname = "G"\nfrom = 2025-01-01\nto = 2024-01-01', 8, ["before from"]),
    ('[[grant]]\nname = "G"\nfrom = "2025-01-01"', 7, ['"2025-01-01"', "without quotes"]),
    ('[target]\nyear = "12 short ton"', 6, ["year", "12 short ton"]),
    ("[target]\n2025 = 12", 6, ["2025 = 12", "mass"]),
    ('[target]\n2025 = "12 cwt"', 6, ["cwt", "not known"]),
    ('[report]\nname_sources = "no"', 6, ["true or false"]),
    ('[report]\npicture = "../yard.jpg"', 6, ["inside the site folder"]),
    ('[report]\nactivities = "hours"', 6, ["list"]),
    ('[closed]\nweeks = ["2024-12-23"]', 6, ["2024-12-23", "2024-12-23/2025-01-05"]),
    ('[closed]\nweeks = ["2025-01-05/2024-12-23"]', 6, ["first and the last day"]),
    ('[[answer]]\nabout = "a.xlsx!Jan!F14"', 5, ["reason is missing"]),
    ('[[sheet]]\nfile = "a.xlsx"\nholds = "intakes"', 7, ["intakes", '"intake"']),
    ('[[sheet]]\nfile = "a.xlsx"\ncolumns = { dat = "A" }', 7, ["dat", '"date"']),
    ('[[sheet]]\nfile = "a.xlsx"\ncolumns = { date = 1 }', 7, ['date = "A"']),
    ('[[sheet]]\nfile = "a.xlsx"\ncolumns = { date = "A1" }', 7, ["column letters"]),
    ('[[sheet]]\nfile = "a.xlsx"\nunits = { weight = "pund" }', 7, ["pund", "not known"]),
    ('[[sheet]]\nfile = "a.xlsx"\nunits = { weight = "gal" }', 7, ["unit of mass"]),
    ('[[sheet]]\nfile = "a.xlsx"\nunits = { volume = "lb" }', 7, ["unit of volume"]),
    (
        '[[sheet]]\nfile = "a.xlsx"\ncolumns = { date = "A", source = "a" }',
        7,
        ["Column A", "date", "source"],
    ),
    ('[[sheet]]\nfile = "a.xlsx"\nignore = ["F1"]', 7, ['["G", "H"]']),
    ('[[sheet]]\nfile = "a.xlsx"\nsource = 3', 7, ["text in quotes"]),
    ('[[sheet]]\nfile = "a.xlsx"\nmaterial = ["leaves"]', 7, ["text in quotes"]),
    ('[[sheet]]\nfile = "a.xlsx"\ncontainer = 1', 7, ["text in quotes"]),
    ('[[sheet]]\nfile = "a.xlsx"\nyear = "2025"', 7, ["number from"]),
    ('[[sheet]]\nfile = "a.xlsx"\nmonth = 1.5', 7, ["whole number"]),
    ('[[sheet]]\nfile = "a.xlsx"\nheadings = [2, 4]', 7, ["[2, 3]"]),
    ('[[sheet]]\nfile = "a.xlsx"\nrows = "9:4"', 7, ['"4:120"']),
    ('[[sheet]]\nfile = "a.xlsx"\ndates = "year first"', 7, ['"month first"', '"day first"']),
    ('[[sheet]]\nfile = "a.xlsx"\nlies = "upright"', 7, ['"on its side"']),
    ('[[container]]\nname = "tote"\ntare = "1.9"', 7, ['"1.9 lb"']),
    ('[[sheet]]\nfile = "a.xlsx"\n[[sheet]]\nfile = "a.xlsx"', 8, ["line 5"]),
    ('name = "again"', 5, ["TOML"]),
    ("language = en", 5, ["TOML", "language = en", "quotes"]),
    ('language = "en', 5, ["TOML"]),
    (f'colour = "{"x" * 501}"', 5, ["500 characters"]),
]


@pytest.mark.parametrize(("written", "line", "words"), MISTAKES)
def test_each_mistake_is_one_message_with_its_place(
    tmp_path: Path, written: str, line: int, words: list[str]
) -> None:
    said = message(tmp_path, SITE + written + "\n")
    assert said.startswith(str(tmp_path / "site.toml"))
    assert f"line {line}" in said
    for word in words:
        assert word in said


@pytest.mark.parametrize("key", ["name", "units", "started"])
def test_what_is_required_is_asked_for(tmp_path: Path, key: str) -> None:
    lines = [line for line in SITE.splitlines() if not line.startswith(key)]
    said = message(tmp_path, "\n".join(lines))
    assert f"{key} is missing" in said
    assert "line 1" in said


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", ["no [site] table"]),
        ('name = "Site"\n', ['"name" stands before any table', "[site]"]),
        ('site = "Kestrel"\n', ["[site]"]),
        ("[[site]]\nname = 'x'\n", ["[site]"]),
        ("x = " + "[" * 5000 + "]" * 5000, ["TOML"]),
        ("x = " + "9" * 5000, ["TOML"]),
    ],
)
def test_a_file_of_another_shape_is_said_so(tmp_path: Path, text: str, words: list[str]) -> None:
    said = message(tmp_path, text)
    for word in words:
        assert word in said


def test_no_folder_no_file_and_no_text(tmp_path: Path) -> None:
    def said(folder: Path) -> str:
        with pytest.raises(CannotRun) as stopped:
            read_site(folder)
        return str(stopped.value)

    assert "no folder" in said(tmp_path / "nowhere")
    assert "no site.toml" in said(tmp_path)
    assert "divert begin" in said(tmp_path)
    file = tmp_path / "a.txt"
    file.write_text("x")
    assert "is a file" in said(file)
    (tmp_path / "site.toml").write_bytes("[site]\nname = 'x'".encode("utf-16"))
    assert "UTF-8" in said(tmp_path)
    (tmp_path / "site.toml").write_bytes(b" " * 2_000_001)
    assert "larger" in said(tmp_path)
    (tmp_path / "site.toml").unlink()
    (tmp_path / "site.toml").mkdir()
    assert "not a file" in said(tmp_path)


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is unreadable to root")
def test_a_file_that_may_not_be_opened(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_text(SITE)
    (tmp_path / "site.toml").chmod(0)
    with pytest.raises(CannotRun, match="cannot be read"):
        read_site(tmp_path)


def test_a_picture_cannot_leave_the_folder_by_a_link(tmp_path: Path) -> None:
    outside = tmp_path / "secret.png"
    outside.write_bytes(b"secret")
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "logo.png").symlink_to(outside)
    said = message(folder, SITE + 'logo = "logo.png"\n')
    assert "inside the site folder" in said


def test_a_hostile_value_is_shown_harmless(tmp_path: Path) -> None:
    said = message(tmp_path, SITE + 'ton = "\\u001b[31m\\u202e{file}{0.__class__}"\n')
    assert "\x1b" not in said
    assert "\u202e" not in said
    assert "{0.__class__}" in said


def test_lines_are_right_under_long_strings_lists_and_subtables(tmp_path: Path) -> None:
    text = (
        SITE
        + '[report]\nprepared_by = """R # [x]\\\n T"""\nactivities = [\n  "a = 1",  # ]\n'
        + '  "[target]",\n]\n\n[landfill.gas_captured]\nfood = 1.4\n'
    )
    said = message(tmp_path, text)
    assert "line 13" in said
    assert "gas_captured" in said
