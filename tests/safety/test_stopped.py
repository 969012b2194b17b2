"""Ctrl-C at any moment is one word and status 2, and waits for nothing; it is never swallowed."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from divert.core.findings import CannotRun
from divert.publish import all_cores

ROOT = Path(__file__).parents[2]
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="POSIX signals and forks")
forks = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="forks on Linux alone")


def ran(code: str, *first: Path, ctrl_c: object = signal.default_int_handler) -> tuple[int, str]:
    """Run a program of Python that hears Ctrl-C, or not; return its status and what it said."""
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(map(str, (*first, ROOT)))},
        preexec_fn=lambda: signal.signal(signal.SIGINT, ctrl_c),  # type: ignore[arg-type]
    )  # fmt: skip
    return done.returncode, done.stderr


@pytest.mark.parametrize(
    ("ctrl_c", "told"), [(signal.default_int_handler, (2, "Stopped.\n")), (signal.SIG_IGN, (5, ""))],
    ids=["heard", "ignored, as in the background of a script"],
)  # fmt: skip
def test_while_libraries_are_imported(
    tmp_path: Path, ctrl_c: object, told: tuple[int, str]
) -> None:
    (tmp_path / "click.py").write_text(
        "import os, signal\nos.kill(os.getpid(), signal.SIGINT)\nraise SystemExit(5)"
    )
    assert ran("from divert.__main__ import run; run()", tmp_path, ctrl_c=ctrl_c) == told


def test_while_a_library_makes_code_of_a_text() -> None:
    """Python then ends itself by the signal, whatever status it was given."""
    code = (
        "import sys\nfrom divert.cli import commands\n"
        "def main():\n"
        "  try: exec('raise KeyboardInterrupt')\n"
        "  except KeyboardInterrupt: sys.exit(2)\n"
        "commands.main = main\nfrom divert.__main__ import run\nrun()"
    )
    assert ran(code) == (2, "")


POOL = """
import os, signal, sys, time
from divert.core.findings import CannotRun
from divert.publish import all_cores
all_cores.cores = lambda: 2
begun = time.monotonic()
try:
    list(all_cores.on_all_cores(slow, range(4)))
except KeyboardInterrupt:
    sys.exit(2 if time.monotonic() - begun < 15 else 3)
"""


@forks
def test_while_a_fork_is_made() -> None:
    """What Python itself runs at a fork swallows what is raised there, and the run went on."""
    code = "def slow(place): time.sleep(0.1)\n" + POOL.replace(
        "begun =",
        "os.register_at_fork(before=lambda: os.kill(os.getpid(), signal.SIGINT))\nbegun =",
    )
    assert ran(code) == (2, "")


@forks
def test_it_waits_for_no_report_that_is_being_made() -> None:
    code = "def slow(place): time.sleep(40)\n" + POOL.replace(
        "begun =",
        "signal.signal(signal.SIGALRM, signal.default_int_handler)\nsignal.alarm(1)\nbegun =",
    )
    assert ran(code) == (2, "")


@forks
def test_a_process_that_the_system_ends_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    """As it does where memory runs short."""
    monkeypatch.setattr(all_cores, "cores", lambda: 2)
    began = time.monotonic()
    with pytest.raises(CannotRun, match="ended a process that made reports"):
        list(all_cores.on_all_cores(_killed, range(4)))
    assert time.monotonic() - began < 30


def _killed(_place: int) -> None:
    os.kill(os.getpid(), signal.SIGKILL)
