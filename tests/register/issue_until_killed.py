"""Issues reports in children that are killed, at any moment and at every step of a write.

Run by test_killed.py as a program of its own: python issue_until_killed.py FOLDER TIMES. After each
kill the register is read and every file checked; the next child goes on from what was left.
"""

from __future__ import annotations

import io
import os
import random
import signal
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from yard import load, said, site, worked

from divert.core.safe_files import write_whole
from divert.register import Said, as_issued, issued_report, issuing, read_register

PDF = b"%PDF " + b"x" * 300_000
# All that changes something on the disk, or makes it last.
STEPS = ("open", "write", "fsync", "ftruncate", "mkdir", "rename", "replace", "chmod", "unlink")


def issue_once(folder: Path, workings: Any, one: Said, label: str) -> None:
    figures = one.figure_sets["period"]
    period = replace(figures.period, label=label)
    new = Said("board", "", one.as_of, {"period": replace(figures, period=period)})
    with issuing(folder) as book:
        number = book.number_for(new, workings)
        pdf = PDF + number.text.encode() + b"%%EOF"
        book.issue(number, new, workings, pdf, b"evidence", b"record")
    write_whole(folder / "reports" / "board.pdf", pdf)


def die_at(step: int) -> None:
    """Kill this process at its n-th step: a write half done, all others just before they are."""
    left = [step]

    def wrapped(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*given: Any, **more: Any) -> Any:
            left[0] -= 1
            if left[0] == 0:
                if name == "write":
                    real(given[0], bytes(given[1])[: len(given[1]) // 2])
                os.kill(os.getpid(), signal.SIGKILL)
            return real(*given, **more)

        return call

    for name in STEPS:
        setattr(os, name, wrapped(name, getattr(os, name)))
    io.open = wrapped("io.open", io.open)  # what Path.open calls


def check(folder: Path, seen: list[bytes]) -> None:
    register = read_register(folder)
    numbers = [int(e.number[5:]) for e in register.entries]
    assert numbers == list(range(1, len(numbers) + 1)), numbers
    for entry in register.entries[-3:]:
        assert issued_report(folder, entry) == PDF + entry.number.encode() + b"%%EOF"
        assert as_issued(folder, entry)["period"]["period"]["label"] == entry.label
    path = folder / "register.jsonl"
    data = path.read_bytes() if path.exists() else b""
    assert data.startswith(seen[0][: seen[0].rfind(b"\n") + 1]), "an older line was rewritten"
    seen[0] = data
    report = folder / "reports" / "board.pdf"
    if report.exists():
        whole = report.read_bytes()
        assert whole.startswith(PDF) and whole.endswith(b"%%EOF")


def killed(child: int) -> bool:
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status) or os.WEXITSTATUS(status) == 0, status
    return os.WIFSIGNALED(status)


def main(folder: Path, times: int) -> None:
    workings = worked([load("2025-04-03", 10.0)], site(folder))
    one = said(workings)
    seen = [b""]
    step, stopped = 1, True
    while stopped:
        begun = time.monotonic()
        child = os.fork()
        if child == 0:
            die_at(step)
            issue_once(folder, workings, one, f"step {step}")
            os._exit(0)
        stopped = killed(child)
        took_s = time.monotonic() - begun
        check(folder, seen)
        step += stopped
    pick = random.Random(5)
    for turn in range(times):
        child = os.fork()
        if child == 0:
            for n in range(10_000):
                issue_once(folder, workings, one, f"turn {turn}, {n}")
        time.sleep(pick.uniform(0.0, 2.5 * took_s))
        os.kill(child, signal.SIGKILL)
        killed(child)
        check(folder, seen)
    print(step - 1, "steps,", len(read_register(folder).entries), "issued,", times, "killed")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
