"""Cells reach the parent as they left the child, and nothing else can come that way."""

from __future__ import annotations

import datetime as dt
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from divert.ingest.answer import heard
from divert.sandbox import frames

CELLS = st.one_of(
    st.text(),
    st.text(alphabet=',"[]{}:\\ n', min_size=1),
    st.floats(allow_nan=False),
    st.integers(-(2**63), 2**63),
    st.booleans(),
    st.dates(),
    st.datetimes(),
    st.times(),
    st.timedeltas(),
)


@given(st.lists(st.lists(CELLS, max_size=6), max_size=6))
def test_rows_come_back_as_they_were(rows: list[list[object]]) -> None:
    back = frames.rows_in(frames.rows_out(rows))
    assert back == [[None if cell == "" else cell for cell in row] for row in rows]
    assert [[type(cell) for cell in row] for row in back] == [
        [type(None) if cell == "" else type(cell) for cell in row] for row in rows
    ]


@given(st.lists(st.tuples(st.one_of(st.dates(), st.just(""), st.text()), CELLS), max_size=600))
def test_a_column_of_days_comes_back_as_days_beside_any_other(
    rows: list[tuple[object, object]],
) -> None:
    sent = [["Date", "What"], *map(list, rows), [dt.date(2025, 3, 4), 5], [dt.date(2025, 3, 5)]]
    back = frames.rows_in(frames.rows_out(sent))
    assert back == [[None if cell == "" else cell for cell in row] for row in sent]
    assert [type(row[0]) for row in back] == [
        type(row[0]) if row[0] != "" else type(None) for row in sent
    ]


@given(st.lists(st.lists(st.sampled_from(["", "x"]), max_size=4), max_size=1200))
def test_empty_ends_are_left_off_and_empty_middles_kept(rows: list[list[str]]) -> None:
    wanted: list[list[str | None]] = []
    for row in rows:
        filled = max((i + 1 for i, cell in enumerate(row) if cell), default=0)
        wanted.append([cell or None for cell in row[:filled]])
    while wanted and not wanted[-1]:
        wanted.pop()
    got: list[object] = []
    for _, body in frames.row_frames(iter([list(row) for row in rows])):
        got += frames.rows_in(body)
    assert got == wanted


@given(st.binary(max_size=200))
def test_a_stream_of_anything_is_refused_or_read(data: bytes) -> None:
    try:
        got = list(frames.frames(io.BytesIO(data), 1000))
    except (EOFError, ValueError):
        return
    assert got[-1][0] in (b"E", b"X")


@pytest.mark.parametrize(
    "body",
    [
        b"{", b"[1]", b'[[{"d":1}]]', b'[[{"x":"y"}]]', b"null", b"[" * 100_000,
        b'[{"k":[0]},[0]]', b'[{"k":[0]},[99999999999999999999]]', b'[{"k":["a"]},[1]]', b'[{"k":[-1]},[1]]',
        b'[{"k":5},[1]]', b'[{"k":[0]},{"e":1},{"e":1},[1]]',
    ],
)  # fmt: skip
def test_an_answer_that_makes_no_sense_is_one_finding(body: bytes) -> None:
    sheet = (b"S", frames.note(["Log", False, [], []]))
    got = heard("log.xlsx", [sheet, (b"R", body), (b"E", b"")], lambda rows: None)
    assert got.grids == []
    assert [f.code for f in got.findings] == ["file unreadable"]


def test_a_date_is_told_from_a_moment_at_midnight() -> None:
    rows = [[dt.date(2025, 3, 1), dt.datetime(2025, 3, 1)]]
    assert [type(cell) for cell in frames.rows_in(frames.rows_out(rows))[0]] == [
        dt.date,
        dt.datetime,
    ]
