"""Settings that change with time: which version is in force, by hand."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pandas as pd
import pytest

from divert.convert.dated import pick, version_numbers

# Numbered through: tote 0; pail 1 (from the beginning), 2 (from April), 3 (from July); cart 4, 5.
VERSIONS = {
    "tote": [None],
    "pail": [None, dt.date(2025, 4, 1), dt.date(2025, 7, 1)],
    "cart": [dt.date(2025, 2, 1), dt.date(2025, 3, 1)],
}


@pytest.mark.parametrize(
    ("name", "day", "number"),
    [
        ("tote", "2025-05-05", 0),
        ("pail", "2025-03-31", 1),
        ("pail", "2025-04-01", 2),
        ("pail", "2025-06-30", 2),
        ("pail", "2025-07-01", 3),
        ("pail", "2030-01-01", 3),
        ("cart", "2025-01-01", 4),  # before the first day that is known, the first version holds
        ("cart", "2025-02-28", 4),
        ("cart", "2025-03-01", 5),
        ("a thing nobody knows", "2025-05-05", -1),
        (None, "2025-05-05", -1),
    ],
)
def test_a_version_holds_from_its_first_day_until_the_next(
    name: str | None, day: str, number: int
) -> None:
    # Other names stand beside it, in another order than the settings have.
    names = pd.Series(["cart", name, "tote"], dtype="category")
    days = np.array(["2025-02-10", day, "2025-02-10"], dtype="datetime64[ns]")
    assert version_numbers(names, days, VERSIONS).tolist() == [4, number, 0]


def test_a_value_is_that_of_its_version_and_none_where_nobody_stated_it() -> None:
    found = pick([0.1, None, 0.2], np.array([2, 0, 1, -1]))
    assert found[:2].tolist() == [0.2, 0.1] and np.isnan(found[2:]).all()
