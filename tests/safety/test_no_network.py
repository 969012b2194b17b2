"""No command ever reaches for the network: each is run with every socket blocked."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from divert.shipped import templates_folder

AS_OF = "2026-11-25"

# Loaded by every Python process that is started, the reader's child and the report workers included.
# An audit hook cannot be taken off again, and hears of sockets whoever makes them. The page writer
# asks urllib for the packaged fonts: those files, and data within the page, are all it may ask for.
BLOCK = """
import os, sys

def _hear(event, arguments):
    if not event.startswith(("socket.", "urllib.", "http.", "ftplib.", "smtplib.")):
        return
    if event == "urllib.Request" and str(arguments[0]).startswith(
        ("data:", os.environ["PACKAGED"])
    ):
        return
    with open(os.environ["NETWORK_LOG"], "a") as log:
        log.write(f"{event} {[str(one)[:120] for one in arguments]} in {sys.argv}\\n")
    raise OSError("no network here: " + event)

sys.addaudithook(_hear)
"""


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("no network")
    (folder / "block").mkdir()
    (folder / "block" / "sitecustomize.py").write_text(BLOCK.lstrip())
    (folder / "log").touch()
    return folder


def _settings(where: str, log: Path) -> dict[str, str]:
    packaged = templates_folder().resolve().as_uri() + "/"
    return {"PYTHONPATH": where, "NETWORK_LOG": str(log), "PACKAGED": packaged}


def _run(place: Path, *command: str) -> subprocess.CompletedProcess[str]:
    where = os.pathsep.join([str(place / "block"), str(Path(__file__).parents[2])])
    done = subprocess.run(
        [sys.executable, *command],
        cwd=place,
        env=os.environ | _settings(where, place / "log"),
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert (place / "log").read_text() == ""
    return done


def test_the_block_blocks(place: Path) -> None:
    code = "import socket; socket.create_connection(('127.0.0.1', 9))"
    where = str(place / "block")
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=os.environ | _settings(where, place / "try"),
        capture_output=True,
        text=True,
        check=False,
    )
    assert "no network here" in done.stderr
    assert "socket." in (place / "try").read_text()


def test_every_command_runs_with_sockets_blocked(place: Path) -> None:
    def divert(*arguments: str) -> str:
        done = _run(place, "-m", "divert", *arguments)
        assert "Traceback" not in done.stderr
        assert done.returncode in (0, 1), (arguments, done.stderr)
        return done.stdout

    day = ("--as-of", AS_OF)
    made = divert("demo", "kestrel", *day).split("\n")
    pdf = next(line for line in made if line.endswith(".pdf"))
    assert "begin" not in divert("begin", "fresh")
    divert("read", "kestrel", "--json", "--ledger", "ledger.csv", *day)
    divert("figures", "kestrel", "--period", "2025", "--json", *day)
    divert("trace", "kestrel", "mass.diverted", "--period", "2025", *day)
    divert("sources")
    divert("recheck", pdf)
    divert("report", "kestrel", "--for", "grant", "--period", "2026-Q2", "--as", "html", *day)


def test_every_command_is_among_those_run() -> None:
    from divert.cli import main_group

    text = Path(__file__).read_text()
    assert set(main_group.commands) == {
        "begin", "read", "figures", "report", "trace", "sources", "recheck", "demo",
    }  # fmt: skip
    for name in main_group.commands:
        assert f'divert("{name}"' in text
