"""A register lost, replaced, forked or linked away: named, refused, mended, nothing given away twice."""

from __future__ import annotations

import json
import os
import platform
import shutil
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest
from yard import issue, load, said, site, worked

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.evidence.attachments import attach
from divert.register import issued_report, issuing, read_register, withdraw
from divert.register.check import check_register, mend_register
from divert.register.machine import machine, suffix

ROWS = [load("2025-04-03", 10.0), load("2025-05-03", 20.0), load("2025-06-03", 30.0)]


@pytest.fixture
def workings(tmp_path: Path) -> Workings:
    return worked(ROWS, site(tmp_path))


@pytest.fixture
def another_machine(
    monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory
) -> str:
    """Be another machine from here on, and give its suffix."""
    monkeypatch.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("another")))
    return suffix(machine(Path("/nowhere")))


def numbers(folder: Path) -> list[str]:
    return [entry.number for entry in read_register(folder).entries]


def test_a_lost_register_stops_the_next_issue_and_comes_back_byte_for_byte(workings, tmp_path):
    for month in ("2025-04", "2025-05"):
        issue(workings, said(workings, month))
    withdraw(tmp_path, "2025-0001", said(workings).as_of, "wrong month")
    path = tmp_path / "register.jsonl"
    before = path.read_bytes()
    path.unlink()
    with pytest.raises(CannotRun, match=r"lacks reports .*2025-0001, 2025-0002\. Nothing was"):
        issue(workings, said(workings, "2025-06"))
    found = check_register(tmp_path)
    assert found.mendable and any("2025-0002" in str(text) for text in found.wrong)
    assert mend_register(tmp_path).back == ("2025-0001", "2025-0002")
    assert path.read_bytes() == before
    assert check_register(tmp_path).wrong == ()
    assert issue(workings, said(workings, "2025-06")).number == "2025-0003"


def test_a_report_that_bears_a_number_the_register_lacks_stops_the_next_issue(workings, tmp_path):
    """Register and issued/ are both an older backup's, and the report lies in reports/."""
    blank = tmp_path / "blank.pdf"
    with pikepdf.new() as document:
        document.add_blank_page()
        document.save(blank)
    report = tmp_path / "reports" / "2025-Q2" / "board.pdf"
    report.parent.mkdir(parents=True)
    report.write_bytes(attach(blank.read_bytes(), b"evidence", b"{}", "2025-0001"))
    with pytest.raises(CannotRun, match=r"the number 2025-0001, which reports/2025-Q2/board\.pdf"):
        issue(workings, said(workings))
    assert "reports/2025-Q2/board.pdf" in str(check_register(tmp_path).wrong[0])
    report.unlink()
    assert issue(workings, said(workings)).number == "2025-0001"


def test_two_machines_never_give_away_the_same_number(
    workings, tmp_path, tmp_path_factory, another_machine
):
    with pytest.MonkeyPatch.context() as first:
        first.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("first")))
        issue(workings, said(workings, "2025-04"))
    assert issue(workings, said(workings, "2025-05")).number == f"2025-0002-{another_machine}"
    assert numbers(tmp_path) == ["2025-0001", f"2025-0002-{another_machine}"]


def test_a_fork_that_a_sync_service_left_is_read_and_taken_in(
    workings, tmp_path, tmp_path_factory, another_machine
):
    """Both issued after the first report while they were apart; the other file was put beside."""
    with pytest.MonkeyPatch.context() as first:
        first.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("first")))
        issue(workings, said(workings, "2025-04"))
        other = tmp_path_factory.mktemp("other") / "site"
        shutil.copytree(tmp_path, other)
        issue(workings, said(workings, "2025-05"))
    elsewhere = worked(ROWS, site(other))
    theirs = issue(elsewhere, said(elsewhere, "2025-06"))
    fork = tmp_path / "register (conflicted copy 2025-07-05).jsonl"
    shutil.copy(other / "register.jsonl", fork)
    shutil.copytree(other / "issued" / theirs.number, tmp_path / "issued" / theirs.number)
    here = ["2025-0001", "2025-0002", f"2025-0002-{another_machine}"]
    assert sorted(numbers(tmp_path)) == here
    assert issued_report(tmp_path, theirs) == b"report " + theirs.number.encode()
    assert "lines that register.jsonl lacks: 1" in str(check_register(tmp_path).wrong[0])
    assert issue(workings, said(workings, "2025-06-01/2025-06-20")).number[:9] == "2025-0003"
    before = fork.read_bytes()
    assert mend_register(tmp_path).back == (theirs.number,)
    assert check_register(tmp_path).wrong == ()
    assert fork.read_bytes() == before
    fork.unlink()
    assert sorted(numbers(tmp_path))[:3] == here


