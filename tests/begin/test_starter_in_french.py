"""The French starter: the English one's keys in its order, its own words, and it reads back."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from test_starter_toml import uncommented

from divert.cli.commands import main_group
from divert.ingest import read_folder
from divert.site.begin import begin_site
from divert.site.read import read_site

TODAY = dt.date(2026, 11, 25)
KEY = re.compile(r"^(# )?(\w+) = (.*?)(?: +# (.*))?$")
TABLE = re.compile(r"^(# )?\[+\w+\]+$")
# What a yard that speaks French has of its own: its units and money, and the words of the examples.
SETTINGS = {"units", "country", "ton", "dates", "language", "currency"}
EXAMPLES = {
    "about", "also", "columns", "contact", "container", "density", "email", "fee", "file", "material",
    "name", "number", "permit_limit", "picture_says", "proof", "quote", "reason", "sheet", "size",
    "source", "supplies", "tare", "units", "volume", "worms", "2025",
}  # fmt: skip


def starters(tmp_path: Path) -> tuple[list[str], list[str]]:
    texts = []
    for language in ("en", "fr"):
        begin_site(tmp_path / language / "yard", TODAY, language)
        texts.append((tmp_path / language / "yard" / "site.toml").read_text(encoding="utf-8"))
    return texts[0].splitlines(), texts[1].splitlines()


def test_both_hold_the_same_tables_and_keys_in_the_same_order(tmp_path: Path) -> None:
    english, french = (
        [line for line in text if KEY.match(line) or TABLE.match(line)]
        for text in starters(tmp_path)
    )
    assert len(english) == len(french)
    for ours, theirs in zip(english, french, strict=True):
        one, other = KEY.match(ours), KEY.match(theirs)
        if one is None or other is None:
            assert ours == theirs
            continue
        assert one[1] == other[1], ours  # both in use, or both spare
        assert one[2] == other[2], ours
        if one[3] != other[3]:
            assert one[2] in SETTINGS | EXAMPLES, ours
        assert bool(one[4]) == bool(other[4]), ours


def test_no_english_sentence_is_left_in_the_french_one(tmp_path: Path) -> None:
    english, french = (
        {line.rpartition("# ")[2] for line in text if "# " in line and not line.endswith('"')}
        for text in starters(tmp_path)
    )
    # What may be written stands in both as it is written; all that explains it does not.
    same = {c for c in english & french if "|" not in c and " = " not in c and not TABLE.match(c)}
    assert same == set()
    assert len(french) > 60


def test_the_french_one_says_french_and_metric_and_reads_back(tmp_path: Path) -> None:
    folder = tmp_path / "cour-du-moulin"
    begin_site(folder, TODAY, "fr")
    site = read_site(folder)
    assert (site.name, site.language, site.units) == ("Cour du moulin", "fr", "metric")
    assert [m.name for m in site.materials] == [
        "restes de cuisine",
        "marc de café",
        "feuilles mortes",
    ]
    assert [m.like for m in site.materials] == ["food-scraps", "coffee-grounds", "leaves"]
    assert site.containers[0].volume_m3 == pytest.approx(0.020)
    assert read_folder(site, TODAY).findings == ()


def test_every_example_in_the_french_one_is_accepted(tmp_path: Path) -> None:
    folder = tmp_path / "cour"
    begin_site(folder, TODAY, "fr")
    (folder / "logo.svg").write_text("<svg/>")
    (folder / "yard.jpg").write_bytes(b"")
    text = uncommented((folder / "site.toml").read_text(encoding="utf-8"))
    (folder / "site.toml").write_text(text, encoding="utf-8")
    site = read_site(folder)
    assert site.sponsors[0].supplies == ("Cuisine principale",)
    assert site.beds[0].area_m2 == pytest.approx(3.0)
    assert site.sheets[0].file == "relevé 2024.xlsx"


@pytest.mark.parametrize(
    ("environment", "options", "spoken"),
    [
        ({"LANG": "fr_CA.UTF-8"}, [], "fr"),
        ({"LANG": "en_US.UTF-8", "LC_ALL": "fr_FR.UTF-8"}, [], "fr"),
        ({"LANG": "fr_FR", "LC_ALL": "C"}, [], "en"),
        ({"LANG": "fr", "LC_ALL": ""}, [], "fr"),
        ({"LANG": "fy_NL.UTF-8"}, [], "en"),
        ({"LANG": "frr_DE.UTF-8"}, [], "en"),
        ({}, [], "en"),
        ({"LANG": "en_US"}, ["--language", "fr"], "fr"),
        ({"LANG": "fr_FR"}, ["--language", "en"], "en"),
    ],
)
def test_the_command_speaks_the_terminals_language_unless_told(
    tmp_path: Path, environment: dict[str, str], options: list[str], spoken: str
) -> None:
    bare: dict[str, str | None] = dict.fromkeys(("LC_ALL", "LC_MESSAGES", "LANG"))
    run = CliRunner(env={**bare, **environment})
    assert run.invoke(main_group, ["begin", str(tmp_path / "yard"), *options]).exit_code == 0
    assert read_site(tmp_path / "yard").language == spoken


def test_a_language_without_a_catalogue_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    done = CliRunner().invoke(main_group, ["begin", str(tmp_path / "yard"), "--language", "tlh"])
    assert done.exit_code != 0
    assert not (tmp_path / "yard").exists()
