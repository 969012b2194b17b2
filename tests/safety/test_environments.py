"""Streams closed, small limits, pipes in a file's place, Ctrl-C: a sentence and the right status."""

from __future__ import annotations

import errno
import multiprocessing
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from fault_kills import ROOT, make_yard, run

from divert.cli.commands import main
from divert.publish import all_cores

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="POSIX streams, limits and signals")


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("environments") / "yard"
    make_yard(folder)
    return folder


def divert(line: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a line of a shell in which ``divert`` and ``YARD`` stand for what they say."""
    program = f'set -o pipefail\ndivert() {{ "{sys.executable}" -m divert "$@"; }}\n{line}'
    return subprocess.run(
        ["bash", "-c", program], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False,
        env=os.environ | {"PYTHONPATH": str(ROOT), "YARD": str(folder)},
    )  # fmt: skip


@pytest.mark.parametrize(
    ("line", "status", "says"),
    [
        ("divert read $YARD --as-of 2025-07-01 2>&-", 0, ""),
        ("divert read $YARD --as-of 2025-07-01 >&-", 0, ""),
        ("divert read $YARD --as-of 2025-07-01 <&- >&- 2>&-", 0, ""),
        ("ulimit -f 1; divert read $YARD --as-of 2025-07-01 --ledger $YARD/reports/l.csv", 2,
         "cannot be written"),
        ("mkfifo $YARD/f.pdf; divert recheck $YARD/f.pdf; s=$?; rm $YARD/f.pdf; exit $s", 2,
         "is not a PDF"),
        ("divert recheck /dev/null", 2, "is not a PDF"),
        ("divert read $YARD --as-of 2025-07-01 >/dev/full", 2, "No space left on device"),
        ("divert read $YARD --as-of 2025-07-01 >/dev/full 2>&1", 2, ""),
        ("divert read $YARD/nothing 2>/dev/full", 2, ""),
        ("ulimit -v 60000; divert read $YARD --as-of 2025-07-01", 2, "too little memory"),
        ("divert sources | head -1 >/dev/null", 0, ""),
    ],
    ids=["no stderr", "no stdout", "no streams", "small files", "a pipe to recheck", "a device",
         "a full disk", "two full disks", "no room for errors", "no memory", "a reader that leaves"],
)  # fmt: skip
def test_an_odd_environment_is_a_sentence_at_most(yard, line, status, says):
    told = divert(line, yard)
    assert told.returncode == status, told.stderr
    assert says in told.stderr and "Traceback" not in told.stderr
    assert "did not foresee" not in told.stderr and "Exception" not in told.stderr


@pytest.mark.parametrize(
    ("problem", "says"),
    [
        (MemoryError(), "too little memory"),
        (OSError(errno.ENOMEM, "Cannot allocate memory"), "too little memory"),
        (ImportError("a.so: failed to map segment from shared object"), "too little memory"),
        (OSError(errno.EMFILE, "Too many open files", "a.csv"), "Too many open files (a.csv)"),
        (OSError(errno.EISDIR, "Is a directory", 3), "Is a directory. Run"),
        (RuntimeError("can't start new thread"), "temporarily unavailable"),
        (OSError(errno.EFBIG, "File too large"), "File too large"),
    ],
)
def test_what_the_system_refuses_is_said_of_the_system(
    monkeypatch, capsys, tmp_path, problem, says
):
    def refuse(*_: object, **__: object) -> None:
        raise problem

    monkeypatch.setattr("divert.inventory.open_site.open_site", refuse)
    with pytest.raises(SystemExit) as end:
        main(["read", str(tmp_path)])
    told = capsys.readouterr().err
    assert end.value.code == 2 and says in told and told.count("\n") == 1
    assert "did not foresee" not in told


def test_charts_say_nothing_of_a_home_where_nothing_can_be_written():
    told = subprocess.run(
        [sys.executable, "-c", "import divert.report.charts.canvas"], capture_output=True, text=True,
        timeout=120, check=True,
        env={"PATH": os.environ["PATH"], "PYTHONPATH": str(ROOT), "HOME": "/dev/null"},
    )  # fmt: skip
    assert told.stderr == ""


def test_a_number_of_ten_thousand_digits_in_site_toml_is_a_mistake_like_any_other(tmp_path):
    make_yard(tmp_path / "yard")
    toml = tmp_path / "yard" / "site.toml"
    toml.write_text(toml.read_text().replace('units = "us"\n',
                                             f'units = "us"\nscale_accuracy = 0x{"f" * 9000}\n'))  # fmt: skip
    told = divert("divert read $YARD", tmp_path / "yard")
    assert told.returncode == 2 and "scale_accuracy" in told.stderr
    assert "did not foresee" not in told.stderr and len(told.stderr) < 1000


def test_without_shared_memory_reports_are_made_one_by_one(monkeypatch):
    def none(_self: object) -> object:
        raise FileNotFoundError(2, "No such file or directory")

    context = type(multiprocessing.get_context("fork"))
    monkeypatch.setattr(all_cores, "cores", lambda: 2)
    assert all_cores.can_share(4)
    monkeypatch.setattr(context, "Lock", none)
    assert not all_cores.can_share(4)


@pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="all cores are used on Linux alone"
)
def test_ctrl_c_while_four_reports_are_issued_is_one_word(tmp_path):
    """A terminal sends it to every process of the run."""
    folder = tmp_path / "yard"
    make_yard(folder)
    child = run(folder, "2025-03")
    until = time.monotonic() + 60
    while not (folder / ".register.lock").exists() and time.monotonic() < until:
        time.sleep(0.02)
    time.sleep(1.0)
    os.killpg(child.pid, signal.SIGINT)
    _, said = child.communicate(timeout=60)
    assert (child.returncode, said.decode().strip()) == (2, "Stopped.")
