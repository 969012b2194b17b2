import re
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from rounds import rounds
from yard import issue, load, said, site, worked

from divert.core.findings import CannotRun
from divert.register import issuing, read_register

HERE = Path(__file__).parent
KILLS = rounds(6, 25)


@pytest.mark.skipif(sys.platform == "win32", reason="kill -9 and fork are POSIX")
def test_a_run_killed_at_any_moment_leaves_register_and_reports_whole(tmp_path):
    run = subprocess.run(
        [sys.executable, str(HERE / "issue_until_killed.py"), str(tmp_path), str(KILLS)],
        capture_output=True, text=True, timeout=120, check=False,
        env={"PYTHONPATH": str(HERE.parents[1]), "PATH": "/usr/bin:/bin"},
    )  # fmt: skip
    assert run.returncode == 0, run.stderr[-2000:]
    steps, issued, killed = re.findall(r"\d+", run.stdout)
    # Six kept files are opened, written and flushed one by one, then a line and a report are.
    assert int(steps) > 20
    assert int(issued) >= 1 and int(killed) == KILLS


def test_two_runs_cannot_issue_at_once(tmp_path):
    workings = worked([load("2025-04-03", 10.0)], site(tmp_path))
    one = said(workings)
    with (
        issuing(tmp_path),
        pytest.raises(CannotRun, match="Another run is issuing"),
        issuing(tmp_path, wait_s=0.1),
    ):
        raise AssertionError
    assert issue(workings, one).number == "2025-0001"


def test_a_second_run_waits_for_the_first(tmp_path):
    workings = worked([load("2025-04-03", 10.0)], site(tmp_path))
    one, other = said(workings), said(workings, audience="sponsor", name="North School")
    held = threading.Event()

    def first() -> None:
        with issuing(tmp_path) as book:
            held.set()
            time.sleep(0.3)
            book.issue(book.number_for(one, workings), one, workings, b"pdf", b"e", b"r")

    runner = threading.Thread(target=first)
    runner.start()
    held.wait()
    assert issue(workings, other).number == "2025-0002"
    runner.join()
    assert len(read_register(tmp_path).entries) == 2


def test_a_folder_that_cannot_be_written_is_one_line(tmp_path):
    workings = worked([load("2025-04-03", 10.0)], site(tmp_path))
    one = said(workings)
    (tmp_path / "issued").write_text("in the way")
    with pytest.raises(CannotRun, match="Nothing was issued"):
        issue(workings, one)
    assert read_register(tmp_path).entries == ()


def test_a_full_disk_leaves_the_register_as_it_was(tmp_path, monkeypatch):
    import divert.register.lines as lines

    workings = worked([load("2025-04-03", 10.0)], site(tmp_path))
    issue(workings, said(workings))
    before = (tmp_path / "register.jsonl").read_bytes()
    write = lines.os.write
    left = [40]

    def full(handle: int, data: bytes) -> int:
        if left[0] <= 0:
            raise OSError(28, "No space left on device")
        part = bytes(data)[: left[0]]
        left[0] -= len(part)
        return write(handle, part)

    monkeypatch.setattr(lines.os, "write", full)
    with pytest.raises(CannotRun, match="No space left"):
        issue(workings, said(workings, "2025-05"))
    monkeypatch.undo()
    assert (tmp_path / "register.jsonl").read_bytes() == before
    assert issue(workings, said(workings, "2025-05")).number == "2025-0002"
