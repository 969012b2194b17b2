"""What is no table I know: set aside where entries stand in it, quiet where it only lists."""

from __future__ import annotations

from pathlib import Path

import pytest

from divert.ingest.read import read_folder

from .corpus import writers
from .corpus.book import AS_OF, day, site

D3, D10 = day("2025-03-03"), day("2025-03-10")
WEEK = ["Mon", "Tue", "Wed", "Thu", "Fri"]

HOLDING: dict[str, tuple[str, int, list[list[object]]]] = {  # name of the sheet, entries, its rows
    "a calendar of no month": ("Sheet1", 3, [
        WEEK, [3, 4, 5, 6, 7], ["2 totes", None, "1 pail", None, None], [10, 11, 12, 13, 14], [None, "12 lb"],
    ]),
    "a calendar of numbers for one week": ("March 2025", 2, [["lb of food scraps"], WEEK, [3, 4, 5, 6, 7], [22, None, 15]]),
    "a calendar, day and amount in one square": ("Sheet1", 2, [WEEK, ["3: 2 totes", "4", "5: 1 pail", "6", "7"]]),
    "a diary that leaves doubts": ("2025", 2, [
        ["March 3: hotel, 2 or 3 totes food scraps"], ["March 5: school 12 lb coffee or leaves"], ["March 9: nothing"],
    ]),
    "a diary in French": ("2025", 2, [["3 mars : hotel ou école, 2 bacs"], ["5 mars : school 12 kg à peu près de quoi"]]),
    "lists under a day": ("2025", 3, [
        ["March 3"], ["hotel", "food scraps", "2 pails", "late"], ["school", "coffee", "1 pail", "late"],
        ["March 10"], ["hotel", "food scraps", "3 pails", "late"],
    ]),
    "a slip with two amounts": ("Sheet1", 1, [
        ["Date:", D3], ["Source:", "hotel"], ["Material:", "coffee"], ["Weight:", "20 lb", "3 pails"],
    ]),
    "a log on a sheet called Calendar": ("Calendar", 2, [
        ["Date", "Source", "Material", "Weight (lb)"], [D3, "hotel", "coffee", 20], [D10, "hotel", "coffee", 22],
    ]),
}  # fmt: skip

LISTING: dict[str, tuple[str, list[list[object]]]] = {
    "prices": ("Sheet3", [["Bag", "Size", "Price"], ["small", "5 lb", "$4.00"], ["large", "20 lb", "$12.00"]]),
    "contacts": ("Sheet3", [
        ["Source", "Contact", "Phone", "Totes on loan"], ["hotel", "Ann", 5550101, 4], ["school", "Bo", 5550102, 2],
    ]),
    "a budget": ("Sheet3", [
        ["Budget 2025"], ["Line", "Jan", "Feb", "Mar", "Total"], ["Wages", 1000, 1000, 1000, 3000], ["Tools", 10, 0, 5, 15],
    ]),
    "containers": ("Sheet3", [["Container", "Volume (gal)", "Tare (lb)"], ["tote", 32, 9], ["pail", 5, 1.9]]),
    "what a chart is drawn from": ("Sheet3", [["Year", "Tons"], [2023, 12], [2024, 15]]),
    "temperatures": ("Sheet3", [["Date", "Temperature", "pH", "Moisture %"], [D3, 65, 6.6, 70], [D10, 64, 6.8, 65]]),
    "minutes": ("Sheet3", [["Meeting of March 3 2025"], ["We agreed to buy 4 totes at $12 each."], ["Next: April 7."]]),
    "things to do": ("To do", [["Fix the fence", D3], ["Buy 3 totes", D10]]),
    "instructions": ("Sheet3", [["1. Weigh the tote. It weighs 9 lb empty."], ["2. Write the date as 2025-03-03."]]),
    "dates known": ("Sheet3", [["hotel", D3], ["school", D10]]),
}  # fmt: skip


@pytest.mark.parametrize("name", HOLDING)
def test_entries_without_a_table_are_set_aside_and_said_once(name: str, tmp_path: Path) -> None:
    called, entries, rows = HOLDING[name]
    writers.xlsx(tmp_path / "book.xlsx", {called: rows})
    reading = read_folder(site(tmp_path), AS_OF)
    assert reading.entries.empty
    assert len(reading.set_aside) == entries, reading.set_aside.values.tolist()
    (refused,) = [f for f in reading.findings if f.level == "refused"]
    assert refused.rows == entries
    assert refused.hint is not None and refused.where.row and refused.where.column and refused.found
    assert reading.seen == entries + len(reading.skipped)


@pytest.mark.parametrize("name", LISTING)
def test_lists_are_not_read_and_set_nothing_aside(name: str, tmp_path: Path) -> None:
    called, rows = LISTING[name]
    writers.xlsx(tmp_path / "book.xlsx", {called: rows})
    reading = read_folder(site(tmp_path), AS_OF)
    assert reading.entries.empty
    assert reading.set_aside.empty, reading.set_aside.values.tolist()
    assert len(reading.skipped) == len(rows)
    assert {f.level for f in reading.findings} == {"note"}
