"""What the starter workbook holds, empty or filled in, reads back with nothing to say about it."""

from __future__ import annotations

import datetime as dt
import shutil
import subprocess
from pathlib import Path

import pytest
from openpyxl import load_workbook

from divert.ingest import read_folder
from divert.site.begin import begin_site
from divert.site.read import read_site

STARTED, TODAY = dt.date(2026, 1, 5), dt.date(2026, 3, 1)
LB = 0.45359237  # NIST Handbook 44, Appendix C


def begun(folder: Path, *changes: tuple[str, str]) -> Path:
    begin_site(folder, STARTED)
    for old, new in changes:
        text = (folder / "site.toml").read_text(encoding="utf-8")
        assert old in text
        (folder / "site.toml").write_text(text.replace(old, new), encoding="utf-8")
    if changes:
        (folder / "log.xlsx").unlink()
        begin_site(folder, STARTED)
    return folder


def filled(folder: Path, rows: dict[int, list[list[object]]]) -> None:
    """Type rows under the headings of the sheets, by their place in the workbook."""
    book = load_workbook(folder / "log.xlsx")
    for place, lines in rows.items():
        sheet = book.worksheets[place]
        for number, line in enumerate(lines, start=2):
            for column, value in enumerate(line, start=1):
                if value is not None:
                    sheet.cell(number, column, value)
    book.save(folder / "log.xlsx")


def typed(us: bool = True) -> dict[int, list[list[object]]]:
    fuel = "diesel"
    day = [dt.datetime(2026, 1, 5) + dt.timedelta(days=7 * week) for week in range(6)]
    scraps, grounds, kitchen = "kitchen scraps", "coffee grounds", "Main kitchen"
    return {
        1: [
            [day[0], kitchen, scraps, "tote", 1, None, 52.5, None, "rain"],
            [day[1], kitchen, scraps, "pail", 2, 0.75, None, None, None],
            [day[2], kitchen, grounds, "pail", 1, 1, None, 0.5, None],
            [day[3], kitchen, "leaves", "tote", 3, 0.5, None, None, None],
            [day[4], kitchen, scraps, "tote", 1, 1, 61, 2, None],
            [day[5], kitchen, scraps, "tote", 1, 0.25, None, None, None],
        ],
        2: [
            [day[2], "worm castings", None, 120, "school gardens", None],
            [day[4], "compost", 0.5, None, "own beds", None],
        ],
        3: [
            [day[1], scraps, "tote", 1, 1, 66.5, None],
            [day[3], scraps, "tote", 2, 0.75, 99, None],
        ],
        4: [[day[4], 12.5, "bones"]],
        5: [[day[3], fuel, 4.5, None], [day[5], "gasoline", 2, None]],
    }


FRENCH = ('language = "en"', 'language = "fr"')
NUMBERED = ('name = "Main kitchen"', 'name = "Kitchen 12"\nalso = ["Main kitchen"]')


@pytest.mark.parametrize("changes", [(), (FRENCH,), (NUMBERED,)])
def test_an_empty_one_has_no_finding_at_all(
    tmp_path: Path, changes: tuple[tuple[str, str], ...]
) -> None:
    reading = read_folder(read_site(begun(tmp_path / "yard 7", *changes)), TODAY)
    assert [str(f.message) for f in reading.findings] == []
    assert len(reading.entries) == len(reading.set_aside) == 0
    named = {sheet.sheet for sheet in reading.sheets if sheet.holds == "nothing"}
    assert len(named) == 2  # the instructions and the lists: not read, and shown so


def test_entries_typed_on_a_sheet_that_is_not_read_are_said(tmp_path: Path) -> None:
    folder = begun(tmp_path / "yard")
    filled(folder, {0: [["two totes of leaves"]]})
    reading = read_folder(read_site(folder), TODAY)
    assert [(f.code, f.where.sheet) for f in reading.findings] == [
        ("sheet not read", "Instructions")
    ]


