"""What is left on the desktop starts just the command that it should, whatever the folder is called."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from divert.core.findings import CannotRun
from divert.page.shortcut import make_shortcut

ODD = 'Jo\'s "yard" $HOME 100% é\\`x`' if os.name != "nt" else "Jo's yard 100% é"


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    folder = tmp_path / ODD
    folder.mkdir()
    return folder


def words(folder: Path) -> list[str]:
    return [sys.executable, "-P", "-m", "divert", "open", str(folder.resolve())]


def exec_words(line: str) -> list[str]:
    """Read an Exec line as a desktop does (freedesktop.org, Desktop Entry Specification 1.5: first the
    escapes of a string value, then quoted arguments in which a backslash escapes, then %% for %)."""
    value = re.sub(r"\\(.)", lambda m: {"s": " ", "n": "\n", "t": "\t"}.get(m[1], m[1]), line)
    quoted = re.findall(r'"((?:[^"\\]|\\.)*)"', value)
    return [re.sub(r"\\(.)", r"\1", one).replace("%%", "%") for one in quoted]


def test_linux(tmp_path: Path, yard: Path) -> None:
    text = make_shortcut(yard, tmp_path, "linux").read_text(encoding="utf-8")
    lines = dict(line.split("=", 1) for line in text.splitlines() if "=" in line)
    assert exec_words(lines["Exec"]) == words(yard)
    assert (lines["Type"], lines["Terminal"]) == ("Application", "true")
    assert text.startswith("[Desktop Entry]\n")


def test_mac(tmp_path: Path, yard: Path) -> None:
    made = make_shortcut(yard, tmp_path, "darwin")
    assert made.suffix == ".command" and os.access(made, os.X_OK)
    shell = made.read_text(encoding="utf-8").replace("exec ", "printf '%s\\n' ", 1)
    if os.name != "nt":  # what a shell makes of its one line
        said = subprocess.run(
            ["sh", "-c", shell], capture_output=True, text=True, check=True
        ).stdout
        assert said.splitlines() == words(yard)


def test_windows(tmp_path: Path, yard: Path) -> None:
    made = make_shortcut(yard, tmp_path, "win32")
    lines = made.read_bytes().decode("utf-8").split("\r\n")
    assert made.suffix == ".cmd" and lines[:2] == ["@echo off", "chcp 65001 >nul"]
    # In a batch file %% stands for one percent sign; quotes hold a name with blanks together.
    assert lines[2].replace("%%", "%") == subprocess.list2cmdline(words(yard))


def test_what_is_there_is_not_written_over(tmp_path: Path, yard: Path) -> None:
    made = make_shortcut(yard, tmp_path, "linux")
    assert make_shortcut(yard, tmp_path, "linux") == made  # the same again is fine
    made.write_text("mine", encoding="utf-8")
    with pytest.raises(CannotRun):
        make_shortcut(yard, tmp_path, "linux")
    assert made.read_text(encoding="utf-8") == "mine"


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="a .desktop file is started")
def test_its_line_serves_the_page(tmp_path: Path) -> None:
    (tmp_path / "yard").mkdir()
    text = make_shortcut(tmp_path / "yard", tmp_path, "linux").read_text(encoding="utf-8")
    command = exec_words(next(li for li in text.splitlines() if li.startswith("Exec=")))
    env = os.environ | {"BROWSER": "true", "DIVERT_YARDS": "off",
                        "PYTHONPATH": os.pathsep.join(p for p in sys.path if p)}  # fmt: skip
    started = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=env)
    try:
        assert started.stdout is not None
        assert started.stdout.readline().startswith("http://127.0.0.1:")
    finally:
        started.terminate()
        started.wait(30)
