"""Which months a label of a sum names, and in which years."""

from __future__ import annotations

import numpy as np
import pytest

from divert.ingest.days.periods import Period, months_of, read_period


@pytest.mark.parametrize(
    ("text", "year", "first", "months"),
    [
        ("Q1 2025", 2025, 0, 3), ("Q2", None, 3, 3), ("2025-Q3", 2025, 6, 3), ("Q4 2024", 2024, 9, 3),
        ("3rd quarter 2025", 2025, 6, 3), ("2e trimestre 2025", 2025, 3, 3),
        ("H1 2025", 2025, 0, 6), ("H2 2025", 2025, 6, 6),
        ("2025", 2025, 0, 12), ("FY 2024", 2024, 0, 12),
        ("January 2025", 2025, 0, 1), ("March 2025", 2025, 2, 1), ("December 2024", 2024, 11, 1),
    ],
)  # fmt: skip
def test_a_label_names_whole_months(text: str, year: int | None, first: int, months: int) -> None:
    assert read_period(text) == Period(year, first, months)


@pytest.mark.parametrize(
    "text",
    ["", "total", "March 3, 2025", "Q5 2025", "H3 2025", "the first quarter of the year 2025"],
)
def test_a_day_or_any_other_text_names_none(text: str) -> None:
    assert read_period(text) is None


def test_the_months_of_a_quarter_are_those_of_its_year() -> None:
    logged = np.array(["2024-11", "2025-02", "NaT"], dtype="datetime64[M]")
    (found,) = months_of(Period(2025, 3, 3), logged)
    assert [str(month) for month in found] == ["2025-04", "2025-05", "2025-06"]


def test_a_quarter_without_a_year_is_that_of_every_year_on_record() -> None:
    logged = np.array(["2025-02", "2024-11", "NaT"], dtype="datetime64[M]")
    found = [[str(month) for month in one] for one in months_of(Period(None, 9, 3), logged)]
    assert found == [["2024-10", "2024-11", "2024-12"], ["2025-10", "2025-11", "2025-12"]]
