"""Issues reports in children that are killed at any moment; checks the register after each.

Run by test_killed.py as a program of its own: python issue_until_killed.py FOLDER TIMES
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from dataclasses import replace
from pathlib import Path

from yard import load, said, site, worked

from divert.register import Said, as_issued, issued_report, issuing, read_register
from divert.safe_files import write_whole

PDF = b"%PDF " + b"x" * 300_000


def issue_on_and_on(folder: Path, workings: object, one: Said, turn: int) -> None:
    figures = one.figure_sets["period"]
    for n in range(10_000):
        period = replace(figures.period, label=f"turn {turn}, {n}")
        new = Said("board", "", one.as_of, {"period": replace(figures, period=period)})
        with issuing(folder) as book:
            number = book.number_for(new, workings)
            pdf = PDF + number.text.encode() + b"%%EOF"
            book.issue(number, new, workings, pdf, b"evidence", b"record")
        write_whole(folder / "reports" / "board.pdf", pdf)


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


def main(folder: Path, times: int) -> None:
    workings = worked([load("2025-04-03", 10.0)], site(folder))
    one = said(workings)
    pick = random.Random(5)
    seen = [b""]
    for turn in range(times):
        child = os.fork()
        if child == 0:
            issue_on_and_on(folder, workings, one, turn)
        time.sleep(pick.uniform(0.0, 0.12))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        check(folder, seen)
    print(len(read_register(folder).entries), "issued,", times, "killed")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
