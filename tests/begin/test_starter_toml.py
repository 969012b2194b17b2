"""The starter site.toml: it parses, holds every key, and says only what is accepted."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from pathlib import Path

import pytest

from divert.core.findings import CannotRun
from divert.site.begin import begin_site
from divert.site.keys import KEYS
from divert.site.model import Site
from divert.site.read import read_site

TODAY = dt.date(2026, 11, 25)
README = Path(__file__).parents[2] / "README.md"


def begun(tmp_path: Path, name: str = "willow-yard") -> Path:
    folder = tmp_path / name
    begin_site(folder, TODAY)
    return folder


def uncommented(text: str) -> str:
    """Return the file with every commented example taken into use."""
    is_example = re.compile(r"^# ?(\[\[?\w+\]\]?\s*$|[\w]+ = )")
    return "\n".join(
        re.sub(r"^# ?", "", line) if is_example.match(line) else line for line in text.splitlines()
    )


def test_it_parses_as_it_stands_and_says_the_defaults(tmp_path: Path) -> None:
    folder = begun(tmp_path)
    site = read_site(folder)
    assert site.name == "Willow yard"
    assert site.started == TODAY
    plain = Site(folder=folder, name="", units="us", started=TODAY)
    for key in ("country", "ton", "gallon", "dates", "year_starts", "language", "currency"):
        assert getattr(site, key) == getattr(plain, key), key
    assert site.colour == plain.colour
    assert site.scale_accuracy == plain.scale_accuracy
    assert site.landfills == plain.landfills
    assert site.report == plain.report
    assert not site.sponsors
    assert not site.closed


def test_every_key_stands_in_it_and_in_the_readme(tmp_path: Path) -> None:
    text = (begun(tmp_path) / "site.toml").read_text(encoding="utf-8")
    tables = re.split(r"^#? ?\[\[?(\w+)\]\]?\s*$", text, flags=re.M)
    written: dict[str, str] = {}
    for table, body in zip(tables[1::2], tables[2::2], strict=True):
        written[table] = written.get(table, "") + body
    readme = README.read_text(encoding="utf-8")
    for table, keys in KEYS.items():
        assert table in written, table
        for key in keys:
            assert re.search(rf"^(# )?{key} = .*", written[table], re.M), f"{table}.{key}"
            assert f"`{key}`" in readme, f"{table}.{key} in README"


def test_every_active_key_has_a_comment(tmp_path: Path) -> None:
    text = (begun(tmp_path) / "site.toml").read_text(encoding="utf-8")
    site = text.split("[site]")[1].split("[landfill]")[0]
    bare = [line for line in site.splitlines() if " = " in line and line.count("#") < 1]
    assert [line.split(" ")[0] for line in bare] == ["name"]


def test_every_example_in_it_is_accepted(tmp_path: Path) -> None:
    folder = begun(tmp_path)
    (folder / "logo.svg").write_text("<svg/>")
    (folder / "yard.jpg").write_bytes(b"")
    text = uncommented((folder / "site.toml").read_text(encoding="utf-8"))
    (folder / "site.toml").write_text(text, encoding="utf-8")
    site = read_site(folder)
    assert site.sponsors[0].funds == 0.25
    assert site.grants[0].number == "SSF-118"
    assert site.beds[0].area_m2 == pytest.approx(30 * 0.3048**2)
    assert site.containers[0].usual_fill == 0.9
    assert site.landfills[0].gas_captured is not None
    assert site.sheets[0].holds == "intake"
    assert replace(site, toml="").answers[0].by == "RT"


def test_nothing_that_is_there_is_changed(tmp_path: Path) -> None:
    folder = begun(tmp_path)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    with pytest.raises(CannotRun, match="nothing was changed"):
        begin_site(folder, TODAY)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    (folder / "log.xlsx").unlink()
    assert begin_site(folder, TODAY) == (folder / "log.xlsx",)
    assert (folder / "site.toml").read_bytes() == before["site.toml"]


def test_a_mistake_in_a_site_that_is_there_is_said(tmp_path: Path) -> None:
    folder = tmp_path / "x"
    folder.mkdir()
    (folder / "site.toml").write_text('[site]\nname = "X"\nunits = "uk"\nstarted = 2024-01-01\n')
    with pytest.raises(CannotRun, match="line 3"):
        begin_site(folder, TODAY)
    assert not (folder / "log.xlsx").exists()


@pytest.mark.parametrize("name", ['quote"s', "été 2024", "🌱", "-", "a" * 200])
def test_any_folder_name_makes_a_site_that_parses(tmp_path: Path, name: str) -> None:
    assert read_site(begun(tmp_path, name)).name


def test_a_file_in_the_way_is_said(tmp_path: Path) -> None:
    (tmp_path / "x").write_text("")
    with pytest.raises(CannotRun, match="is a file"):
        begin_site(tmp_path / "x", TODAY)
