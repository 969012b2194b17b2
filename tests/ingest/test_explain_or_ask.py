"""Sheets that say something else than they look like: each is read as it truly says, or asked about.

The truth beside each sheet is what a person reads in it. ``must`` says that a person needs no help
there, so that the sheet has to be read whole; elsewhere it may be asked about, but nothing that it
does not say may be counted.
"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from divert.core.reading import Reading
from divert.ingest.read import read_folder
from divert.site.model import Source

from .corpus import writers
from .corpus.book import AS_OF, LB, site

Load = tuple[str, str | None, str | None, float]  # day, source, material, pounds
Rows = Sequence[Sequence[Any]]

MAPLE, SCHOOL, HOTEL, LADLE = (
    "Maple Elementary",
    "Quillmarsh School kitchen",
    "Harborside Hotel",
    "The Copper Ladle",
)
FOOD, COFFEE, LEAVES = "kitchen scraps", "coffee grounds", "leaves"


def d(text: str) -> dt.date:
    """Return a day of 2025: "3-04" is 4 March."""
    month, day = map(int, text.split("-"))
    return dt.date(2025, month, day)


@dataclass(frozen=True)
class Said:
    """A sheet, what it truly says, and whether it has to be read without a question."""

    name: str
    rows: Rows
    loads: Sequence[Load] = ()
    must: bool = False
    file: str = "log.xlsx"
    sheet: str = "Log"
    merge: Sequence[str] = ()
    more: Mapping[str, Rows] = field(default_factory=dict)


def _log(*rows: Sequence[Any], head: Sequence[str]) -> list[list[Any]]:
    return [list(head), *map(list, rows)]


_DAYS = ["3-03", "3-10", "3-17", "3-24"]


def _beside(heads: Sequence[str], *amounts: Sequence[Any]) -> list[list[Any]]:
    """Return a log of the hotel's food with some columns of amounts."""
    rows = [[d(day), "hotel", "food scraps", *a] for day, a in zip(_DAYS, amounts, strict=False)]
    return [["Date", "Source", "Material", *heads], *rows]


def _food(*pounds: float) -> list[Load]:
    return [
        (f"2025-0{day[0]}-{day[2:]}", HOTEL, FOOD, lb)
        for day, lb in zip(_DAYS, pounds, strict=False)
    ]


