"""What each cell of a "how full" column says, row by row."""

from __future__ import annotations

import math

import numpy as np
import pytest

from divert.ingest.amounts.column import BLANK, CLOSED, DITTO, PROBLEM, UNKNOWN, VALUE
from divert.ingest.amounts.fills import read_fills
from divert.ingest.grid import Cell
from divert.ingest.sheet import Distinct


def told(cell: Cell, heading: str = "How full") -> tuple[int, float]:
    found = read_fills(Distinct(np.array([0]), [cell]), comma=False, heading=heading)
    return int(found.state[0]), float(found.fill[0])


@pytest.mark.parametrize(
    ("cell", "state"),
    [("-", BLANK), ("n/a", BLANK), ("closed", CLOSED), ("?", UNKNOWN), ("ditto", DITTO)],
)  # fmt: skip
def test_a_mark_for_nothing_leaves_it_open_and_any_other_stands(cell: Cell, state: int) -> None:
    """A dash says that nobody looked, not that nothing came: the count beside it is a load."""
    found, fill = told(cell)
    assert found == state
    assert math.isnan(fill)


def test_empty_says_how_full_and_is_no_mark_here() -> None:
    assert told("empty") == (VALUE, 0.0)


@pytest.mark.parametrize(("cell", "fill"), [("3/4", 0.75), (0.5, 0.5), ("50 %", 0.5)])
def test_a_part_is_a_part(cell: Cell, fill: float) -> None:
    assert told(cell) == (VALUE, fill)


@pytest.mark.parametrize(
    ("number", "state", "fill"),
    # Of ten parts: 5 are a half, 1 a tenth, 15 heaped by half as much again; 16 is beyond any heap.
    [(5, VALUE, 0.5), (1, VALUE, 0.1), (15, VALUE, 1.5), (16, PROBLEM, None)],
)
def test_parts_of_ten_are_tenths(number: int, state: int, fill: float | None) -> None:
    found, said = told(float(number), "How full (out of 10)")
    assert found == state
    assert said == fill if fill is not None else math.isnan(said)
