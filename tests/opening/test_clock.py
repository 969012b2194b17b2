"""A busy machine costs no file: the child's processor time counts, not the clock on the wall."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import pytest

from divert.ingest.clock import work_of
from divert.ingest.reader import Reader

ALLOWED_S = 0.3
_ROWS = (
    "import sys, time\n"
    "from divert.sandbox import frames\n"
    "line = sys.stdin.buffer.readline()\n"
    "out = sys.stdout.buffer\n"
    "def say(kind, body):\n"
    "    out.write(frames.packed(kind, body)); out.flush()\n"
)


def child(code: str) -> list[str]:
    return [sys.executable, "-c", _ROWS + code]


def test_what_the_parent_does_between_two_pieces_is_not_counted() -> None:
    """The clock of before ended a read after 3 x the time allowed, whoever had used it up."""
    # Each piece is more than a pipe holds, so that the child waits for the parent.
    code = "for _ in range(4): say(b'R', b'[[' + b'1' * 200_000 + b']]')\nsay(b'E', b'')"
    with Reader(child(code), ALLOWED_S) as reader:
        reader.ask(b"", ".csv")
        kinds = []
        for kind, _ in reader.answer():
            time.sleep(ALLOWED_S)  # the parent works
            kinds.append(kind)
    assert kinds == [b"R"] * 4 + [b"E"]


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="a child's time is not told here")
def test_a_child_that_works_is_not_ended_by_the_wall() -> None:
    """It works longer than the wall allows it to do nothing, and within its processor time."""
    code = (
        "began = time.process_time()\n"
        "while time.process_time() - began < 0.7: pass\n"
        "say(b'R', b'[[1]]')\nsay(b'E', b'')"
    )
    with Reader(child(code), 0.6) as reader:
        reader.ask(b"", ".csv")
        assert [kind for kind, _ in reader.answer()] == [b"R", b"E"]


def test_a_child_that_does_nothing_is_ended() -> None:
    with Reader(child("time.sleep(3600)"), ALLOWED_S) as reader:
        reader.ask(b"", ".csv")
        assert [(k, b) for k, b in reader.answer()] == [(b"X", b'"time"')]


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="a child's time is not told here")
def test_a_child_that_works_for_ever_is_ended_by_what_it_has_used() -> None:
    with Reader(child("while True: pass"), ALLOWED_S) as reader:
        reader.ask(b"", ".csv")
        assert [(k, b) for k, b in reader.answer()] == [(b"X", b'"time"')]


def test_no_child_has_done_no_work() -> None:
    assert work_of(None) is None
