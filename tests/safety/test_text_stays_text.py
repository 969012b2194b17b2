"""Text from a sheet is never a formula in the CSV files we write, and can be had back."""

from __future__ import annotations

import csv
import io
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from divert.core.safe_files import as_text_cell, csv_text, text_of_cell

STARTS = "=+-@\t\r"


@pytest.mark.parametrize(
    "text",
    [
        '=HYPERLINK("http://kestrel.example","x")',
        "+1+cmd|' /C calc'!A0",
        "-2+3",
        "@SUM(A1)",
        "\t=1+1",
        "\r=1+1",
        "\n=1+1",
        " =1+1",
        "＝1+1",
        "'=1+1",
    ],
)
def test_what_a_spreadsheet_would_calculate_is_guarded(text: str) -> None:
    assert as_text_cell(text) == f"'{text}"


@pytest.mark.parametrize("text", ["", "scraps", "5 gal", "a=b", "'tis", "½", "3-4 pails"])
def test_ordinary_text_is_left_alone(text: str) -> None:
    assert as_text_cell(text) == text


@given(st.one_of(st.text(), st.text(alphabet="'= -+@\t\r\nx\u00a0＝", max_size=6)))
def test_the_guard_can_be_undone_exactly(text: str) -> None:
    cell = as_text_cell(text)
    assert not cell.startswith(tuple(STARTS))
    assert text_of_cell(cell) == text


@given(
    st.lists(
        st.tuples(
            st.text().filter(lambda t: "\0" not in t),
            st.floats(allow_nan=True, allow_infinity=False),
            st.integers(),
            st.none(),
        ),
        max_size=5,
    )
)
def test_a_table_reads_back(rows: list[tuple[str, float, int, None]]) -> None:
    text = csv_text(["text", "number", "count", "nothing"], rows)
    back = list(csv.reader(io.StringIO(text, newline="")))
    assert back[0] == ["text", "number", "count", "nothing"]
    assert len(back) == len(rows) + 1
    for row, (words, number, count, _) in zip(back[1:], rows, strict=True):
        assert text_of_cell(row[0]) == words
        assert row[1] == "" if math.isnan(number) else float(row[1]) == number
        assert int(row[2]) == count
        assert row[3] == ""
