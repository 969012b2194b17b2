"""What is read of a sheet that is no table as it lies is told by the user's own cells, and how it was read."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from divert import load_factors, work_out
from divert.cli.output.reading import reading_json, reading_lines
from divert.core.reading import Reading
from divert.ingest.read import read_folder
from divert.site.model import SheetRule

from .corpus import writers
from .corpus.book import AS_OF, LB, day, site

D3, D4, D5 = day("2025-03-03"), day("2025-03-04"), day("2025-03-05")

SIDE = [["Date", D3, None, D5, D5], ["Source", "hotel", "school", "Zed", "hotel"], ["Material", "leaves", "coffee", None, "leaves"],
        ["Weight (lb)", 60, 22, 5, "heavy"]]  # fmt: skip
SLIPS = [["Drop-off slip"], ["Date:", D3], ["From:", "Zed"], ["What:", "leaves"], ["Amount:", "20 lb"], [],
         ["Drop-off slip"], ["Date: 32 March 2025"], ["From:", "hotel"], ["What:", "leaves"], ["Amount:", 20, "whatsits"]]  # fmt: skip
MONTH = [["Hotel leaves"], ["Mon", "Tue", "Wed", "Thu", "Fri"], [3, 4, 5, 6, 7], ["2 totes", "2 totes gone", "coffee", "5 whatsits", "3 lb"]]  # fmt: skip
DIARY = [["3 March 2025"], ["2 totes leaves from the hotel"], ["4 March 2025"], ["2 totes leaves for the school"],
         ["hotel: 20 lb"]]  # fmt: skip


def _read(folder: Path, rows: list[list[object]], sheet: str = "Log") -> Reading:
    writers.xlsx(folder / "log.xlsx", {sheet: rows})
    return read_folder(site(folder), AS_OF)


@pytest.mark.parametrize(
    ("rows", "used", "aside"),
    [
        (SIDE, ["B4"], {"C1": "", "D3": "", "E4": "heavy"}),
        (SLIPS[:6], ["B5"], {}),
        (DIARY, ["A2"], {"A4": "2 totes leaves for the school", "A5": "hotel: 20 lb"}),
    ],
    ids=["side", "slips", "diary"],
)
def test_each_entry_has_the_cell_it_stands_in(
    rows: list[list[object]], used: list[str], aside: dict[str, str], tmp_path: Path
) -> None:
    reading = _read(tmp_path, rows)
    places = [f"{c}{r}" for c, r in zip(reading.entries["column"], reading.entries["row"], strict=True)]  # fmt: skip
    assert places == used
    left = reading.set_aside
    assert dict(zip(left["column"] + left["row"].astype(str), left["found"], strict=True)) == aside
    said = {f"{f.where.column}{f.where.row}" for f in reading.findings if f.level == "refused"}
    assert set(aside) == said


def test_a_strange_source_is_asked_about_at_its_own_cell(tmp_path: Path) -> None:
    for rows, cell in ((SIDE, "D2"), (SLIPS[:6], "B3")):
        rows = [[*r] for r in rows]
        if rows[0][0] == "Date":
            rows[2][3] = "leaves"
        reading = _read(tmp_path, rows)
        described = site(tmp_path)
        found = work_out(described, reading, load_factors(tmp_path)).findings
        (asked,) = [f for f in found if f.code == "unknown source"]
        assert (str(asked.where), asked.found) == (f"log.xlsx!Log!{cell}", "Zed")


def test_a_square_that_leaves_a_doubt_is_set_aside_alone(tmp_path: Path) -> None:
    reading = _read(tmp_path, MONTH, "March 2025")
    assert reading.entries["date"].tolist() == [pd.Timestamp(D3), pd.Timestamp("2025-03-07")]
    assert set(reading.set_aside["found"]) == {"2 totes gone", "5 whatsits"}
    notes = reading.skipped[reading.skipped["reason"] == "note"]
    assert set(notes["found"]) == {"Hotel leaves", "coffee"}


def test_how_a_sheet_was_read_is_said_in_both_languages(tmp_path: Path) -> None:
    reading = _read(tmp_path, SIDE)
    workings = work_out(site(tmp_path), reading, load_factors(tmp_path))
    english = [line.say("en") for line in reading_lines(workings)]
    assert (
        "   read as a table on its side: headings down column A, each column beside them an entry"
        in english
    )
    columns = (
        "   A1 “Date” = date; A2 “Source” = source; A3 “Material” = material; A4 “Weight (lb)” = "
    )
    assert any(line.startswith(columns) for line in english)
    french = [line.say("fr") for line in reading_lines(workings)]
    assert any(line.startswith("   lu comme un tableau couché") for line in french)
    (sheet,) = reading_json(workings)["sheets"]
    assert sheet["read_as"].startswith("a table on its side")
    assert sheet["seen"] == sheet["used"] + sheet["set_aside"] + sheet["skipped"] == 5


def test_a_rule_that_names_no_columns_leaves_a_sheet_turned(tmp_path: Path) -> None:
    rows = [["Date", D3, D4], ["Source", "hotel", "school"], ["Material", "leaves", "coffee"], ["Weight", 60, 22]]  # fmt: skip
    writers.xlsx(tmp_path / "log.xlsx", {"Log": rows})
    rule = SheetRule("log.xlsx", None, "intake", (), (("weight", "lb"),))
    reading = read_folder(site(tmp_path, sheets=(rule,)), AS_OF)
    assert reading.entries["mass_kg"].tolist() == pytest.approx([60 * LB, 22 * LB])
    nothing = SheetRule("log.xlsx", None, "nothing", (), ())
    assert read_folder(site(tmp_path, sheets=(nothing,)), AS_OF).entries.empty


def test_a_calendar_of_another_month_is_not_read(tmp_path: Path) -> None:
    for name in (
        "April 2025",
        "March 2024",
        "Log",
    ):  # 3 March was a Monday in 2025 alone of 2023 to 2026
        reading = _read(tmp_path, [["Hotel leaves"], *MONTH[1:3], ["2 totes"]], name)
        assert reading.entries.empty
        assert list(reading.set_aside["found"]) == ["2 totes"]
    assert len(_read(tmp_path, [["Hotel leaves"], *MONTH[1:3], ["2 totes"]], "March").entries) == 1