@pytest.mark.parametrize("units", ["us", "metric"])
def test_a_filled_in_one_reads_back_as_typed(tmp_path: Path, units: str) -> None:
    change = ('units = "us"', f'units = "{units}"')
    folder = begun(tmp_path / "yard", change) if units != "us" else begun(tmp_path / "yard")
    filled(folder, typed())
    reading = read_folder(read_site(folder), TODAY)
    assert [str(f.message) for f in reading.findings] == []
    assert len(reading.set_aside) == 0
    kilograms = LB if units == "us" else 1.0
    entries = reading.entries
    intake = entries[entries["kind"] == "intake"].reset_index(drop=True)
    assert intake["date"].dt.date.tolist() == [
        dt.date(2026, 1, 5) + dt.timedelta(7 * w) for w in range(6)
    ]
    assert intake["source"].tolist() == ["Main kitchen"] * 6
    assert intake["material"].tolist()[1:4] == ["kitchen scraps", "coffee grounds", "leaves"]
    assert intake["count"].tolist() == [1, 2, 1, 3, 1, 1]
    assert intake["fill"].tolist()[1:] == [0.75, 1.0, 0.5, 1.0, 0.25]
    assert intake["mass_kg"][0] == pytest.approx(52.5 * kilograms)
    assert intake["removed_kg"][4] == pytest.approx(2 * kilograms)
    weigh_ins = entries[entries["kind"] == "weigh-in"]
    assert weigh_ins["mass_kg"].tolist() == pytest.approx([66.5 * kilograms, 99 * kilograms])
    assert weigh_ins["container"].tolist() == ["tote", "tote"]
    harvest = entries[entries["kind"] == "harvest"]
    assert harvest["mass_kg"].iloc[0] == pytest.approx(120 * kilograms)
    cubic_metres = 0.764554857984 if units == "us" else 1.0  # 27 cubic feet of 0.3048 m cubed
    assert harvest["volume_m3"].iloc[1] == pytest.approx(0.5 * cubic_metres)
    residue = entries[entries["kind"] == "residue"]
    assert residue["mass_kg"].tolist() == pytest.approx([12.5 * kilograms])
    litres = 3.785411784 if units == "us" else 1.0  # US gallon of 231 cubic inches
    fuel = entries[entries["kind"] == "fuel"]
    assert fuel["name"].tolist() == ["diesel", "gasoline"]
    assert fuel["amount"].tolist() == pytest.approx([4.5 * litres, 2 * litres])


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
@pytest.mark.parametrize("ending", ["xlsx", "ods"])
def test_a_french_one_saved_by_another_program_reads_back(tmp_path: Path, ending: str) -> None:
    folder = begun(tmp_path / "cour", FRENCH, ('units = "us"', 'units = "metric"'))
    rows = typed()
    rows[2][0][1], rows[5][1][1] = "lombricompost", "essence"  # as its own lists say it
    rows[1].append([dt.datetime(2026, 2, 16), "fermé"])
    filled(folder, rows)
    home = f"-env:UserInstallation={(tmp_path / 'office').as_uri()}"
    subprocess.run(
        ["soffice", home, "--headless", "--convert-to", ending, "--outdir", str(tmp_path / "out"),
         str(folder / "log.xlsx")],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    (folder / "log.xlsx").unlink()
    (tmp_path / "out" / f"log.{ending}").rename(folder / f"log.{ending}")
    reading = read_folder(read_site(folder), TODAY)
    assert [str(f.message) for f in reading.findings] == []
    kinds = reading.entries["kind"].value_counts().to_dict()
    assert {k: n for k, n in kinds.items() if n} == {
        "intake": 6, "harvest": 2, "weigh-in": 2, "residue": 1, "fuel": 2,
    }  # fmt: skip
    assert reading.entries["mass_kg"].sum() == pytest.approx(52.5 + 61 + 120 + 66.5 + 99 + 12.5)
    assert reading.entries["fill"].dropna().tolist() == [0.75, 1, 0.5, 1, 0.25, 1, 0.75]
    assert "closed" in set(reading.skipped["reason"])
    fuel = reading.entries[reading.entries["kind"] == "fuel"]
    assert fuel["name"].tolist() == ["diesel", "gasoline"]


def test_the_whole_site_says_nothing_about_how_it_was_typed(tmp_path: Path) -> None:
    from divert.inventory.open_site import open_site

    folder = begun(tmp_path / "yard")
    filled(folder, typed())
    workings = open_site(folder, as_of=TODAY)
    assert len(workings.set_aside) == 0
    codes = {finding.code for finding in workings.findings}
    # Questions about the landfill, the law and the state of leaves, none about a sheet.
    assert codes <= {"gas capture not stated", "required by law not stated", "state not recorded"}
