"""Logs on sheets whose name says that they hold none, and sheets of such names that hold none indeed."""

from __future__ import annotations

from pathlib import Path

from . import writers
from .book import COFFEE, FOOD, HOTEL, LADLE, LB, SCHOOL, WEIGHED, Entry, Truth, case, day

_DAYS = [day(f"2025-03-{n:02}") for n in (3, 4, 5, 6, 7)]
_SAID = [
    ("hotel", "food scraps"),
    ("school", "coffee"),
    ("ladle", "food scraps"),
    ("hotel", "coffee"),
    ("school", "food scraps"),
]
_MEANT = [(HOTEL, FOOD), (SCHOOL, COFFEE), (LADLE, FOOD), (HOTEL, COFFEE), (SCHOOL, FOOD)]
_ROWS = [[d, *said, 20 + n] for n, (d, said) in enumerate(zip(_DAYS, _SAID, strict=True))]
_LOADS = [
    Entry(d, s, m, kg=(20 + n) * LB)
    for n, (d, (s, m)) in enumerate(zip(_DAYS, _MEANT, strict=True))
]


@case("instruction sheet", "logs under a name that says otherwise")
def a_log_called_summary(folder: Path) -> Truth:
    writers.xlsx(
        folder / "2025.xlsx",
        {"Summary": [["Kestrel Bend"], WEIGHED, *_ROWS, ["Total", None, None, 110]]},
    )
    return Truth(_LOADS, codes=("note",), skipped={"total or subtotal": 1})


@case("instruction sheet", "sums under a name that says so")
def a_summary_of_the_log(folder: Path) -> Truth:
    """It says again what the log says, and a load more that the log leaves out: nobody asked it."""
    more = [day("2025-03-10"), "hotel", "food scraps", 31]
    writers.xlsx(
        folder / "2025.xlsx", {"Log": [WEIGHED, *_ROWS], "Summary": [WEIGHED, *_ROWS, more]}
    )
    return Truth(_LOADS)


@case("instruction sheet", "examples")
def examples_of_how_to_fill_it_in(folder: Path) -> Truth:
    writers.xlsx(folder / "2025.xlsx", {
        "Instructions": [["Write each load on a row, like this:"], WEIGHED, *_ROWS[:2]],
        "Template": [WEIGHED, [day("2024-01-01"), "Any school", "scraps of any kind", 1]] * 3,
        "Log": [WEIGHED, *_ROWS[2:]],
    })  # fmt: skip
    return Truth(_LOADS[2:])
