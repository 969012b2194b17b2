"""More classes that made-up crews showed to be misread in silence, one small sheet each."""

from __future__ import annotations

from pathlib import Path

import pytest

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
from .test_explain_or_ask import read as read_said

CASES = [
    Said(
        "what was bought and used beside what was tossed, and an amount that only one of them has",
        [["Date", "Site", "Material", "Staff", "Bought (lb)", "Used (lb)", "Tossed (lb)"], [d("3-01"), None, None, "What we had", 536, None, None],
         [d("3-03"), "hotel", "food scraps", "RT", 478, 347, 131], [d("3-04"), "school", "food scraps", "RT", 232, 218, 14],
         [d("3-05"), "hotel", "coffee", "Ana", 494, 284, 210], [d("3-06"), "school", "leaves", "JB", 416, 206, 210]],
        [("2025-03-03", HOTEL, FOOD, 131), ("2025-03-04", SCHOOL, FOOD, 14), ("2025-03-05", HOTEL, COFFEE, 210),
         ("2025-03-06", SCHOOL, LEAVES, 210)],
    ),
    Said(
        "the only day of a month, by its number",
        [["Came", "Where from", "What", "lb"], [24, "hotel", "leaves", 105]],
        [("2025-09-24", HOTEL, LEAVES, 105)],
        file="log September 2025.xlsx",
    ),
    Said(
        "two loads of one day, by its number",
        [["Came", "Where from", "What", "lb"], [24, "hotel", "leaves", 105], [24, "school", "coffee", 31]],
        [("2025-09-24", HOTEL, LEAVES, 105), ("2025-09-24", SCHOOL, COFFEE, 31)],
        file="log September 2025.xlsx",
    ),
    Said(
        "a file named for the end of trash, over titles that name a known source",
        [["hotel - spring"], ["Date", "Material", "lb"], [d("3-03"), "leaves", 20], [d("3-04"), "soy okara", 30]],
        [("2025-03-03", HOTEL, LEAVES, 20), ("2025-03-04", HOTEL, "soy okara", 30)],
        file="End of trash 2025.xlsx", must=True,
    ),
    Said(
        "a file named for the end of trash, over nothing that says whose it was",
        [["Date", "Material", "lb"], [d("3-03"), "soy okara", 20], [d("3-04"), "noodle water", 30]],
        [("2025-03-03", None, "soy okara", 20), ("2025-03-04", None, "noodle water", 30)],
        file="End of trash 2025.xlsx",
    ),
    Said(
        "two weights under words for people, and no other amount",
        [["Date", "Where from", "lbs by us", "lbs by them"], [d("3-03"), "hotel", 181, 181], [d("3-04"), "Olive Street Deli", 4, 9],
         [d("3-05"), "school", 75, 76]],
        [("2025-03-03", HOTEL, LEAVES, 181), ("2025-03-04", "Olive Street Deli", LEAVES, 9), ("2025-03-05", SCHOOL, LEAVES, 76)],
        file="leaves.xlsx",
    ),
    Said(
        "a title for weighings over loads of which few name a known source",
        [["Weighing log"], ["Date", "Site", "Material", "Guess (lb)", "Scale (lb)"], [d("3-03"), "hotel", "leaves", 20, 22],
         [d("3-04"), "Olive Street Deli", "leaves", 30, 28], [d("3-05"), "Maple Elementary", "leaves", 40, 41]],
        [("2025-03-03", HOTEL, LEAVES, 22), ("2025-03-04", "Olive Street Deli", LEAVES, 28),
         ("2025-03-05", "Maple Elementary", LEAVES, 41)],
    ),
]  # fmt: skip


@pytest.mark.parametrize("said", CASES, ids=lambda s: s.name)
def test_nothing_is_counted_that_the_sheet_does_not_say(said: Said, tmp_path: Path) -> None:
    right_or_asked(said, tmp_path)


@pytest.mark.parametrize(
    ("heads", "pounds", "sentence"),
    [
        (("Gross lb", "Tare lb", "Net lb"), (50, 10, 30), "on this row do not agree"),
        (("lb", "kg"), (40, 30), "Two columns give this load different weights"),
    ],
)
def test_weights_disagree_as_gross_and_net_only_where_there_are_such(
    heads: tuple[str, ...], pounds: tuple[int, ...], sentence: str, tmp_path: Path
) -> None:
    rows = [["Date", "Source", "Material", *heads], [d("3-03"), "hotel", "leaves", *pounds]]
    reading = read_said(Said("", rows), tmp_path)
    (asked,) = [f for f in reading.findings if f.level == "refused"]
    assert sentence in asked.message.say("en")
    assert reading.entries.empty
