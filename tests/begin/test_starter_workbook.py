"""The starter workbook: lists from site.toml, checks on what is typed, ready for a clipboard."""

from __future__ import annotations

import datetime as dt
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from divert.site.begin.workbook import starter_workbook
from divert.site.read import read_site

TODAY = dt.date(2026, 11, 25)
SHEETS = ["Intake", "Harvest", "Weigh-ins", "Residue", "Fuel"]


def site_with(folder: Path, units: str = "us", country: str = "US", sources: int = 3):
    lines = [f'[site]\nname = "A & B"\nunits = "{units}"\nstarted = 2026-01-01\n']
    lines.append(f'country = "{country}"\n')
    lines += [f'[[source]]\nname = "Kitchen {n}"\n' for n in range(1, sources + 1)]
    lines.append('[[container]]\nname = "pail"\nvolume = "5 gal"\n')
    lines.append('[[material]]\nname = "kitchen scraps"\nlike = "food-scraps"\n')
    (folder / "site.toml").write_text("".join(lines), encoding="utf-8")
    return read_site(folder)


def opened(data: bytes) -> Workbook:
    return load_workbook(BytesIO(data))


def test_five_sheets_with_lists_filled_from_the_site(tmp_path: Path) -> None:
    book = opened(starter_workbook(site_with(tmp_path, sources=200), TODAY))
    assert book.sheetnames == ["Instructions", *SHEETS, "Lists"]
    intake = book["Intake"]
    rules = intake.data_validations.dataValidation
    lists = {next(iter(rule.sqref.ranges)).min_col: rule for rule in rules}
    source = lists[2]
    assert source.type == "list"
    assert source.formula1 == "'Lists'!$A$2:$A$201"  # more than a list in one cell can hold
    assert [book["Lists"].cell(row, 1).value for row in (2, 201)] == ["Kitchen 1", "Kitchen 200"]
    assert lists[1].type == "date"
    assert {rule.type for rule in lists.values()} == {"list", "date", "decimal"}


@pytest.mark.parametrize(
    ("units", "unit", "fuel"), [("us", "lb", "US gallons"), ("metric", "kg", "Litres")]
)
def test_headings_carry_the_sites_units(tmp_path: Path, units: str, unit: str, fuel: str) -> None:
    book = opened(starter_workbook(site_with(tmp_path, units), TODAY))
    heads = [cell.value for cell in book["Intake"][1]]
    assert f"Net weight ({unit})" in heads
    assert fuel in [cell.value for cell in book["Fuel"][1]]


@pytest.mark.parametrize(("country", "paper"), [("US", "1"), ("FR", "9")])
def test_each_sheet_is_set_up_for_a_clipboard(tmp_path: Path, country: str, paper: str) -> None:
    book = opened(starter_workbook(site_with(tmp_path, country=country), TODAY))
    for name in SHEETS:
        sheet = book[name]
        assert sheet.freeze_panes == "A2"
        assert sheet.page_setup.orientation == "landscape"
        assert str(sheet.page_setup.paperSize) == paper  # ECMA-376: 1 is Letter, 9 is A4
        assert sheet.print_title_rows == "$1:$1"
        assert sheet.print_options.gridLines
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.fitToHeight == 0
        assert sheet.print_area
        assert "A && B" in (sheet.oddHeader.left.text or "")


def test_the_same_site_and_day_give_the_same_bytes(tmp_path: Path) -> None:
    site = site_with(tmp_path)
    assert starter_workbook(site, TODAY) == starter_workbook(site, TODAY)
