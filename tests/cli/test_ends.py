"""How the program begins and ends: few threads, its status, and nothing that was to be done left undone."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def ran(main: str, **env: str) -> tuple[int, str]:
    """Run the program with a body of its own for its commands; return its status and what it said."""
    code = (
        f"import atexit, os, sys\nfrom divert.cli import commands\ndef main():\n  {main}\n"
        "commands.main = main\nfrom divert.__main__ import run\nrun()"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False,
        env=os.environ | {"PYTHONPATH": str(ROOT)} | env,
    )  # fmt: skip
    return done.returncode, done.stdout


@pytest.mark.parametrize("status", [0, 1, 2])
def test_what_a_library_left_to_the_end_is_done_and_all_is_said(status: int) -> None:
    main = f"atexit.register(print, 'tidied'); print('read'); sys.exit({status})"
    assert ran(main) == (status, "read\ntidied\n")


def test_a_fault_of_our_own_is_shown_where_somebody_asks_for_it() -> None:
    assert ran("raise ValueError") == (1, "")


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="threads are counted in /proc")
def test_a_library_of_numbers_starts_no_thread_for_each_core(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    main = "import numpy; print(len(os.listdir('/proc/self/task'))); sys.exit(0)"
    assert ran(main) == (0, "1\n")


def test_whoever_wants_threads_has_them() -> None:
    main = "print(os.environ['OPENBLAS_NUM_THREADS']); sys.exit(0)"
    assert ran(main, OPENBLAS_NUM_THREADS="2") == (0, "2\n")
