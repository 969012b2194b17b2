"""The sample site's sheets are what the script beside them makes, cell by cell."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook

from divert.core.shipped import sample_folder, templates_folder
from divert.site.model import names
from divert.site.read import read_site

SAMPLE = sample_folder()
BOOKS = ("Crew log 2024-25.xlsx", "Drop-offs 2025-26.xlsx", "Yard book.xlsx")


@pytest.fixture(scope="module")
def made_again(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sample")
    for script in SAMPLE.glob("*.py"):
        shutil.copy(script, folder)
    subprocess.run([sys.executable, "make_sample.py"], cwd=folder, check=True)
    return folder


@pytest.mark.parametrize("name", BOOKS)
def test_each_workbook_is_made_again_cell_by_cell(made_again: Path, name: str) -> None:
    kept, new = (
        CalamineWorkbook.from_path(SAMPLE / name),
        CalamineWorkbook.from_path(made_again / name),
    )
    assert kept.sheet_names == new.sheet_names
    for sheet in kept.sheet_names:
        assert (
            kept.get_sheet_by_name(sheet).to_python() == new.get_sheet_by_name(sheet).to_python()
        ), sheet


def test_the_csv_is_made_again_byte_by_byte(made_again: Path) -> None:
    name = "Boulangerie du Vieux Quai.csv"
    assert (SAMPLE / name).read_bytes() == (made_again / name).read_bytes()


def test_nothing_else_lies_in_the_sample(made_again: Path) -> None:
    made = {path.name for path in made_again.iterdir()} - {"__pycache__"}
    by_hand = {"site.toml", "site-id.txt", "logo.svg", "yard.svg"}
    assert {path.name for path in SAMPLE.iterdir()} - {"__pycache__"} == made | by_hand


def test_the_site_is_the_one_described() -> None:
    site = read_site(SAMPLE)
    assert len(names(site.sources)) == 12
    assert len(names(site.sponsors)) == 4
    assert site.grants[0].number == "SSF-118"
    assert all(
        sponsor.email is None or sponsor.email.endswith(".example") for sponsor in site.sponsors
    )


def test_the_answer_in_site_toml_points_at_the_row_it_speaks_of() -> None:
    (answer,) = read_site(SAMPLE).answers
    file, sheet, cell = answer.about.split("!")
    rows = CalamineWorkbook.from_path(SAMPLE / file).get_sheet_by_name(sheet).to_python()
    assert "14 totes" in rows[int(cell[1:]) - 1]["ABC".index(cell[0])]


def test_shipped_folders_are_found_from_any_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert (sample_folder() / "site.toml").is_file()
    assert (templates_folder() / "base.html").is_file()
