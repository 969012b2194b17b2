"""What is far outside a source's habit, and which year a date without one is of: worked out by hand."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pandas as pd
import pytest

from divert.core.ledger import tidy
from divert.core.reading import InputFile
from divert.ingest.checks.habits import far_outside
from divert.ingest.grid import Grid, Opened
from divert.ingest.read import read_opened

from .corpus.book import site

COUNTS = [5, 5, 5, 15, 15, 15, 10, 10]  # the middle 10, and half of them 5 from it or more


@pytest.mark.parametrize(("last", "asked"), [(54, 0), (55, 1)])
def test_six_robust_deviations_break_a_habit(last: int, asked: int) -> None:
    """The median distance is 5, so a deviation is 5 x 1.4826 = 7.413 and six of them are 44.478."""
    rows = [
        {"kind": "intake", "date": f"2025-03-{n + 1:02}", "source": "Hotel", "material": "scraps",
         "container": "tote", "count": float(count), "file": "log.csv", "sheet": "", "row": n + 2,
         "column": "D", "found": str(count)}
        for n, count in enumerate([*COUNTS, last])
    ]  # fmt: skip
    assert len(far_outside(tidy(pd.DataFrame(rows)))) == asked


@pytest.mark.parametrize(("last", "asked"), [(25, 0), (26, 1)])
def test_two_and_a_half_times_the_usual_is_no_surprise(last: int, asked: int) -> None:
    """Nine loads of ten, always: a deviation is then a tenth of the usual, 1, and 16 is more than six."""
    rows = [
        {"kind": "intake", "date": f"2025-03-{n + 1:02}", "source": "Hotel", "material": "scraps",
         "container": "tote", "count": float(count), "file": "log.csv", "sheet": "", "row": n + 2,
         "column": "D", "found": str(count)}
        for n, count in enumerate([10] * 9 + [last])
    ]  # fmt: skip
    assert len(far_outside(tidy(pd.DataFrame(rows)))) == asked


@pytest.mark.parametrize(
    ("before", "without", "day"),
    [
        # Ten months back is the turn of a year, six and less a row written late.
        ("December 20, 2024", "February 3", dt.date(2025, 2, 3)),
        ("August 20, 2024", "February 3", dt.date(2024, 2, 3)),
        ("September 20, 2024", "February 3", dt.date(2025, 2, 3)),
        ("September 20, 2024", "September 3", dt.date(2024, 9, 3)),
    ],
)
def test_a_day_without_a_year_is_of_the_year_of_the_rows_before_it(
    before: str, without: str, day: dt.date
) -> None:
    rows = [
        ["Date", "Source", "Material", "Weight (lb)"],
        [before, "school", "food scraps", 40],
        [without, "school", "food scraps", 41],
    ]
    opened = Opened(InputFile("f.xlsx", "0", 1), (Grid("f.xlsx", "Log", rows),))
    reading = read_opened([opened], site(Path(), started=dt.date(2023, 1, 1)), dt.date(2025, 6, 1))
    assert reading.entries["date"].dt.date.tolist()[1:] == [day]
