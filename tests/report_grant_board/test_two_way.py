"""Tables that add up both ways as printed."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from divert.figures.numbers.two_way import add_up_both_ways, add_up_to


def test_the_largest_remainders_gain_the_missing_units() -> None:
    # 1.4 + 1.4 + 1.2 = 4: each rounds to 1, one unit is missing, the first 1.4 takes it.
    assert add_up_to([1.4, 1.4, 1.2], 4, 1.0) == [2, 1, 1]
    # 0.6 + 0.6 + 0.8 = 2: each rounds to 1, one unit too many, taken where it strays least.
    assert add_up_to([0.6, 0.6, 0.8], 2, 1.0) == [0, 1, 1]


def test_what_is_nothing_stays_nothing() -> None:
    assert add_up_to([0.0, 2.6], 2, 1.0) == [0, 2]


def test_a_small_table_by_hand() -> None:
    # Rows 1.4 + 1.4 = 2.8 -> 3 and 1.4 + 1.4 = 2.8 -> 3; columns 2.8 -> 3 each: one cell of each
    # row and of each column is 2.
    cells = add_up_both_ways([[1.4, 1.4], [1.4, 1.4]], [3, 3], [3, 3], 1.0)
    assert sorted(map(tuple, cells)) == [(1, 2), (2, 1)]


def test_totals_that_differ_are_refused() -> None:
    with pytest.raises(ValueError, match="different totals"):
        add_up_both_ways([[1.0]], [1], [2], 1.0)


@settings(max_examples=150, deadline=None)
@given(
    st.integers(1, 4).flatmap(
        lambda width: st.lists(
            st.lists(st.floats(-50, 500), min_size=width, max_size=width), min_size=1, max_size=12
        )
    )
)
def test_rows_and_columns_always_come_to_their_totals(cells: list[list[float]]) -> None:
    whole = round(sum(map(sum, cells)))
    rows = add_up_to([sum(row) for row in cells], whole, 1.0)
    columns = add_up_to([sum(column) for column in zip(*cells, strict=True)], whole, 1.0)
    rounded = add_up_both_ways(cells, rows, columns, 1.0)
    assert [sum(row) for row in rounded] == rows
    assert [sum(column) for column in zip(*rounded, strict=True)] == columns
    assert all(
        abs(true - got) < 2 for r, g in zip(cells, rounded, strict=True)
        for true, got in zip(r, g, strict=True)
    )  # fmt: skip
