"""Classes that sheets of crews elsewhere showed to be misread in silence, each in several spellings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from divert.core.findings import Finding
from divert.ingest.cells.problem import Problem
from divert.ingest.cells.quantity import read_cell
from divert.ingest.cells.scan import Trade

from .corpus.book import LB
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

_WEEK = [["Mon", "Tue", "Wed", "Thu", "Fri"], [12.5, 11, 9.5, None, 14], [18, 17.5, 16, 15, 19]]
_FOOD = [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-10", SCHOOL, FOOD, 44)]
_YD3 = 0.764554857984


def _log(head: list[Any], *rows: list[Any], over: list[list[Any]] | None = None) -> list[list[Any]]:
    days = [d("3-03"), d("3-10"), d("3-17"), d("3-24")]
    return [
        *(over or []),
        ["Date", *head],
        *([day, *r] for day, r in zip(days, rows, strict=False)),
    ]


# Nothing of these may be counted, and all of it is asked about.
OPEN = [
    *(Said(f"a word for another kind over food: {title}, {tab}", _log(["Source", "lb"], ["hotel", 40], ["school", 44], over=[[title]]),
           sheet=tab)
      for title, tab in (("Food scraps from the stalls", "Sat market"), ("Dining hall food scraps hauled", "Log"),
                         ("Production kitchen: leaves and stalks of leaves", "Log"))),
    *(Said(f"no product under a file's name for sales: {file}, {heads}",
           [["Date", "Item", *(f"{h} (lb)" for h in heads)],
            *([d(f"3-{n + 3:02}"), "Veg box", 50 + 9 * n, *range(20 + 7 * n, 41 + 7 * n, 20)] for n in range(3))],
           file=file, sheet="Dec")
      for file in ("sale or scrap.xlsx", "Sales 2025.xlsx", "Ventes.xlsx")
      for heads in (("Came back", "Given to food bank", "Composted"), ("Retour", "Banque alimentaire", "Au tas"))),
    *(Said(f"a sheet of numbers that no heading explains: {title}", rows)
      for title, rows in {
          "days across under a group's name": [["Lunch room - food scraps weighed (lb)"], ["Week of", d("3-03")], [],
                                               ["Table group", *_WEEK[0]], ["K-2", *_WEEK[1]], ["Staff", *_WEEK[2]]],
          "a note of one load": [["TRANSFER NOTE"], ["Note no.", 1041], ["Date of delivery", d("3-03")], ["Producer", "Abbey Hotel"],
                                 ["Description", "food waste"], ["Net weight (kg)", 64], ["Vehicle", "AB12 CDE"]],
          "barrows of a roster": [["Leaf crew"], ["Day", "Who", "Hours", "Tote loads hauled"], [d("3-03"), "Ana", 2, 7],
                                  [d("3-10"), "Jo", 3, 5]],
      }.items()),
    Said("the only sheet of a file, called a summary", [["Food scraps by building, lb, 2025"], ["", "Jan", "Feb", "Mar"],
                                                        ["North Hall", 210, 190, 225], ["Clinic", 25, 30, 28]], sheet="Summary"),
    *(Said(f"materials in one title: {title}", _log(["Source", "lb"], ["hotel", 40], ["school", 44], over=[[title]]))
      for title in ("Key: F = food scraps, L = leaves", "Leaves, coffee grounds (all in lb)", "Coffee + leaves")),
]  # fmt: skip

# Some of these may be asked about; what is counted must be so.
SOME = [
    *(Said(f"a sum under a name of its own: {name}", [["Food scraps, lb"], ["Source", "3 Mar 2025", "10 Mar 2025"], ["hotel", 40, 31],
                                                      ["school", 44, 9], [name, 84, 40]],
           [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-10", HOTEL, FOOD, 31), ("2025-03-03", SCHOOL, FOOD, 44),
            ("2025-03-10", SCHOOL, FOOD, 9)])
      for name in ("Everybody", "Ensemble", "Whole town")),
    *(Said(f"an amount put right on a later row: {text}",
           [*_log(["Source", "Material", "lb", head], ["hotel", "food scraps", 54, None], ["school", "food scraps", 44, None],
                  [None, None, None, text]), [d("3-24"), "hotel", "food scraps", 61, None]],
           [("2025-03-10", SCHOOL, FOOD, 44), ("2025-03-24", HOTEL, FOOD, 61)])
      for head, text in (("Comment", "3/3 should read 45, not 54"), ("Notes", "the 54 was wrong, it was 45"),
                         ("Remarks", "54 le 3 mars : erreur, 45"))),
    Said("a note that names another material than the title", _log(
        ["Source", "lb", "Notes"], ["hotel", 40, None], ["hotel", 80, "leaves"], ["school", 44, "Coffee"], over=[["Food scraps"]]),
        [("2025-03-03", HOTEL, FOOD, 40)]),
    Said("a carried amount without its unit, among units", [
        ["Date", "Source", "Material", "How much", "Unit"], [d("3-01"), None, "From the old book", 776, None],
        [d("3-03"), "hotel", "food scraps", 40, "lb"], [d("3-10"), "school", "food scraps", 44, "lb"],
        [d("3-17"), "hotel", "leaves", 51, "lb"]], [*_FOOD, ("2025-03-17", HOTEL, LEAVES, 51)]),
    Said("one day of a month by its number, among words", [
        ["Arrival", "Place", "Stuff", "lb"], ["Left from last month", None, None, 1752], [26, "hotel", "coffee", 40], ["Truck 2"]],
        [("2025-04-26", HOTEL, COFFEE, 40)], sheet="2025-04 pickups"),
]  # fmt: skip

_SOLD = ["Cost ($)", "Prix ($)", "Fee ($)"]
OPEN += [
    *(Said(f"money beside loads, and amounts of which one is called compost: {money}", _log(
        ["Source", "Flow", money, "Out of the cooler (lb)", "For the compost (lb)"], ["hotel", "coffee", 9, 32, 10],
        ["school", "food scraps", 8, 41, 14], ["hotel", "leaves", 7, 50, 21]))
      for money in _SOLD),
    *(Said(f"two bare numbers beside a box: {head}", _log(
        ["Source", "Material", head, "Type of bin", "Qty"], ["hotel", "leaves", 1, "cart", 2], ["school", "leaves", 1, "totes", 3],
        ["hotel", "leaves", 1, "cart", 4]))
      for head in ("Load", "Amount", "Delivered")),
]  # fmt: skip
SOME += [
    Said("a double, by its note, beside as many boxes of another material", [
        ["Date", "Source", "Material", "lb", "Comment"], [d("3-03"), "hotel", "leaves", 40, "duplicate"],
        [d("3-03"), "hotel", "food scraps", 40, None], [d("3-10"), "school", "food scraps", 44, None]], _FOOD),
]  # fmt: skip

OPEN += [
    *(Said(f"a weight, with its box or without: {one}, {two}", _log(
        ["Source", "Material", one, two], ["hotel", "food scraps", 54, 14], ["school", "leaves", 58, 14], ["hotel", "leaves", 60, 14]))
      for one, two in (("Weight (lb)", "Tare (lb)"), ("Leaves and scraps (lb)", "Empty tote (lb)"), ("Poids (kg)", "Tare (kg)"))),
    *(Said(f"yards beside loads and the size of the truck: {head}", _log(
        ["Source", "Loads", "Truck size", head], ["hotel", 3, "25 yd", 60], ["school", 2, "25 yd", 45], over=[["Leaves"]]))
      for head in ("Est. yards of leaves delivered", "About so many yards")),
    *(Said(f"a column of names beside amounts of which the head says how they were: {head}", _log(
        ["Cut where", head], ["Front lawns", 20], ["Cricket square", 31], over=[["Leaves"]]))
      for head in ("Wet wt (lb)", "Pulp (lb)")),
    *(Said(f"what was refused at a market: {title}", _log(
        ["Stall", "Accepted (lb)", "Refused (lb)"], ["hotel", None, 12], ["school", 55, None], over=[[title]]), sheet="Market")
      for title in ("Saturday market food scraps", "Leaves of the market")),
    Said("quarters across", [["Quarterly return: food scraps (tons)"], ["", "Q1 2025", "Q2 2025"], ["Kerbside", 120.5, 310.2],
                             ["Parks", 44.1, 98.7]], sheet="Return"),
]  # fmt: skip
SOME += [
    *(Said(f"a state that says that it was none: {text}", _log(
        ["Source", "Material", "lb", head], ["hotel", "food scraps", 40, "wet"], ["school", "food scraps", 44, "dry"],
        ["hotel", "leaves", 51, text]), _FOOD)
      for head, text in (("Condition", "not delivered, frozen"), ("State", "never arrived"), ("État", "pas livré, gelé"))),
]  # fmt: skip

_RISING = [88, 171, 262, 349, 431, 520, 604, 699]
OPEN += [
    *(
        Said(
            f"amounts that rise under a plain word: {title}",
            [
                [title],
                ["Date", "Source", "lb"],
                *([d(f"3-{3 + n:02}"), "hotel", lb] for n, lb in enumerate(_RISING[:many])),
            ],
        )
        for title, many in (
            ("Food scraps collected since 1 March", 4),
            ("Food scraps so far", 5),
            ("Food scraps", 8),
        )
    ),
]
SOME += [
    *(Said(f"an amount put right beside it: {head}", _log(
        ["Source", "Material", "lb", head], ["hotel", "food scraps", 40, None], ["school", "food scraps", 44, None],
        ["hotel", "leaves", 43, 34]), _FOOD)
      for head in ("Should have been", "Tom says", "Vérifié")),
    *(Said(f"a note by which another row of the day is none: {note}", [
        ["Date", "Source", "Material", "lb", "!"], [d("3-03"), "hotel", "food scraps", 40, None],
        [d("3-04"), "hotel", "food scraps", 131, None], [d("3-04"), "hotel", "food scraps", 13, note],
        [d("3-10"), "school", "food scraps", 44, None]], _FOOD)
      for note in ("2nd weigh, replaces 131: scale stuck", "the 131 was a mistake", "annule le 131")),
]  # fmt: skip

OPEN += [
    *(Said(f"amounts that only rise beside the number of a box: {head}", [
        ["Date", "Source", "Material", "Dumpster", head],
        *([d(f"3-{3 + n:02}"), "hotel", "leaves", n + 1, lb] for n, lb in enumerate(_RISING))])
      for head in ("Grand sum lbs", "All in all (lb)")),
]  # fmt: skip
SOME += [
    *(Said(f"where a load went, which was no heap: {word}", _log(
        ["Source", "Material", "To", "lb"], ["hotel", "food scraps", "heap", 40], ["school", "food scraps", "heap", 44],
        ["hotel", "leaves", word, 51]), _FOOD)
      for word in ("skip (weedkiller)", "landfill, glass in it", "dumpster - trash")),
    Said("a tab whose own headings nobody knows, beside one of other columns", [
        ["Le", "Ce que", "Chargement", "Apres"], *([d(f"3-{3 + n:02}"), "feuilles", 239 - n, 9] for n in range(6))],
        [(f"2025-03-{3 + 7 * n:02}", SCHOOL, LEAVES, 40 + n) for n in range(3)],
        sheet="hotel", more={"school": [["Date", "What", "lb", "Notes"], *([d(f"3-{3 + 7 * n:02}"), "leaves", 40 + n] for n in range(3))]}),
]  # fmt: skip

SOME += [
    *(Said(f"a bare number among amounts with units, under a name of the crew: {text}", [
        ["Date", "Place", "Agent", "How much"], [d("3-01"), None, text, 1802],
        *([d(f"3-{3 + 7 * n:02}"), ("hotel", "school")[n % 2], "RT", f"{40 + n} lb"] for n in range(4))],
        [(f"2025-03-{3 + 7 * n:02}", (HOTEL, SCHOOL)[n % 2], LEAVES, 40 + n) for n in range(4)], sheet="leaves")
      for text in ("Since January", "Depuis janvier")),
]  # fmt: skip

# These need no help.
READ = [
    *(Said(f"a truck in and out, the unit in the cells: {full}", _log(
        ["Source", "Material", full, empty], ["hotel", "food scraps", "140 lb", "100 lb"], ["school", "food scraps", "145 lb", "101 lb"]),
        _FOOD, must=True)
      for full, empty in (("Loaded", "Empty"), ("Truck full", "Truck empty"), ("Plein", "Vide"))),
    *(Said(f"what its box weighs, taken off: {head}", _log(
        ["Source", "Material", full, head], ["hotel", "food scraps", 54, 40], ["school", "food scraps", 58, 44]), _FOOD, must=True)
      for full, head in (("Weight with bin (lb)", "Without bin (lb)"), ("With tote (lb)", "Less the tote (lb)"),
                         ("Poids avec bac (lb)", "Sans le bac (lb)"))),
    Said("and the box without what it held", _log(
        ["Source", "Material", "Bin with food (lb)", "Bin without (lb)"], ["hotel", "food scraps", 54, 14],
        ["school", "food scraps", 58, 14]), _FOOD, must=True),
]  # fmt: skip


@pytest.mark.parametrize("said", [*OPEN, *SOME, *READ], ids=lambda s: s.name)
def test_nothing_is_counted_that_the_sheet_does_not_say(said: Said, tmp_path: Path) -> None:
    right_or_refused(said, tmp_path)


@pytest.mark.parametrize(
    ("each", "total"),
    [("Yards per trip", "Cubic yards"), ("yd3 / trip", "Volume (yd3)"), ("Yards par trip", None)],
)
def test_what_one_trip_brought_is_no_amount_beside_the_trips(
    tmp_path: Path, each: str, total: str | None
) -> None:
    heads = ["Source", "Trips", each, *([total] if total else [])]
    rows = [["hotel", 3, 4, 12], ["school", 2, 6, 12], ["hotel", 1, 5, 5]]
    said = Said("", _log(heads, *(r[: len(heads)] for r in rows), over=[["Leaves"]]))
    reading = read(said, tmp_path)
    volumes = [round(v / _YD3, 2) for v in reading.entries["volume_m3"]]
    assert volumes == ([12, 12, 5] if total else [])
    assert total or len(reading.set_aside) == 3


@pytest.mark.parametrize("each", ["Pails each", "Pails apiece", "Seaux chacun"])
def test_what_each_of_several_brought_is_no_second_load(tmp_path: Path, each: str) -> None:
    rows = [["hotel", "leaves", 5, 3, 15], ["school", "leaves", 4, 4, 16]]
    said = Said("", _log(["Source", "Material", "Helpers", each, "Pails"], *rows))
    assert read(said, tmp_path).entries["count"].tolist() == [15, 16]


def test_a_share_under_words_for_fullness_says_how_full_each_was(tmp_path: Path) -> None:
    rows = [["hotel", "leaves", 3, "100%"], ["school", "leaves", 1, "50%"], ["hotel", "leaves", 2, "75%"]]  # fmt: skip
    said = Said("", _log(["Source", "Material", "Totes", "Avg fullness"], *rows))
    assert read(said, tmp_path).entries["fill"].tolist() == [1.0, 0.5, 0.75]


@pytest.mark.parametrize("over", [True, False])
def test_a_line_that_may_undo_some_loads_is_asked_about_and_they_count(
    tmp_path: Path, over: bool
) -> None:
    line: list[list[Any]] = [["Red = we did not take it"]]
    rows = _log(["Source", "Material", "lb"], ["hotel", "food scraps", 40], ["school", "food scraps", 44])  # fmt: skip
    said = Said("", [*line, *rows] if over else [*rows, [], *line])
    reading = read(said, tmp_path)
    assert [round(kg / LB) for kg in reading.entries["mass_kg"]] == [40, 44]
    (asked,) = _asked(reading.findings, "notes not understood")
    assert (asked.level, asked.rows) == ("query", 2)


@pytest.mark.parametrize("over", [True, False])
@pytest.mark.parametrize("line", ["(second page)", "Slip no. 101", "Cahier de pesée", "ask Ana about the lids",
                                  "2025-03-12 - trash day", "our own sheet", "Not weighed in May"])  # fmt: skip
def test_a_line_that_only_names_the_record_or_another_matter_asks_nothing(
    tmp_path: Path, line: str, over: bool
) -> None:
    rows = _log(["Source", "Material", "lb"], ["hotel", "food scraps", 40], ["school", "food scraps", 44])  # fmt: skip
    reading = read(Said("", [[line], *rows] if over else [*rows, [], [line]]), tmp_path)
    assert not _asked(reading.findings, "notes not understood")
    assert len(reading.entries) == 2


def test_compost_that_nobody_is_said_to_have_brought_is_asked_about_as_well(tmp_path: Path) -> None:
    said = Said("", _log(["Compost (lb)"], [40], [44]), sheet="Food log")
    (asked,) = _asked(read(said, tmp_path).findings, "unknown material")
    assert asked.rows == 2


@pytest.mark.parametrize("title", ["Food scraps brought by visiting schools", "Leaves that visitors raked"])  # fmt: skip
def test_loads_on_a_sheet_of_what_was_done_are_asked_about(tmp_path: Path, title: str) -> None:
    rows = [["Hill School", 24, 9.5], ["Dale School", 31, 12]]
    said = Said("", _log(["School", "Children", "kg"], *rows, over=[[title]]), sheet="Visits")
    reading = read(said, tmp_path)
    (asked,) = _asked(reading.findings, "not explained")
    assert asked.rows == 2 and [c.keys["holds"] for c in asked.choices] == ["intake", "activity"]
    assert "intake" not in set(reading.entries["kind"])


def test_a_doubted_kind_is_settled_by_a_line_of_the_site(tmp_path: Path) -> None:
    (asked,) = _asked(read(OPEN[0], tmp_path).findings, "not explained")
    assert [dict(c.keys)["holds"] for c in asked.choices] == ["intake", "sale"]
    assert all(c.table == "sheet" and c.keys["sheet"] == "Sat market" for c in asked.choices)


@pytest.mark.parametrize("text", ["1 240L tote", "1 240 l tote", "2 240L totes", "1 100 litre tote"])  # fmt: skip
def test_a_count_before_a_size_may_be_one_number_of_thousands(text: str) -> None:
    from divert.ingest.known import know

    from .corpus.book import site

    trade: Trade = know(site(Path())).trade
    assert isinstance(read_cell(text, trade), Problem)
    assert not isinstance(read_cell("1 240 L", trade), Problem)


def _asked(findings: Any, code: str) -> list[Finding]:
    return [f for f in findings if f.code == code]
