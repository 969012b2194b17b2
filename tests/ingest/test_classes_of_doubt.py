"""Classes that made-up crews showed to be misread in silence, one small sheet each, with the true loads."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from divert.core.reading import Reading
from divert.ingest.read import read_folder
from divert.site.model import Container

from .corpus import writers
from .corpus.book import AS_OF, LB, site
from .test_explain_or_ask import (
    COFFEE,
    FOOD,
    HOTEL,
    LEAVES,
    SCHOOL,
    Said,
    d,
    right_or_asked,
)

_LONG = (
    "For this pickup, what was the total weight of food scraps that you collected from the kitchen, after taking off the "
    "weight of the tote that it came in (lb)"
)


def _log(*notes: str | None, head: str = "Notes") -> list[list[Any]]:
    rows = [
        [d(f"3-{3 + 4 * n:02}"), "hotel", "food scraps", 40 + n, note]
        for n, note in enumerate(notes)
    ]
    return [["Date", "Source", "Material", "lb", head], *rows]


CASES = [
    Said(
        "a title that names no source, among titles that do, though a café is in it",
        [["hotel:"], ["Day", "Food scraps (lb)"], [d("3-03"), 72], ["Pine Grove Cafe:"], ["Day", "Food scraps (lb)"], [d("3-05"), 153],
         ["school:"], ["Day", "Food scraps (lb)"], [d("3-06"), 51]],
        [("2025-03-03", HOTEL, FOOD, 72), ("2025-03-06", SCHOOL, FOOD, 51)],
    ),
    Said(
        "two columns under a day each, with a remark behind some days",
        [[d("3-03")], ["Location", _LONG], ["school", 201], ["3/16/2025 - moved to the new yard"], ["Location", _LONG], ["hotel", 137],
         ["school", 84], [], [d("3-19")], ["Location", _LONG], ["hotel", 90]],
        [("2025-03-03", SCHOOL, FOOD, 201), ("2025-03-16", HOTEL, FOOD, 137), ("2025-03-16", SCHOOL, FOOD, 84),
         ("2025-03-19", HOTEL, FOOD, 90)],
        must=True, file="Trash diversion 2025.xlsx",
    ),
    Said(
        "days by their number under a word for days, in a month's file",
        [["Day picked up", "Where from", "What", "lb"], [17, "hotel", "leaves", 217], [18, "school", "food scraps", 22], [25, "hotel", "coffee", 31]],
        [("2025-02-17", HOTEL, LEAVES, 217), ("2025-02-18", SCHOOL, FOOD, 22), ("2025-02-25", HOTEL, COFFEE, 31)],
        must=True, file="log February 2025.xlsx",
    ),
    Said(
        "whole numbers under Arrival may be hours, or days",
        [["Arrival", "Where from", "What", "lb"], [5, "hotel", "leaves", 217], [8, "school", "food scraps", 22], [9, "hotel", "coffee", 31]],
        [("2025-02-05", HOTEL, LEAVES, 217), ("2025-02-08", SCHOOL, FOOD, 22), ("2025-02-09", HOTEL, COFFEE, 31)],
        file="log February 2025.xlsx",
    ),
    Said(
        "the largest amount of all, first, under words that name nobody",
        [["Date", "Source", "Material", "lb"], [d("3-01"), "What we had", "food scraps", 1900], [d("3-03"), "hotel", "food scraps", 40],
         [d("3-04"), "school", "food scraps", 41], [d("3-05"), "hotel", "coffee", 22], [d("3-06"), "school", "leaves", 71]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-04", SCHOOL, FOOD, 41), ("2025-03-05", HOTEL, COFFEE, 22), ("2025-03-06", SCHOOL, LEAVES, 71)],
    ),
    Said(
        "what else the giver threw away, in words that nobody knows, though a total adds it",
        [["Date", "Source", "Food scraps (lb)", "Grey cart (lb)", "Total (lb)"], [d("3-03"), "hotel", 40, 11, 51],
         [d("3-04"), "school", 41, 60, 101], [d("3-05"), "hotel", 22, 14, 36]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-04", SCHOOL, FOOD, 41), ("2025-03-05", HOTEL, FOOD, 22)],
    ),
    Said(
        "an unknown stream beside a known one under a title that says the material, though a total adds it",
        [["Food scraps 2025"], ["Date", "Source", "Food scraps (lb)", "Black bag (lb)", "Total (lb)"], [d("3-03"), "hotel", 40, 11, 51],
         [d("3-04"), "school", 41, 60, 101], [d("3-05"), "hotel", 22, 14, 36]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-04", SCHOOL, FOOD, 41), ("2025-03-05", HOTEL, FOOD, 22)],
    ),
    Said(
        "a file named for one material under a title that says another",
        [["Coffee grounds 2025"], ["Date", "Source", "lb"], [d("3-03"), "hotel", 40], [d("3-04"), "school", 41]],
        file="leaves.xlsx",
    ),
    Said(
        "one word carried over among the numbers of tickets",
        [["Date", "Source", "Material", "Scale ticket #", "Net lb"], [d("3-01"), None, None, "Opening balance", 1900],
         [d("3-03"), "hotel", "food scraps", 101, 40], [d("3-04"), "school", "food scraps", 102, 41], [d("3-05"), "hotel", "coffee", 103, 22]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-04", SCHOOL, FOOD, 41), ("2025-03-05", HOTEL, COFFEE, 22)],
        must=True,
    ),
    Said(
        "an opening balance under the numbers of runs, whose material the heading says",
        [["Date", "Source", "Run", "Food scraps (lb)"], [d("3-01"), "hotel", "Opening balance", 1900],
         [d("3-03"), "hotel", 101, 40], [d("3-04"), "school", 102, 41], [d("3-05"), "hotel", 103, 22]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-04", SCHOOL, FOOD, 41), ("2025-03-05", HOTEL, FOOD, 22)],
        must=True,
    ),
    Said(
        "a balance over the only load of a month, under a word for days",
        [["Day", "Site", "Kind", "Weight lb"], ["Brought fwd from 2024", None, None, 1065], [d("2-28"), "hotel", "leaves", 36]],
        [("2025-02-28", HOTEL, LEAVES, 36)],
        must=True, sheet="log February 2025",
    ),
    Said(
        "pounds written in the cells beside how many guests there were",
        [["Day", "Stop", "Type of scraps", "Guests", "Quantity"], [d("3-03"), "hotel", "leaves", 206, "99pounds"],
         [d("3-04"), "school", "coffee", 230, "190pounds"]],
        [("2025-03-03", HOTEL, LEAVES, 99), ("2025-03-04", SCHOOL, COFFEE, 190)],
        must=True,
    ),
    Said(
        "words of a balance where the crew's initials stand, some of them BF",
        [["Date", "Logged by", "Source", "Food scraps (lb)"], [d("3-01"), "Already reported", "hotel", 1900],
         [d("3-03"), "BF", "hotel", 40], [d("3-04"), "CF", "school", 41], [d("3-05"), "BF", "hotel", 22]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-04", SCHOOL, FOOD, 41), ("2025-03-05", HOTEL, FOOD, 22)],
        must=True,
    ),
]  # fmt: skip


@pytest.mark.parametrize("said", CASES, ids=lambda s: s.name)
def test_nothing_is_counted_that_the_sheet_does_not_say(said: Said, tmp_path: Path) -> None:
    right_or_asked(said, tmp_path)


def _read(
    folder: Path, rows: list[list[Any]], name: str = "log.xlsx", **changes: object
) -> Reading:
    writers.xlsx(folder / name, {"Log": rows})
    return read_folder(site(folder, **changes), AS_OF)


@pytest.mark.parametrize(
    "note",
    ["on Tuesday's sheet too", "concrete, not food", "skip this line", "nothing was in them", "don't add this one",
     "ask Ana before using this", "is this ours?", "n'est pas venu", "ne pas prendre", "va sur la feuille de 2024"],
)  # fmt: skip
def test_a_note_that_denies_a_load_or_points_at_the_record_sets_it_aside(
    tmp_path: Path, note: str
) -> None:
    reading = _read(tmp_path, _log(None, note, None))
    assert [round(kg / LB) for kg in reading.entries["mass_kg"]] == [40, 42]
    assert [f.found for f in reading.findings if f.code == "not explained"] == [note]


def test_notes_in_no_everyday_words_are_asked_about_once_and_their_loads_counted(
    tmp_path: Path,
) -> None:
    notes = ("gone to the pig farmer", "wet", "practice run", "no lids", "not full", "Bob drove")
    reading = _read(tmp_path, _log(*notes))
    assert len(reading.entries) == 6
    (asked,) = [f for f in reading.findings if f.code == "notes not understood"]
    assert (asked.level, asked.rows) == ("query", 2)
    assert "“gone to the pig farmer”, “practice run”" in str(asked.message)


def test_the_longer_name_of_a_container_is_taken_in_a_heading(tmp_path: Path) -> None:
    boxes = (Container("bac", ("bacs",), 0.12), Container("bac roulant", ("bacs roulants",), 0.24))
    rows = [["Date", "Source", "Material", "Bacs roulants ramassés"], [d("3-03"), "hotel", "leaves", 2], [d("3-10"), "school", "leaves", 3]]  # fmt: skip
    reading = _read(tmp_path, rows, containers=boxes)
    assert reading.entries["container"].tolist() == ["bac roulant", "bac roulant"]


def test_a_log_of_weighings_without_volumes_is_a_log_of_loads(tmp_path: Path) -> None:
    rows = [["Cahier de pesée"], ["Date", "Établissement", "Ce que c'était", "Poids (kg)"], [d("3-03"), "hotel", "leaves", 20],
            [d("3-10"), "school", "coffee", 30]]  # fmt: skip
    assert _read(tmp_path, rows).entries["kind"].tolist() == ["intake", "intake"]


def test_the_numbers_of_an_odometer_are_no_days(tmp_path: Path) -> None:
    (tmp_path / "log.csv").write_text(
        "Date,Food scraps (lb),Leaves (lb),Km\n3/13/2025,40,7,44365\n3/14/2025,41,9,48599\n"
    )
    reading = read_folder(site(tmp_path), AS_OF)
    assert sorted(round(kg / LB) for kg in reading.entries["mass_kg"]) == [7, 9, 40, 41]
    assert {row.date() for row in reading.entries["date"]} == {dt.date(2025, 3, 13), dt.date(2025, 3, 14)}  # fmt: skip


def test_containers_under_a_word_for_what_came_are_containers(tmp_path: Path) -> None:
    rows = [
        ["Date", "Source", "Kind", "What it came in", "Number"],
        [d("3-03"), "hotel", "leaves", "totes", 6],
    ]
    rows += [[d("3-04"), "school", "coffee", "pail", 2], [d("3-05"), "hotel", "leaves", "tote", 1]]  # fmt: skip
    got = _read(tmp_path, rows).entries
    assert list(got["material"]) == [LEAVES, COFFEE, LEAVES]
    assert list(zip(got["container"], got["count"], strict=True)) == [("tote", 6), ("pail", 2), ("tote", 1)]  # fmt: skip


def test_scoops_that_were_added_are_no_count_of_the_bins_they_went_into(tmp_path: Path) -> None:
    rows = [["Date", "Source", "Material", "Carbon added (scoops)", "Bin", "#"]]
    rows += [[d("3-03"), "hotel", "leaves", 6, "pails", 5], [d("3-04"), "school", "leaves", 4, "totes", 4]]  # fmt: skip
    rows += [[d("3-05"), "hotel", "leaves", 4, "pail", 1]]
    got = _read(tmp_path, rows).entries
    assert list(zip(got["container"], got["count"], strict=True)) == [("pail", 5), ("tote", 4), ("pail", 1)]  # fmt: skip


def test_two_columns_in_strange_words_are_asked_about_once(tmp_path: Path) -> None:
    rows = [["Date", "Source", "Material", "With pail", "Pail alone"]]
    rows += [[d(f"3-{3 + n:02}"), "hotel", "leaves", 22 + 10 * n, 2] for n in range(3)]
    reading = _read(tmp_path, rows)
    assert not len(reading.entries)
    assert [f.code for f in reading.findings if f.level != "note"] == ["not explained"]
