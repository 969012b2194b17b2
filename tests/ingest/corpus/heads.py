"""Which rows are headings, and which of two columns a heading's word stands for."""

from __future__ import annotations

from pathlib import Path

from . import writers
from .book import COFFEE, FOOD, HOTEL, LADLE, LB, LEAVES, SCHOOL, Entry, Truth, case, day

A, B, C = day("2025-03-03"), day("2025-03-10"), day("2025-03-17")


@case("unusual headings", "who and where")
def where_it_came_from_and_who_wrote_it_down(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {
        "A": [["date", "where", "what", "how much", "who"], [A, "school", "food scraps", "2 pails", "RT"],
              [B, "hotel", "coffee", "3 pails", "jp"]],
        "B": [["date", "who", "what", "how much", "stopped off at"], [A, "RT", "food scraps", "1 pail", "school"],
              [B, "jp", "coffee", "4 pails", "hotel"]],
    })  # fmt: skip
    return Truth([
        Entry(A, SCHOOL, FOOD, count=2, container="pail"), Entry(B, HOTEL, COFFEE, count=3, container="pail"),
        Entry(A, SCHOOL, FOOD, count=1, container="pail"), Entry(B, HOTEL, COFFEE, count=4, container="pail"),
    ])  # fmt: skip


@case("ditto", "no heading in the middle of a log")
def days_said_in_words(folder: Path) -> Truth:
    """Words such as "same day" mean the day above; "market day" is a day that nobody knows, and no heading."""
    writers.text(folder / "log.csv", [
        ["Date", "Source", "Material", "Quantity"],
        ["2025-03-03", "hotel", "food scraps", "2 pails"],
        ["same day", "school", "coffee", "1 pail"],
        ["même jour", "school", "leaves", "2 pails"],
        ["later that day", "ladle", "coffee", "10 lb"],
        ["market day", "Someone New", "garden stuff", "2 pails"],
        ["jour de marché", "hotel", "leaves", "2 pails"],
        ["2025-03-10", "hotel", "food scraps", "3 pails"],
    ])  # fmt: skip
    return Truth([
        Entry(A, HOTEL, FOOD, count=2, container="pail"), Entry(A, SCHOOL, COFFEE, count=1, container="pail"),
        Entry(A, SCHOOL, LEAVES, count=2, container="pail"), Entry(A, LADLE, COFFEE, kg=10 * LB),
        Entry(B, HOTEL, FOOD, count=3, container="pail"),
    ], aside={"no date": 2})  # fmt: skip
