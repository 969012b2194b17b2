"""The child that reads is held: to a time, to a memory, and away from files and sockets."""

from __future__ import annotations

import json
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from hostile import refusal, site, workbook
from processor import at_most

from divert.ingest import opening
from divert.ingest.opening import open_folder
from divert.ingest.reader import Reader
from divert.sandbox import frames
from divert.sandbox.frames import Frame

CSV = b"Date,lb\n2025-03-01,4\n"


def _python(code: str) -> list[str]:
    return [
        sys.executable,
        "-c",
        f"import sys, time, os\nfrom divert.sandbox import child, frames\n{code}",
    ]


def _answer(command: list[str] | None, seconds: float | None = 0.2) -> Frame:
    with Reader(command, seconds) as reader:
        reader.ask(CSV, ".csv")
        return list(reader.answer())[-1]


def _reason(frame: Frame) -> str:
    assert frame[0] == b"X"
    return str(json.loads(frame[1]))


def test_a_child_that_does_nothing_is_ended_in_time() -> None:
    with at_most(5):
        assert _reason(_answer(_python("time.sleep(600)"))) == "time"


def test_a_child_that_never_ends_is_ended_in_time() -> None:
    with at_most(5):
        assert _reason(_answer(_python("while True: pass"))) == "time"


def test_a_child_that_answers_for_ever_is_ended_in_time() -> None:
    with at_most(10):
        code = "while True: os.write(1, frames.packed(b'R', b'[[1]]'))"
        assert _reason(_answer(_python(code))) == "time"


@pytest.mark.skipif(sys.platform == "win32", reason="no limit of processor time there")
def test_the_child_is_ended_by_its_own_limit_even_if_nobody_waits() -> None:
    code = "child._hold({'seconds': 0, 'memory': 10**9})\nwhile True: pass"
    with at_most(10):
        assert subprocess.run(_python(code), timeout=20, check=False).returncode < 0


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="no limit of memory there")
def test_the_child_cannot_take_more_memory_than_it_is_given() -> None:
    code = "child._hold({'seconds': 5, 'memory': 500_000_000})\nlen(b'x' * 600_000_000)"
    assert subprocess.run(_python(code), stderr=subprocess.DEVNULL, check=False).returncode != 0


@pytest.mark.skipif(sys.platform == "win32", reason="no limit of open files there")
@pytest.mark.parametrize(
    "deed",
    [
        "open('/etc/hosts')",
        "open('made.txt', 'w')",
        "__import__('socket').socket()",
        "__import__('subprocess').run(['true'])",
    ],
)
def test_the_child_can_open_nothing(tmp_path: Path, deed: str) -> None:
    code = f"import socket, subprocess\nchild._shut_in()\ntry:\n  {deed}\nexcept OSError:\n  os._exit(7)"
    assert subprocess.run(_python(code), cwd=tmp_path, check=False).returncode == 7
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "code",
    [
        "sys.exit(0)",
        "os.abort()",
        "os.kill(os.getpid(), 11)",
        "os.write(1, b'S' + b'\\xff' * 8)",
        "os.write(1, b'nonsense')",
        "os.write(1, frames.packed(b'S', b'[]')[:5])",
    ],
)
def test_a_child_that_dies_or_talks_nonsense_is_one_finding(code: str) -> None:
    assert _reason(_answer(_python(code), None)) in ("crash", "memory")


def test_after_a_death_the_next_file_is_read_by_a_fresh_child(tmp_path: Path) -> None:
    reads_one_then_dies = _python(
        f"mark = {str(tmp_path / 'died')!r}\n"
        "if not os.path.exists(mark):\n"
        "    open(mark, 'w'); os.abort()\n"
        "child.serve(sys.stdin.buffer, sys.stdout.buffer)"
    )
    with Reader(reads_one_then_dies) as reader:
        reader.ask(CSV, ".csv")
        assert _reason(list(reader.answer())[-1]) in ("crash", "memory")
        reader.ask(CSV, ".csv")
        answer = list(reader.answer())
    assert answer[-1] == (b"E", b"")
    assert frames.rows_in(answer[1][1]) == [["Date", "lb"], ["2025-03-01", "4"]]


def test_a_run_away_file_costs_one_finding_and_not_the_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("a.csv", "b.csv", "c.csv"):
        (tmp_path / name).write_bytes(b"runaway" if name == "b.csv" else CSV)
    hangs_on_b = _python(
        "read = child.read\n"
        "def slow(data, suffix):\n"
        "    while data == b'runaway': pass\n"
        "    return read(data, suffix)\n"
        "child.read = slow\n"
        "child.serve(sys.stdin.buffer, sys.stdout.buffer)"
    )
    monkeypatch.setattr(opening, "Reader", lambda: Reader(hangs_on_b, 0.5))
    with at_most(8):
        a, b, c = open_folder(site(tmp_path))
    assert [grid.rows for one in (a, c) for grid in one.grids] == [
        [["Date", "lb"], ["2025-03-01", "4"]]
    ] * 2
    assert "too long" in refusal(b)


def test_one_child_reads_many_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[object] = []
    start = Reader._start
    monkeypatch.setattr(Reader, "_start", lambda self: started.append(1) or start(self))
    for n in range(20):
        (tmp_path / f"{n}.csv").write_text(f"Date,lb\n2025-03-01,{n}\n")
    (tmp_path / "x.xlsx").write_bytes(workbook())
    (tmp_path / "y.xlsx").write_bytes(b"PK\x03\x04")  # refused, but not by dying
    assert len(list(open_folder(site(tmp_path)))) == 22
    assert len(started) <= 2


def test_leaving_off_in_the_middle_leaves_no_process(tmp_path: Path) -> None:
    for n in range(5):
        (tmp_path / f"{n}.csv").write_text("x,y\n" * 50_000 + str(n))
    run = open_folder(site(tmp_path))
    next(run)
    children = Path(f"/proc/self/task/{threading.get_native_id()}/children")
    if children.exists():
        before = children.read_text().split()
        run.close()  # type: ignore[attr-defined]
        assert len(children.read_text().split()) < len(before) or before == []
