"""Something to double-click on the desktop, so that the second start needs no terminal."""

from __future__ import annotations

import shlex
import subprocess
import sys
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.safe_files import slug, write_text
from divert.core.words import N_, Text


def make_shortcut(
    folder: Path | None, desktop: Path | None = None, system: str = sys.platform
) -> Path:
    """Write a starter for the page onto the desktop and return its path.

    ``folder``: the yard it opens (none: the start). A .desktop file on Linux, .command on macOS,
    .cmd on Windows. Raises CannotRun where it cannot be written or another file is in the way.
    """
    room = desktop or _desktop()
    words = [
        sys.executable,
        "-P",
        "-m",
        "divert",
        "open",
        *([str(folder.resolve())] if folder else []),
    ]
    name = f"divert-{slug(folder.resolve().name)}" if folder else "divert"
    if system == "win32":
        path = room / f"{name}.cmd"
        text = f"@echo off\r\nchcp 65001 >nul\r\n{_for_cmd(words)}\r\n"
    elif system == "darwin":
        path, text = room / f"{name}.command", f"#!/bin/sh\nexec {shlex.join(words)}\n"
    else:
        path = room / f"{name}.desktop"
        text = (
            "[Desktop Entry]\nType=Application\nVersion=1.0\nName=divert"
            f"{' – ' + _one_line(folder.resolve().name) if folder else ''}\n"
            f"Exec={' '.join(map(_quoted, words))}\nTerminal=true\nCategories=Office;\n"
        )
    if path.exists() and path.read_bytes() != text.encode("utf-8"):
        raise CannotRun(
            Text(N_("{path} is there already and is something else; move it away first."),
                 {"path": str(path)})
        )  # fmt: skip
    write_text(path, text)
    path.chmod(0o755)
    return path


def _desktop() -> Path:
    home = Path.home()
    if sys.platform.startswith("linux"):
        try:
            said = subprocess.run(
                ["xdg-user-dir", "DESKTOP"], capture_output=True, text=True, check=False, timeout=5
            ).stdout.strip()
        except (OSError, subprocess.TimeoutExpired):
            said = ""
        if said and Path(said).is_dir():
            return Path(said)
    return home / "Desktop" if (home / "Desktop").is_dir() else home


def _for_cmd(words: list[str]) -> str:
    """Return a command for a batch file, in which a percent sign begins a variable."""
    return subprocess.list2cmdline(words).replace("%", "%%")


def _quoted(word: str) -> str:
    """Return a word as an Exec line quotes it (Desktop Entry Specification, the Exec key)."""
    escaped = "".join(f"\\{c}" if c in '"`$\\' else c for c in word)
    # The file's own rules for strings come first: each backslash is written twice, % twice.
    return '"' + escaped.replace("\\", "\\\\").replace("%", "%%") + '"'


def _one_line(text: str) -> str:
    return "".join(c for c in text if c.isprintable())
