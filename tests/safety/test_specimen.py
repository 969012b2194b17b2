"""A library that reads the specimen wrongly in any way is not let near anybody's file."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from divert.sandbox import child
from divert.sandbox.frames import Frame
from divert.sandbox.specimen import reads_well

Rows = list[list[Any]]


def test_the_library_in_use_reads_it_well() -> None:
    assert reads_well(child.read)


@pytest.mark.parametrize(
    "misread",
    [
        lambda rows: [row for row in rows if row],  # a blank row lost: every place is told wrongly
        lambda rows: [[None, *row] for row in rows],
        lambda rows: [row[:1] for row in rows],
        lambda rows: rows[:1],
        lambda rows: [[41 if cell == 41.5 else cell for cell in row] for row in rows],
        lambda rows: [[str(cell) for cell in row] for row in rows],
        lambda rows: [*rows, ["lb"]],
        lambda rows: [],
    ],
    ids=["no blank rows", "shifted", "one column", "one row", "whole numbers", "all text", "a row more",
         "nothing"],
)  # fmt: skip
def test_cells_read_wrongly(misread: Callable[[Rows], Rows]) -> None:
    def read(data: bytes, suffix: str) -> Iterator[Frame]:
        for kind, body in child.read(data, suffix):
            yield kind, json.dumps(misread(json.loads(body))).encode() if kind == b"R" else body

    assert not reads_well(read)


def test_another_sheet_or_a_fault_of_any_kind() -> None:
    def renamed(data: bytes, suffix: str) -> Iterator[Frame]:
        for kind, body in child.read(data, suffix):
            yield kind, body.replace(b"Log", b"Lag") if kind == b"S" else body

    def fails(data: bytes, suffix: str) -> Iterator[Frame]:
        raise BaseException("a panic of another language")
        yield

    assert not reads_well(renamed) and not reads_well(fails)
