"""No command ever reaches for the network: each is run with every socket blocked."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from divert.core.shipped import templates_folder

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


# One process runs them all, so that what they share is imported once. A report of each kind is made;
# the demo's own six would tell no more of sockets than the one it is left with.
RUN = """
import contextlib, json, sys
from divert.publish import demonstration
from divert.cli.commands import main

demonstration.REPORTS = tuple(r for r in demonstration.REPORTS if r[0] == "board")
for arguments in json.load(open(sys.argv[1])):
    try:
        main(arguments)
        status = 0
    except SystemExit as end:
        status = end.code or 0
    print("status", status, *arguments, file=sys.stderr)
"""
DAY = ("--as-of", AS_OF)
# The demo's site is the large one; the rest is asked of a yard of three loads, which tells as much.
SITE = """[site]
name = "Alder Hollow Yard"
units = "us"
started = 2026-01-01
[[material]]
name = "kitchen scraps"
[[material]]
name = "cut flowers"
[[source]]
name = "Tern Street Florist"
[[source]]
name = "Quillmarsh School"
[[sponsor]]
name = "Quillmarsh School"
supplies = ["Quillmarsh School"]
[[grant]]
name = "Soil and Streams Fund"
"""
LOADS = """Date,Source,Material,Weight (lb)
2026-03-02,Tern Street Florist,cut flowers,12
2026-04-07,Tern Street Florist,cut flowers,15
2026-05-04,Quillmarsh School,kitchen scraps,40
"""
PDF = "small/reports/2026-Q2/sponsor-quillmarsh-school.pdf"
COMMANDS = (
    ("demo", "kestrel", *DAY),
    ("begin", "fresh"),
    ("read", "small", "--json", "--ledger", "ledger.csv", *DAY),
    ("figures", "small", "--period", "2026", "--json", *DAY),
    ("trace", "small", "mass.diverted", "--period", "2026", *DAY),
    ("sources",),
    ("sent", "small", *DAY),
    ("check", "small"),
    ("answer", "small", *DAY),
    ("together", "small", "--period", "2026", "--json", *DAY),
    ("report", "small", "--for", "grant", "--period", "2026", "--as", "html", "--issue", *DAY),
    ("report", "small", "--for", "sponsor", "--sponsor", "Quillmarsh School", "--period", "2026-Q2",
     "--as", "pdf", *DAY),
    ("recheck", PDF, "--site", "small"),
)  # fmt: skip


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("no network")
    (folder / "block").mkdir()
    (folder / "block" / "sitecustomize.py").write_text(BLOCK.lstrip())
    (folder / "log").touch()
    (folder / "small").mkdir()
    (folder / "small" / "site.toml").write_text(SITE)
    (folder / "small" / "log.csv").write_text(LOADS)
    return folder


def _run(place: Path, log: Path, *command: str) -> subprocess.CompletedProcess[str]:
    packaged = templates_folder().resolve().as_uri() + "/"
    where = os.pathsep.join([str(place / "block"), str(Path(__file__).parents[2])])
    hears = {"PYTHONPATH": where, "NETWORK_LOG": str(log), "PACKAGED": packaged}
    return subprocess.run(
        [sys.executable, *command],
        cwd=place,
        env=os.environ | hears,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )


def test_the_block_blocks(place: Path) -> None:
    code = "import socket; socket.create_connection(('127.0.0.1', 9))"
    done = _run(place, place / "try", "-c", code)
    assert "no network here" in done.stderr
    assert "socket." in (place / "try").read_text()


def test_every_command_runs_with_sockets_blocked(place: Path) -> None:
    (place / "commands.json").write_text(json.dumps(COMMANDS))
    done = _run(place, place / "log", "-c", RUN, "commands.json")
    assert (place / "log").read_text() == ""
    assert "Traceback" not in done.stderr
    ended = [line.split()[:3] for line in done.stderr.splitlines() if line.startswith("status ")]
    assert [command for _, _, command in ended] == [command[0] for command in COMMANDS]
    # Nobody is there to answer: `answer` stops at its first question.
    by_command = {command: status for _, status, command in ended}
    assert by_command.pop("answer") == "2"
    assert set(by_command.values()) <= {"0", "1"}, done.stderr
    made = {
        path.name for yard in ("kestrel", "small") for path in place.glob(f"{yard}/reports/*/*")
    }
    assert {"board.pdf", "board.xlsx", "grant.html", "sponsor-quillmarsh-school.pdf"} <= made


def test_every_command_is_among_those_run() -> None:
    from divert.cli.commands import main_group

    # The page is a server, on the loopback address alone: tests/page asks what it fetches.
    assert set(main_group.commands) - {"open"} == {command[0] for command in COMMANDS}
