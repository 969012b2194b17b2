"""More classes of crews elsewhere: wholes and parts, what stands over a table, headings with a blank corner."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from .test_explain_or_ask import (
    COFFEE,
    FOOD,
    HOTEL,
    LEAVES,
    SCHOOL,
    Said,
    d,
    read,
    right_or_refused,
)

_BOTH = [
    ("2025-03-03", HOTEL, FOOD, 40), ("2025-03-03", HOTEL, LEAVES, 7), ("2025-03-10", HOTEL, FOOD, 44),
    ("2025-03-10", HOTEL, LEAVES, 9),
]  # fmt: skip
_TWO_YEARS = [("2024-11-05", HOTEL, LEAVES, 40), ("2024-11-12", SCHOOL, LEAVES, 44),
              ("2025-11-04", HOTEL, LEAVES, 51), ("2025-11-11", SCHOOL, LEAVES, 38)]  # fmt: skip


def _parts(whole: str, *parts: str) -> list[list[Any]]:
    rows = [[d("3-03"), 100, 60, 40], [d("3-04"), 90, 50, 40], [d("3-05"), 120, 75, 45]]
    return [["Food scraps lb"], ["Date", whole, *parts], *rows]


def _fed(head: str, came: str = "lb") -> list[list[Any]]:
    rows = [["hotel", 200, 12], ["hotel", 185, 0], ["school", 210, 210]]
    days = [d("3-03"), d("3-10"), d("3-17")]
    log = [["Date", "Source", "Material", came, head]]
    return [*log, *([day, s, "leaves", *r] for day, (s, *r) in zip(days, rows, strict=True))]


# Nothing of these may be counted, and all of it is asked about.
OPEN = [
    *(Said(f"a whole whose parts may be from whom it came: {heads}", _parts(*heads))
      for heads in (("On scale", "of which Kitchen A", "of which Kitchen B"), ("Weighed", "from upstairs", "from downstairs"),
                    ("Sur la balance", "dont cuisine 1", "dont cuisine 2"))),
    *(Said(f"a part that may be all of a load: {head}", _fed(head))
      for head in ("Lb of it landfilled", "To the pigs (lb)", "dont jeté (lb)")),
    *(Said(f"years down, parts of a year across: {title}", [
        [title], ["Year", one, other], [2022, 40, 310], [2023, 35, 295], [2024, 52, 330]], sheet="History")
      for title, one, other in (("Leaves received (cubic yards)", "Spring", "Fall"), ("Food scraps, lb", "Term 1", "Term 2"),
                                ("Feuilles reçues (m3)", "Printemps", "Automne"))),
    *(Said(f"two scales of which one is called compost: {one}, {other}", [
        ["Date", "Source", "Material", one, other], [d("3-03"), "hotel", "food scraps", 30, 28],
        [d("3-10"), "school", "food scraps", 25, 26], [d("3-17"), "hotel", "food scraps", 28, 27]])
      for one, other in (("Kitchen scale (lb)", "Compost scale (lb)"), ("Balance cuisine (kg)", "Balance compost (kg)"),
                         ("Compost lb", "Dock lb"))),
    *(Said(f"boxes, a number beside them that may be the load's, and one that comes again: {head}", [
        ["Date", "Source", "Material", head, "Bin", "#"], [d("3-03"), "hotel", "leaves", 1, "cart", 4],
        [d("3-10"), "school", "leaves", 1, "totes", 6], [d("3-11"), "hotel", "leaves", 1, "totes", 6],
        [d("3-17"), "hotel", "leaves", 2, "cart", 6]])
      for head in ("Load", "Amount", "Qty")),
    *(Said(f"a weight under a box's name beside the gross: {one}, {other}", [
        ["Date", "Source", "Material", one, other], [d("3-03"), "hotel", "food scraps", 42, 10],
        [d("3-10"), "school", "food scraps", 38, 10], [d("3-17"), "hotel", "food scraps", 45, 11]])
      for one, other in (("Gross lb", "Tote lb"), ("Brut (kg)", "Tote (kg)"), ("Gross weight (lb)", "Cart (lb)"))),
]  # fmt: skip

_NEW = ["Olive Street Deli", "Pine Grove Cafe", "hotel", "school", "hotel", "school"]
# What is counted of these must be so.
SOME = [
    *(Said(f"a balance among sources of which half are new: {name}", [
        ["Date", "Source", "Material", "lb"], [d("3-01"), name, "coffee", 375],
        *([d(f"3-{3 + n:02}"), s, "coffee", lb] for n, (s, lb) in enumerate(zip(_NEW, (69, 32, 9, 56, 102, 217), strict=True)))],
        [(f"2025-03-{3 + n:02}", s, COFFEE, lb) for n, (s, lb) in enumerate(
            zip((*_NEW[:2], HOTEL, SCHOOL, HOTEL, SCHOOL), (69, 32, 9, 56, 102, 217), strict=True))])
      for name in ("Prior", "Antérieur", "Up to now")),
]  # fmt: skip

# These need no help.
READ = [
    *(Said(f"units over amounts, and nothing over the days: {heads}", [
        ["", *heads], [d("3-03"), 40, 7], [d("3-10"), 44, 9]], _BOTH, must=True, sheet="hotel")
      for heads in (("Food scraps lb", "Leaves lb"), ("Food scraps (lb)", "Leaves (lb)"), ("lb food scraps", "lb of leaves"))),
    *(Said(f"a section right over the first load, under no heading: {years}", [
        ["Leaves, lb"], [years[0]], ["Nov 5", "hotel", "40 lb"], ["Nov 12", "school", "44 lb"],
        [years[1]], ["Nov 4", "hotel", "51 lb"], ["Nov 11", "school", "38 lb"]], _TWO_YEARS, must=True)
      for years in ((2024, 2025), ("2024", "2025"))),
    *(Said(f"sources over their loads, below a heading nobody knows: {mark}", [
        ["Le", "Ce que", "Chargement"], [f"hotel{mark}"], [d("3-03"), "food scraps", "40 lb"], [],
        [f"school{mark}"], [d("3-10"), "food scraps", "44 lb"], [d("3-17"), "leaves", "51 lb"]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-10", SCHOOL, FOOD, 44), ("2025-03-17", SCHOOL, LEAVES, 51)], must=True)
      for mark in ("", " :", ":")),
    *(Said(f"what was asked of a round, over its loads: {asked[0]}", [
        ["Coffee round"], ["Date:", d("3-03"), None, "Driver:", "Ana"], [asked[0], 48210, None, asked[1], 48233], [],
        ["Stop", "Source", "Material", "Weight (lb)"], [1, "hotel", "food scraps", 40], [2, "school", "leaves", 51]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-03", SCHOOL, LEAVES, 51)], must=True)
      for asked in (("Odometer out", "Odometer in"), ("Clock start", "Clock end"), ("Km départ", "Km arrivée"))),
]  # fmt: skip


@pytest.mark.parametrize("said", [*OPEN, *SOME, *READ], ids=lambda s: s.name)
def test_nothing_is_counted_that_the_sheet_does_not_say(said: Said, tmp_path: Path) -> None:
    right_or_refused(said, tmp_path)


def test_years_across_are_years_where_nothing_stands_over_the_months(tmp_path: Path) -> None:
    rows = [["Food scraps, lb"], ["", "2023", "2024"], ["January", 310, 290], ["February", 280, 305]]  # fmt: skip
    entries = read(Said("", rows, sheet="Trend"), tmp_path).entries
    assert sorted(str(day)[:7] for day in entries["date"]) == ["2023-01", "2023-02", "2024-01", "2024-02"]  # fmt: skip


def test_parts_of_a_load_whose_source_is_told_change_nothing(tmp_path: Path) -> None:
    rows = [["Date", "Source", "Food scraps (lb)", "Line 1", "Line 2"], [d("3-03"), "hotel", 100, 60, 40],
            [d("3-10"), "school", 90, 50, 40], [d("3-17"), "hotel", 120, 75, 45]]  # fmt: skip
    assert len(read(Said("", rows), tmp_path).entries) == 3


@pytest.mark.parametrize("head", ["Qlms", "Zwv"])
def test_numbers_left_under_words_are_asked_about_by_these_words(tmp_path: Path, head: str) -> None:
    rows = [["On", "From", "Carried", head], [d("3-03"), "hotel", "40 lb", 7], [d("3-10"), "school", "44 lb", 9],
            [d("3-17"), "hotel", "51 lb", 8]]  # fmt: skip
    findings = read(Said("", rows), tmp_path).findings
    assert any(head in str(f.message) for f in findings)
    assert not any("under no heading" in str(f.message) for f in findings)


@pytest.mark.parametrize("rows", [3, 5])
def test_what_a_whole_table_lacks_is_asked_once(tmp_path: Path, rows: int) -> None:
    log = [[d(f"3-{3 + n:02}"), "hotel", "leaves", 30 + 7 * n * n % 11] for n in range(rows)]
    findings = read(Said("", [["Date", "Source", "Material", "Amount"], *log]), tmp_path).findings
    (asked,) = (f for f in findings if f.level == "refused")
    assert (asked.code, asked.rows) == ("unit unknown", rows)
    undated = [["Source", "Material", "lb"], *(row[1:] for row in log)]
    (asked,) = (f for f in read(Said("", undated), tmp_path).findings if f.level == "refused")
    assert (asked.code, asked.rows) == ("no date", rows)