def test_two_first_reports_of_two_machines_under_one_number_are_both_kept(
    workings, tmp_path, tmp_path_factory, another_machine
):
    """Neither knew of the other, so both began with 2025-0001; the folders were then put together."""
    other = tmp_path_factory.mktemp("other") / "site"
    other.mkdir()
    elsewhere = worked(ROWS, site(other))
    theirs = issue(elsewhere, said(elsewhere, "2025-06"))
    with pytest.MonkeyPatch.context() as first:
        first.setenv("DIVERT_HOME", str(tmp_path_factory.mktemp("first")))
        ours = issue(workings, said(workings, "2025-04"))
    assert ours.number == theirs.number == "2025-0001"
    shutil.copy(other / "register.jsonl", tmp_path / "register-LAPTOP.jsonl")
    for path in (other / "issued" / "2025-0001").iterdir():
        name, _, ending = path.name.partition(".")
        shutil.copy(path, tmp_path / "issued" / "2025-0001" / f"{name} (LAPTOP).{ending}")
    assert numbers(tmp_path) == ["2025-0001", "2025-0001"]
    assert issued_report(tmp_path, ours) == b"report 2025-0001"
    assert {e.start.month for e in read_register(tmp_path).entries} == {4, 6}
    mend_register(tmp_path)
    found = check_register(tmp_path)
    assert found.wrong == () and "Two machines issued" in str(found.notes[0])
    with pytest.raises(CannotRun, match="Two machines issued"):
        withdraw(tmp_path, "2025-0001", said(workings).as_of)


@pytest.mark.parametrize("what", ["register.jsonl", "issued", "reports"])
def test_what_leads_out_of_the_folder_is_refused_and_left_alone(workings, tmp_path_factory, what):
    outside = tmp_path_factory.mktemp("outside") / what
    if what.endswith(".jsonl"):
        outside.write_text("somebody's own notes")
    else:
        outside.mkdir()
    (workings.site.folder / what).symlink_to(outside)
    with pytest.raises(CannotRun, match="leads out of the site's folder"):
        issue(workings, said(workings))
    assert "leads out" in str(check_register(workings.site.folder).wrong[0])
    if outside.is_file():
        assert outside.read_text() == "somebody's own notes"
    else:
        assert list(outside.iterdir()) == []


@pytest.mark.skipif(sys.platform == "win32", reason="there are no such pipes")
@pytest.mark.parametrize("put", [os.mkfifo, os.mkdir], ids=["a pipe", "a folder"])
def test_what_is_no_file_in_the_registers_place_is_refused_at_once(workings, put):
    put(workings.site.folder / "register.jsonl")
    with pytest.raises(CannotRun, match="a link, a folder or a device"):
        issue(workings, said(workings))
    with pytest.raises(CannotRun, match="a link, a folder or a device"):
        check_register(workings.site.folder)


def test_what_a_killed_run_left_is_cleared_away(workings, tmp_path):
    """Killed before its line was written: nobody was given the report."""
    issue(workings, said(workings, "2025-04"))
    left = tmp_path / "issued" / ".unfinished-2025-0002"
    left.mkdir()
    (left / "report.pdf").write_bytes(b"half of")
    assert "was left by a run" in str(check_register(tmp_path).notes[0])
    assert issue(workings, said(workings, "2025-05")).number == "2025-0002"
    assert issued_report(tmp_path, read_register(tmp_path).get("2025-0002")) == b"report 2025-0002"
    assert not left.exists()


def test_a_run_killed_after_its_line_was_written_has_issued(workings, tmp_path):
    entry = issue(workings, said(workings, "2025-04"))
    named = tmp_path / "issued" / "2025-0001"
    named.rename(tmp_path / "issued" / ".unfinished-2025-0001")
    assert issued_report(tmp_path, entry) == b"report 2025-0001"
    assert issue(workings, said(workings, "2025-05")).number == "2025-0002"
    assert named.is_dir()


def test_a_busy_folder_says_by_whom_and_a_killed_run_holds_nothing(tmp_path):
    code = (
        "import sys, time\nfrom pathlib import Path\nfrom divert.register.lock import locked\n"
        "with locked(Path(sys.argv[1])):\n print('held', flush=True)\n time.sleep(60)"
    )
    lock = tmp_path / ".register.lock"
    with subprocess.Popen([sys.executable, "-c", code, str(lock)], stdout=subprocess.PIPE) as run:
        try:
            assert run.stdout is not None and run.stdout.readline() == b"held\n"
            with (
                pytest.raises(CannotRun, match=f"process {run.pid} on {platform.node()}"),
                issuing(tmp_path, wait_s=0.1),
            ):
                raise AssertionError
        finally:
            run.kill()
    assert json.loads(lock.read_text())["process"] == run.pid  # it stands there still
    with issuing(tmp_path, wait_s=5.0):
        # Read through another process: to close the file here would let go of the lock.
        who = subprocess.run(["cat", str(lock)], capture_output=True, check=True).stdout
        assert json.loads(who)["process"] == os.getpid()
