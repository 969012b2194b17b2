"""Runs that issue four sponsors' reports, killed at random moments: the next run must always work."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from divert.core.findings import CannotRun
from divert.register import issued_report, issuing, read_register
from divert.register.check import check_register

SPONSORS = ("North School", "Alder Cafe", "Quillmarsh Stable", "Two Oaks Florist")
ROOT = Path(__file__).parents[2]
PERIODS = [f"2025-03-{first:02d}/2025-03-{last:02d}" for last in range(31, 2, -1)
           for first in range(1, last)]  # fmt: skip


@dataclass(frozen=True)
class Told:
    """How the tries went: runs killed, folders stuck, processes left over, registers not whole."""

    tries: int
    killed: int
    stuck: int
    left_over: int
    not_whole: int
    issued: int


def make_yard(folder: Path) -> None:
    """Write a site of four sponsors with a log of one month."""
    folder.mkdir(parents=True)
    toml = ['[site]\nname = "Alder Hollow Yard"\nunits = "us"\nstarted = 2025-01-01\n',
            '[[material]]\nname = "kitchen scraps"\nlike = "food-scraps"\nbefore = "landfill"\n']  # fmt: skip
    rows = ["Date,Source,Material,Weight (lb)"]
    for number, name in enumerate(SPONSORS):
        toml.append(f'[[source]]\nname = "{name} kitchen"\n')
        toml.append(f'[[sponsor]]\nname = "{name}"\nsupplies = ["{name} kitchen"]\n')
        rows += [f"2025-03-{day:02d},{name} kitchen,kitchen scraps,{20 + number + day % 7}"
                 for day in range(1, 32)]  # fmt: skip
    (folder / "site.toml").write_text("\n".join(toml))
    (folder / "log.csv").write_text("\n".join(rows) + "\n")


def run(folder: Path, period: str, *more: str) -> subprocess.Popen[bytes]:
    """Start a run that issues every sponsor's report of a period."""
    return subprocess.Popen(
        [sys.executable, "-m", "divert", "report", str(folder), "--for", "sponsor", "--period",
         period, "--as", "pdf", "--as-of", "2025-07-01", "--issue", *more],
        cwd=ROOT, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
        start_new_session=True,
        env=os.environ | {"PYTHONPATH": str(ROOT), "DIVERT_CACHE": "off"},
    )  # fmt: skip


def killed(folder: Path, tries: int, seed: int = 1, whole_s: float = 0.0) -> Told:
    """Kill so many runs, one after another in one folder; return what became of them.

    ``whole_s``: how long a run issues that nobody kills, 0 to find out.
    """
    make_yard(folder)
    chance = random.Random(seed)
    if not whole_s:
        first = run(folder, PERIODS[0])
        _until_it_holds_the_lock(folder, first)
        began = time.monotonic()
        problem = first.communicate()[1]
        assert first.returncode in (0, 1), problem.decode()
        whole_s = time.monotonic() - began
    ended = stuck = left_over = not_whole = 0
    for place in range(1, tries + 1):
        child = run(folder, PERIODS[place % len(PERIODS)])
        _until_it_holds_the_lock(folder, child)
        try:
            child.communicate(timeout=chance.uniform(0.0, 1.1 * whole_s))
        except subprocess.TimeoutExpired:
            child.send_signal(signal.SIGKILL)
            child.communicate()
            ended += 1
        left_over += _alive_in_session(child.pid)
        try:
            with issuing(folder, wait_s=5.0):
                pass
        except CannotRun:
            stuck += 1
        not_whole += not _whole(folder)
    # The first run may have issued a report of the same days, which this one is to stand beside.
    last = run(folder, "2025-03", "--sponsor", SPONSORS[0], "--adds")
    _, problem = last.communicate(timeout=600)
    stuck += last.returncode not in (0, 1)
    return Told(tries, ended, stuck, left_over, not_whole, len(read_register(folder).entries))


def _until_it_holds_the_lock(folder: Path, child: subprocess.Popen[bytes]) -> None:
    while child.poll() is None:
        try:
            if str(child.pid) in (folder / ".register.lock").read_text():
                return
        except OSError:
            pass
        time.sleep(0.02)


def _whole(folder: Path) -> bool:
    if check_register(folder).wrong:
        return False
    entries = read_register(folder).entries
    orders = [entry.order for entry in entries]
    return orders == list(range(1, len(orders) + 1)) and all(
        issued_report(folder, entry).startswith(b"%PDF-") for entry in entries[-4:]
    )


def _alive_in_session(leader: int, patience_s: float = 3.0) -> bool:
    """Return whether any process of a killed run's session goes on for longer than a moment."""
    until = time.monotonic() + patience_s
    while alive := _of_session(leader):
        if time.monotonic() > until:
            for pid in alive:
                os.kill(pid, signal.SIGKILL)
            return True
        time.sleep(0.05)
    return False


def _of_session(leader: int) -> list[int]:
    found = []
    for entry in Path("/proc").iterdir():
        if entry.name.isdecimal():
            try:
                fields = (entry / "stat").read_text().rpartition(")")[2].split()
            except OSError:
                continue
            if int(fields[3]) == leader and fields[0] != "Z":
                found.append(int(entry.name))
    return found
