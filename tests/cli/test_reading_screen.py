"""What `divert read` prints: counts first, alike columns said once, questions grouped by cause."""

from __future__ import annotations

from pathlib import Path

from openpyxl import Workbook
from told import tells

from divert.cli.output.reading import reading_json, reading_lines
from divert.inventory.open_site import open_site

TOML = """[site]
name = "Alder Hollow Yard"
units = "metric"
started = 2025-01-01
[landfill]
gas_captured = 0.5
[[material]]
name = "kitchen scraps"
before = "landfill"
[[source]]
name = "North kitchen"
"""


def said(folder: Path, *, everything: bool = False, undated: int = 0) -> list[str]:
    (folder / "site.toml").write_text(TOML)
    book = Workbook()
    book.remove(book.active)
    for month in ("Jan", "Feb"):
        sheet = book.create_sheet(month)
        sheet.append(["Date", "Source", "Material", "Weight (kg)"])
        number = 1 if month == "Jan" else 2
        sheet.append([f"2025-{number:02d}-06", "Nrth kitchen", "kitchen scraps", 12])
        sheet.append([f"2025-{number:02d}-07", "Eest kitchen", "kitchen scraps", 14])
        sheet.append(["never", "North kitchen", "kitchen scraps", 11])
    for row in range(undated):
        sheet.append([None, "North kitchen", "kitchen scraps", 20 + row])
    book.save(folder / "log.xlsx")
    workings = open_site(folder)
    return [line.say("en") for line in reading_lines(workings, everything=everything)]


def test_counts_come_first_and_alike_columns_are_said_once(tmp_path: Path) -> None:
    lines = said(tmp_path)
    assert lines[0].startswith("Entries seen: 8; 4 used, 2 set aside, 2 skipped")
    columns = [line for line in lines if "“Weight (kg)” = weight (kg)" in line]
    assert len(columns) == 1
    assert any(tells(line, "same columns|before") for line in lines)


def test_a_cause_shows_each_sentence_once_and_says_how_many_more(tmp_path: Path) -> None:
    lines = said(tmp_path, undated=2)
    cause = lines.index("  no date: 4")  # two of "never", two of nothing: 1 + 1 and 1 + 1
    assert "log.xlsx!Jan!A4 “never”: No date here" in lines[cause + 1]
    assert lines[cause + 2].endswith('[[answer]] about = "no date: log.xlsx, never"')
    assert lines[cause + 3] == "    and others like it: 1"
    assert "log.xlsx!Feb!A5: There is no date on this row." in lines[cause + 4]
    assert lines[cause + 5].endswith('[[answer]] about = "log.xlsx!Feb!A5"')
    assert lines[cause + 6] == "    and others like it: 1"
    assert lines[cause + 7].endswith('[[answer]] about = "no date"')
    assert "  unknown source: 2" in lines
    assert lines.count("    and others like it: 1") == 3
    assert any(line.endswith('[[answer]] about = "unknown source: Nrth kitchen"') for line in lines)


def test_every_lists_each_one(tmp_path: Path) -> None:
    lines = said(tmp_path, everything=True)
    assert not any("others like it" in line for line in lines)
    assert any("log.xlsx!Jan!A4" in line for line in lines)
    assert any("log.xlsx!Feb!A4" in line for line in lines)
    assert any(line.endswith('[[answer]] about = "unknown source: Eest kitchen"') for line in lines)


def test_what_conversion_refuses_counts_as_set_aside_of_its_own_table(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_text(TOML)
    book = Workbook()
    sheet = book.active
    sheet.title = "Both"
    sheet.append(["Date", "Source", "Material", "Quantity"])
    sheet.append(["2025-01-06", "North kitchen", "kitchen scraps", "12 kg"])
    sheet.append(["2025-01-07", "North kitchen", "kitchen scraps", "14 kg"])
    sheet.append([])
    sheet.append([])
    sheet.append(["Date", "Source", "Material", "Volume (L)"])
    sheet.append(["2025-02-06", "North kitchen", "kitchen scraps", 40])
    sheet.append(["2025-02-07", "North kitchen", "glimmer", 40])
    book.save(tmp_path / "log.xlsx")
    said_of = reading_json(open_site(tmp_path))
    assert said_of["rows"]["used"] == 3 and said_of["rows"]["set_aside"] == 1
    assert [(s["used"], s["set_aside"]) for s in said_of["sheets"]] == [(2, 0), (1, 1)]
    assert sum(s["seen"] for s in said_of["sheets"]) == said_of["rows"]["seen"]


def test_what_was_skipped_is_listed_with_its_words(tmp_path: Path) -> None:
    lines = said(tmp_path, everything=True)
    place = lines.index("Skipped, because they are no entries:")
    assert lines[place + 1 : place + 4] == [
        "  heading: 2",
        "    log.xlsx!Jan: 1 “Date | Source | Material | Weight (kg)”",
        "    log.xlsx!Feb: 1 “Date | Source | Material | Weight (kg)”",
    ]
    left_out = reading_json(open_site(tmp_path))
    assert [(s["sheet"], s["row"], s["reason"]) for s in left_out["skipped"]] == [
        ("Jan", 1, "heading"),
        ("Feb", 1, "heading"),
    ]
    assert [(s["sheet"], s["row"], s["code"]) for s in left_out["set_aside"]] == [
        ("Jan", 4, "no date"),
        ("Feb", 4, "no date"),
    ]
