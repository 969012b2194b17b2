"""Long work shows how far it is on a terminal, and nothing of that where its output is piped."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from divert.cli.terminal import made_lines

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals there", allow_module_level=True)

SITE = '[site]\nname = "Kestrel Bend"\nunits = "us"\nstarted = 2024-04-01\n'


def run(folder: Path, stderr: int) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "divert", "read", str(folder), "--as-of", "2025-12-31"],
        env=os.environ | {"PYTHONPATH": str(Path(__file__).parents[2])},
        stdout=subprocess.PIPE,
        stderr=stderr,
        check=False,
    )


def test_rows_are_counted_on_a_terminal_and_not_in_a_pipe(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_text(SITE)
    (tmp_path / "log.csv").write_text("Date,Material,lb\n" + "2025-03-03,kitchen scraps,40\n" * 300)
    ours, theirs = os.openpty()
    try:
        on_screen = run(tmp_path, theirs)
        shown = os.read(ours, 10_000).decode()
    finally:
        os.close(ours)
        os.close(theirs)
    assert "rows read" in shown
    assert shown.endswith("\r") and not shown.rstrip("\r").rsplit("\r", 1)[1].strip()  # gone again
    piped = run(tmp_path, subprocess.PIPE)
    assert piped.stderr == b""
    assert piped.stdout == on_screen.stdout


def test_each_of_several_reports_is_told_with_their_total(
    capsys: pytest.CaptureFixture[str],
) -> None:
    french, alone = made_lines("fr"), made_lines("en")
    french(2, 12, "sponsor-alder-street")
    alone(1, 1, "board")  # a single one is told by its path when it is there
    told = capsys.readouterr()
    assert told.err == "Rapport 2 sur 12\u00a0: sponsor-alder-street\n" and told.out == ""
