"""Loads typed where no table is: over the headings, beside the columns, in words. Each is asked about."""

from __future__ import annotations

import datetime as dt
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest

from divert.core.reading import InputFile, Reading
from divert.ingest.grid import Grid, Opened
from divert.ingest.plan.write_file import plans_text
from divert.ingest.read import _read

from .corpus.book import AS_OF, site

HEAD = ["Date", "Source", "Material", "Weight (lb)"]
LOGGED = [
    [dt.date(2025, 3, 3), "hotel", "food scraps", 60],
    [dt.date(2025, 3, 4), "school", "leaves", 70],
    [dt.date(2025, 3, 5), "ladle", "coffee", 80],
]
ROWS = (3, 4, 5)


def _both_ways(rows: list[list[Any]]) -> Reading:
    """Read a sheet twice, the second time by the plan of the first: nothing differs."""
    opened = Opened(InputFile("log.xlsx", "1", 1), (Grid("log.xlsx", "Log", rows),))
    own = site(Path("/nowhere"))
    reading, plans = _read([opened], own, AS_OF, (), "")
    again, _ = _read([opened], own, AS_OF, (), plans_text(plans))
    for one, other in ((reading.entries, again.entries), (reading.set_aside, again.set_aside)):
        assert one.astype(str).values.tolist() == other.astype(str).values.tolist()
    assert reading.seen == len(reading.entries) + len(reading.set_aside) + len(reading.skipped)
    return reading


def _pounds(reading: Reading) -> list[float]:
    return [round(kg / 0.45359237, 6) for kg in reading.entries["mass_kg"]]


@pytest.mark.parametrize("order", list(permutations(range(4)))[::3])
@pytest.mark.parametrize("many", [1, 2, 3])
def test_loads_over_the_headings_are_set_aside_each_with_its_cell(
    order: tuple[int, ...], many: int
) -> None:
    above = [
        [[dt.date(2025, 2, n), "hotel", "food scraps", 10 + n][k] for k in order]
        for n in range(1, many + 1)
    ]
    reading = _both_ways([*above, HEAD, *LOGGED])
    assert _pounds(reading) == [60, 70, 80]
    letter = "ABCD"[order.index(3)]
    places = [(row, column) for _, _, row, column, *_ in reading.set_aside.values.tolist()]
    assert places == [(n, letter) for n in range(1, many + 1)]
    asked = [f for f in reading.findings if f.level == "refused"]
    assert [f.rows for f in asked] == [many]


@pytest.mark.parametrize("gap", [1, 2, 3])
@pytest.mark.parametrize("cells", [["ladle", 55], ["leaves", "2 totes"], [55, "ladle"]])
def test_loads_beside_the_columns_are_set_aside(gap: int, cells: list[Any]) -> None:
    rows = [HEAD, LOGGED[0], LOGGED[1] + [None] * gap + cells, LOGGED[2]]
    reading = _both_ways(rows)
    assert _pounds(reading) == [60, 70, 80]
    amount = next(i for i, c in enumerate(cells) if c not in ("ladle", "leaves"))
    assert reading.set_aside[["row", "column"]].values.tolist() == [
        [3, "ABCDEFGHI"[4 + gap + amount]]
    ]


@pytest.mark.parametrize("gap", [1, 2])
def test_a_bare_number_beside_the_columns_is_asked_about(gap: int) -> None:
    reading = _both_ways([HEAD, LOGGED[0], LOGGED[1] + [None] * gap + [55], LOGGED[2]])
    assert _pounds(reading) == [60, 70, 80]
    asked = [f for f in reading.findings if f.code == "numbers not read"]
    assert [(str(f.where), f.level) for f in asked] == [(f"log.xlsx!Log!{'FG'[gap - 1]}3", "query")]


WORDS = [
    "Forgot: 80 lb food scraps from the ladle on March 9",
    "Also 3 totes from the hotel on 3/9",
    "March 9 - school brought two pails of leaves",
    "9 mars : 40 kg de feuilles",
]


@pytest.mark.parametrize("text", WORDS)
@pytest.mark.parametrize("at", ["above", "between", "below"])
def test_a_load_told_in_words_alone_is_set_aside(text: str, at: str) -> None:
    rows = {
        "above": [[text], HEAD, *LOGGED],
        "between": [HEAD, LOGGED[0], [text], *LOGGED[1:]],
        "below": [HEAD, *LOGGED, [], [text]],
    }[at]
    reading = _both_ways(rows)
    found = reading.set_aside[["row", "column", "found"]].values.tolist()
    assert [rows.index([text]) + 1, "A", text] in found
    assert sum(_pounds(reading)) + 0 in (210, 0)  # the log's own loads, or all of them asked about


QUIET = [
    ["Food waste log 2025"],
    ["Hotel", "since March 2025"],
    ["All weights in lb, totes weighed empty"],
    ["Collection of 3 March 2025 (lb)"],
    ["Total so far", "food scraps", dt.date(2025, 3, 9), 210],
    ["Price list of March 2025", "leaves", "$40"],
]


@pytest.mark.parametrize("line", QUIET, ids=lambda c: str(c[0]))
def test_what_titles_and_sums_say_is_no_load(line: list[Any]) -> None:
    reading = _both_ways([line, HEAD, *LOGGED])
    assert not len(reading.set_aside)
    assert _pounds(reading) == [60, 70, 80]
    beside = _both_ways([HEAD, LOGGED[0] + [None, "Total", 210], *LOGGED[1:]])
    assert not len(beside.set_aside)
    assert not [f for f in beside.findings if f.level != "note"]