BETWEEN = [
    Said(
        "an unknown name between loads ends what the merged heading lent",
        [["MAPLE ELEMENTARY", None, None], ["Date", "Material", "lb"], [d("3-03"), "food scraps", 40],
         [d("3-10"), "food scraps", 44], ["OLIVE STREET DELI", None, None], [d("3-03"), "food scraps", 71],
         [d("3-10"), "food scraps", 75]],
        [("2025-03-03", MAPLE, FOOD, 40), ("2025-03-10", MAPLE, FOOD, 44),
         ("2025-03-03", "OLIVE STREET DELI", FOOD, 71), ("2025-03-10", "OLIVE STREET DELI", FOOD, 75)],
        merge=["A1:C1"],
    ),
    Said(
        "leaves under a heading with a bracket are no food",
        [["Date", "Source", "lb"], ["FOOD SCRAPS", None, None], [d("3-03"), "hotel", 40], [d("3-10"), "school", 44],
         ["LEAVES (curbside)", None, None], [d("3-11"), "hotel", 310], [d("3-18"), "school", 290]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-10", SCHOOL, FOOD, 44),
         ("2025-03-11", HOTEL, LEAVES, 310), ("2025-03-18", SCHOOL, LEAVES, 290)],
    ),
    Said(
        "an unread material between loads ends the one above it",
        [["Date", "Source", "lb"], ["FOOD SCRAPS", None, None], [d("3-03"), "hotel", 40], [d("3-10"), "school", 44],
         ["Pumpkins after the fair", None, None], [d("3-11"), "hotel", 310]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-10", SCHOOL, FOOD, 44)],
    ),
    Said(
        "a day with words behind it is a day",
        [["Source", "Material", "lb"], ["3/31/2025", None, None], ["hotel", "food scraps", 40], ["school", "food scraps", 22],
         ["4/1/2025 - short crew", None, None], ["hotel", "food scraps", 41], ["school", "food scraps", 23]],
        [("2025-03-31", HOTEL, FOOD, 40), ("2025-03-31", SCHOOL, FOOD, 22),
         ("2025-04-01", HOTEL, FOOD, 41), ("2025-04-01", SCHOOL, FOOD, 23)],
        must=True,
    ),
]  # fmt: skip

WEIGHTS = [
    Said(
        "before and after unloading",
        _beside(["Weight before unloading (lb)", "Weight after unloading (lb)"], [14200, 11300], [13950, 11250], [14410, 11280]),
        _food(2900, 2700, 3130),
    ),
    Said(
        "start and end weight",
        _beside(["Start weight (lb)", "End weight (lb)"], [62, 9], [58, 9], [71, 9]),
        _food(53, 49, 62),
    ),
    Said(
        "first and second weigh",
        _beside(["1st weigh (lb)", "2nd weigh (lb)"], [9200, 7100], [9150, 7120], [9470, 7090]),
        _food(2100, 2030, 2380),
    ),
    Said(
        "truck before and after",
        _beside(["Truck before (lb)", "Truck after (lb)"], [9200, 7100], [9150, 7120], [9470, 7090]),
        _food(2100, 2030, 2380),
    ),
    Said(
        "a tote with scraps and the tote empty",
        _beside(["Tote + scraps (lb)", "Tote empty (lb)"], [62, 9], [58, 9], [71, 9]),
        _food(53, 49, 62),
    ),
    Said(
        "a bin full and the bin emptied",
        _beside(["Bin full (lb)", "Bin emptied (lb)"], [162, 31], [158, 31], [171, 30]),
        _food(131, 127, 141),
    ),
    Said(
        "prepared, served and wasted",
        _beside(["Prepared (lb)", "Served (lb)", "Wasted (lb)"], [120, 100, 20], [130, 104, 26], [110, 95, 15]),
        _food(20, 26, 15),
    ),
    Said(
        "purchased and wasted",
        _beside(["Purchased (kg)", "Wasted (kg)"], [120, 20], [130, 26], [110, 15]),
        [(day, s, m, kg / LB) for day, s, m, kg in _food(20, 26, 15)],
    ),
    Said(
        "a total and one of its parts",
        [["date", "source", "weight_total_kg", "paper_kg", "food_kg"], [d("3-03"), "hotel", 30, 10, 20],
         [d("3-10"), "school", 41, 11, 30], [d("3-17"), "ladle", 25, 5, 20]],
        [("2025-03-03", HOTEL, FOOD, 20 / LB), ("2025-03-10", SCHOOL, FOOD, 30 / LB), ("2025-03-17", LADLE, FOOD, 20 / LB)],
    ),
    Said(
        "a total, and a part nobody knows",
        [["date", "source", "weight_total_kg", "paper_kg"], [d("3-03"), "hotel", 30, 10],
         [d("3-10"), "school", 41, 11], [d("3-17"), "ladle", 25, 5]],
    ),
]  # fmt: skip

STREAMS = [
    Said(
        "a site's own trash is not taken off its food",
        [["Date", "Source", "Food scraps (lb)", "Landfill trash (lb)", "Recycling (lb)", "Total (lb)"],
         [d("3-03"), "school", 40, 25, 8, 73], [d("3-10"), "school", 50, 20, 6, 76], [d("3-17"), "hotel", 30, 35, 9, 74]],
        [("2025-03-03", SCHOOL, FOOD, 40), ("2025-03-10", SCHOOL, FOOD, 50), ("2025-03-17", HOTEL, FOOD, 30)],
    ),
    Said(
        "a total of food and trash, with no recycling beside",
        [["Date", "Source", "Food (lb)", "Trash (lb)", "Total (lb)"],
         [d("3-03"), "school", 40, 25, 65], [d("3-10"), "school", 50, 20, 70], [d("3-17"), "hotel", 30, 35, 65]],
        [("2025-03-03", SCHOOL, FOOD, 40), ("2025-03-10", SCHOOL, FOOD, 50), ("2025-03-17", HOTEL, FOOD, 30)],
    ),
    Said(
        "a count of bottles is no weight",
        _beside(["lb", "Plastic bottles"], [40, 3], [44, 1], [51, 5]),
        _food(40, 44, 51),
        must=True,
    ),
]  # fmt: skip

_INTAKE = [
    ["Date", "Source", "Material", "lb"], [d("3-03"), "hotel", "food scraps", 40], [d("3-10"), "school", "coffee", 31],
    [d("3-17"), "ladle", "leaves", 22],
]  # fmt: skip
_INTAKE_SAID = [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-10", SCHOOL, COFFEE, 31), ("2025-03-17", LADLE, LEAVES, 22)]  # fmt: skip
NAMES = [
    Said("a file named for its program", _INTAKE, _INTAKE_SAID, True, "Zero waste trash-to-compost program.xlsx"),
    Said("trash in a file's name", _INTAKE, _INTAKE_SAID, True, "Trash to treasure 2025.xlsx"),
    Said(
        "a file's name against sources alone",
        [["Date", "From", "lb"], [d("3-03"), "hotel", 40], [d("3-10"), "school", 31], [d("3-17"), "ladle", 22]],
        file="Trash log 2025.xlsx",
    ),
]  # fmt: skip

NUMBERS = [
    Said("bags by their number", _beside(["bag_nr"], [1], [2], [3])),
    Said("dumpsters by their number", _beside(["Dumpster"], [101], [102], [103])),
    Said("carts by their number beside gross", _beside(["Cart #", "Gross (lb)"], [12, 130], [15, 142], [12, 138])),
    Said("loads by their number", _beside(["Load"], [1], [2], [3])),
    Said("bags by their number beside a weight", _beside(["bag_nr", "lb"], [1, 14], [2, 17], [3, 12]), _food(14, 17, 12)),
]  # fmt: skip

_LONG = (
    "How many pounds of food scraps did your team collect from the kitchen during this shift? Please weigh each tote on "
    "the floor scale and subtract the weight of the empty tote (lb)"
)
FORMS = [
    Said(
        "a question of a form over 120 letters is read",
        [["Timestamp", "What day was the pickup?", "Which kitchen or business did the material come from this time?", _LONG],
         ["3/3/2025 14:02:11", "3/3/2025", "hotel", 40], ["3/17/2025 9:15:40", "3/17/2025", "school", 44],
         ["3/24/2025 9:15:40", "3/24/2025", "ladle", 13]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-17", SCHOOL, FOOD, 44), ("2025-03-24", LADLE, FOOD, 13)],
    ),
    Said(
        "half of a form's weight stands under a long question",
        [["Date", "Source", "Food scraps (lb)", f"{_LONG.replace('food scraps', 'coffee grounds')}"],
         [d("3-03"), "hotel", 40, 12], [d("3-10"), "school", 44, 15], [d("3-17"), "ladle", 13, 11]],
        [("2025-03-03", HOTEL, FOOD, 40), ("2025-03-10", SCHOOL, FOOD, 44), ("2025-03-17", LADLE, FOOD, 13),
         ("2025-03-03", HOTEL, COFFEE, 12), ("2025-03-10", SCHOOL, COFFEE, 15), ("2025-03-17", LADLE, COFFEE, 11)],
    ),
]  # fmt: skip


def _noted(note: str) -> Rows:
    return [
        ["Date", "Source", "Material", "lb", "Notes"], [d("3-03"), "hotel", "food scraps", 40, None],
        [d("3-10"), "hotel", "food scraps", 44, note], [d("3-17"), "hotel", "food scraps", 51, None],
    ]  # fmt: skip


def _without(*numbers: int) -> list[Load]:
    return [load for n, load in enumerate(_food(40, 44, 51)) if n not in numbers]


NO_LOADS = [
    *(Said(f"a note: {note}", _noted(note), _without(1)) for note in (
        "returned to sender", "pickup cancelled", "test entry, ignore", "never arrived")),
    *(Said(f"an amount for {text}", [
        ["Date", "Source", "Material", "lb"], [d("3-01"), text, None, 512], [d("3-03"), "hotel", "food scraps", 40],
        [d("3-10"), "hotel", "food scraps", 44], [d("3-17"), "hotel", "food scraps", 51]], _food(40, 44, 51))
      for text in ("Carried over from Feb", "Balance brought forward")),
    *(Said(f"an amount beside {text}, in the first column", [
        ["Date", "Source", "Material", "lb"], [text, None, None, 512], [d("3-03"), "hotel", "food scraps", 40],
        [d("3-10"), "hotel", "food scraps", 44], [d("3-17"), "hotel", "food scraps", 51]], _food(40, 44, 51), must=True)
      for text in ("Carried over from Feb", "Balance brought forward")),
]  # fmt: skip

DAYS = [
    Said(
        "day and time under Arrival outdo the tab's month",
        [["Arrival", "Source", "Material", "lb"], [dt.datetime(2025, 4, 3, 9, 30), "hotel", "food scraps", 40],
         [dt.datetime(2025, 4, 10, 14, 5), "school", "coffee", 31], [dt.datetime(2025, 4, 17, 8, 0), "ladle", "leaves", 22]],
        [("2025-04-03", HOTEL, FOOD, 40), ("2025-04-10", SCHOOL, COFFEE, 31), ("2025-04-17", LADLE, LEAVES, 22)],
        must=True, sheet="April 2025",
    ),
    Said(
        "a year beside a date that says another",
        [["Year", "Date", "Source", "Material", "lb"], [2024, d("3-03"), "hotel", "food scraps", 40],
         [2025, d("3-10"), "hotel", "food scraps", 44], [2025, d("3-17"), "hotel", "food scraps", 51]],
        _without(0),
    ),
    Said(
        "2025 / 10 is October",
        [["Month", "Source", "Material", "lb"], ["2025 / 10", "hotel", "food scraps", 40], ["2025 / 11", "hotel", "food scraps", 44]],
        [("2025-10-01", HOTEL, FOOD, 40), ("2025-11-01", HOTEL, FOOD, 44)],
    ),
    Said(
        "2025 Q3 is no month",
        [["Month", "Source", "Material", "lb"], ["2025 Q3", "hotel", "food scraps", 40], ["2025 Q4", "hotel", "food scraps", 44]],
    ),
    Said(
        "loads without any day are not passed over",
        [["Source", "Material", "lb"], ["hotel", "food scraps", 40], ["school", "coffee", 31], ["ladle", "leaves", 22]],
    ),
]  # fmt: skip

CASES = [*BETWEEN, *WEIGHTS, *STREAMS, *NAMES, *NUMBERS, *FORMS, *NO_LOADS, *DAYS]


def read(said: Said, folder: Path) -> Reading:
    """Write a sheet and read its folder."""
    writers.xlsx(
        folder / said.file, {said.sheet: said.rows, **said.more}, merge={said.sheet: said.merge}
    )
    usual = site(folder)
    more = (*usual.sources, Source(MAPLE, ("maple elementary",)))
    return read_folder(replace(usual, sources=more), AS_OF)


def counted(entries: pd.DataFrame) -> Counter[Load]:
    """Return the intake that was counted, net of what was taken out, as the truth is written."""
    out: Counter[Load] = Counter()
    for row in entries.itertuples():
        words = [w if isinstance(w, str) and w else None for w in (row.source, row.material)]
        mass = row.mass_kg if row.mass_kg == row.mass_kg else row.gross_kg
        pounds = (mass - (row.removed_kg if row.removed_kg == row.removed_kg else 0)) / LB
        kind = "" if row.kind == "intake" else f"{row.kind} "
        out[(f"{kind}{row.date.date()}", *words, round(float(pounds), 3))] += 1  # type: ignore[index]
    return out


def true_loads(said: Said) -> Counter[Load]:
    """Return what a sheet truly says, rounded as :func:`counted` does."""
    return Counter((day, s, m, round(lb, 3)) for day, s, m, lb in said.loads)


def right_or_asked(said: Said, folder: Path) -> None:
    """Hold a sheet against what it says: read right, or set aside with a question."""
    reading = read(said, folder)
    true, got = true_loads(said), counted(reading.entries)
    questions = [f for f in reading.findings if f.level != "note"]
    assert not got - true, f"counted, but not so; missed: {true - got}"
    assert true == got or (not said.must and questions and len(reading.set_aside)), questions


def right_or_refused(said: Said, folder: Path) -> None:
    """Hold a sheet against what it says: read right where it must be, else set aside with a question."""
    reading = read(said, folder)
    true, got = true_loads(said), counted(reading.entries)
    assert not got - true, f"counted, but not so; missed: {true - got}"
    if said.must:
        assert not true - got, [f for f in reading.findings if f.level != "note"]
    else:
        assert len(reading.set_aside)
        assert any(f.level == "refused" for f in reading.findings)


@pytest.mark.parametrize("said", CASES, ids=lambda s: s.name)
def test_nothing_is_counted_that_the_sheet_does_not_say(said: Said, tmp_path: Path) -> None:
    reading = read(said, tmp_path)
    true, got = true_loads(said), counted(reading.entries)
    questions = [f for f in reading.findings if f.level != "note"]
    assert not got - true, f"counted, but not so; missed: {true - got}"
    if said.must:
        assert not true - got, questions
    elif true - got or not said.loads:
        assert questions, "passed over without a question"
        assert len(reading.set_aside), "asked, but nothing is set aside"


def _struck_workbook(path: Path, strike: bool) -> None:
    import xlsxwriter

    rows = _beside(["lb", "Notes"], [40, None], [44, "wet"], [51, None])
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Log")
        for r, row in enumerate(rows):
            for c, cell in enumerate(row):
                form = {"num_format": "yyyy-mm-dd"} if isinstance(cell, dt.date) else {}
                lined = {"font_strikeout": True} if strike and r == 2 else {}
                if cell is not None:
                    sheet.write(r, c, cell, book.add_format(form | lined))


@pytest.mark.parametrize(("strike", "pounds"), [(True, [40, 51]), (False, [40, 44, 51])])
def test_a_row_struck_through_is_asked_about(
    tmp_path: Path, strike: bool, pounds: list[float]
) -> None:
    _struck_workbook(tmp_path / "log.xlsx", strike)
    reading = read_folder(site(tmp_path), AS_OF)
    assert [round(kg / LB) for kg in reading.entries["mass_kg"]] == pounds
    asked = [f for f in reading.findings if f.code == "not explained"]
    assert [f.where.row for f in asked] == ([3] if strike else [])
    assert all("44 lb" in f.message.say("en") for f in asked)  # what hangs on it


def test_only_a_style_sheet_that_strikes_is_looked_through(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from divert.sandbox import struck
    from divert.sandbox.package import look_through

    _struck_workbook(tmp_path / "plain.xlsx", False)
    monkeypatch.setattr(struck, "sheet_titles", lambda _: pytest.fail("a sheet was looked through"))
    assert struck.struck_rows(look_through((tmp_path / "plain.xlsx").read_bytes())) == {}
