"""Registers cut, flipped, rolled back, lost and forked: nothing may be lost or given away in silence.

After each damage one of two things must be so: every report that was issued is still there with its
figures and the next number is a new one; or issuing is refused with a sentence. And once mended,
every report must be there again, byte for byte.
"""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from register.yard import issue, load, said, site, worked

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.register import Said, as_issued, issued_report, read_register
from divert.register.check import mend_register

MONTHS = ("2025-02", "2025-03", "2025-04", "2025-05")
ROWS = [load("2025-02-03", 10.0), load("2025-03-03", 20.0), load("2025-04-03", 30.0),
        load("2025-05-03", 40.0)]  # fmt: skip
Damage = Callable[[bytes, random.Random], bytes | None]


def _cut(data: bytes, chance: random.Random) -> bytes:
    return data[: chance.randrange(len(data))]


def _flip(data: bytes, chance: random.Random) -> bytes:
    out = bytearray(data)
    out[chance.randrange(len(out))] ^= 1 << chance.randrange(8)
    return bytes(out)


def _flip_in_last_line(data: bytes, chance: random.Random) -> bytes:
    out, start = bytearray(data), data[:-1].rfind(b"\n") + 1
    out[chance.randrange(start, len(out))] ^= 1 << chance.randrange(8)
    return bytes(out)


def _older(data: bytes, chance: random.Random) -> bytes:
    lines = data.splitlines(keepends=True)
    return b"".join(lines[: chance.randrange(len(lines))])


def _line_out(data: bytes, chance: random.Random) -> bytes:
    lines = data.splitlines(keepends=True)
    del lines[chance.randrange(len(lines))]
    return b"".join(lines)


def _swapped(data: bytes, chance: random.Random) -> bytes:
    lines = data.splitlines(keepends=True)
    place = chance.randrange(len(lines) - 1)
    lines[place], lines[place + 1] = lines[place + 1], lines[place]
    return b"".join(lines)


def _zeros(data: bytes, chance: random.Random) -> bytes:
    """What a disk may leave of a page that was never written."""
    start = chance.randrange(len(data))
    return data[:start] + bytes(len(data) - start)


DAMAGES: dict[str, Damage] = {
    "cut anywhere": _cut,
    "one bit anywhere": _flip,
    "one bit in the last line": _flip_in_last_line,
    "an older file": _older,
    "a line taken out": _line_out,
    "two lines swapped": _swapped,
    "its end zeros": _zeros,
    "last line end trimmed": lambda data, _: data[:-1],
    "line ends of another system": lambda data, _: data.replace(b"\n", b"\r\n"),
    "lost": lambda data, _: None,
    "empty": lambda data, _: b"",
}


@dataclass(frozen=True)
class Told:
    """How the tries of one damage went."""

    name: str
    tries: int
    silent: int
    refused: int
    not_mended: int


def made(folder: Path) -> bytes:
    """Issue a report of each month in a folder; return the register."""
    workings = worked(ROWS, site(folder))
    for month in MONTHS:
        issue(workings, said(workings, month))
    return (folder / "register.jsonl").read_bytes()


def damaged(folder: Path, tries: int, seed: int = 1) -> list[Told]:
    """Damage a register so many times in each way; return what became of it."""
    whole = folder / "whole"
    whole.mkdir(parents=True)
    data = made(whole)
    expected = _state(whole)
    chance = random.Random(seed)
    out = []
    for name, damage in DAMAGES.items():
        silent = refused = not_mended = 0
        for _ in range(tries):
            spoilt = damage(data, chance)
            again = folder / "again"
            shutil.copytree(whole, again)
            register = again / "register.jsonl"
            register.unlink()
            if spoilt is not None:
                register.write_bytes(spoilt)
            number = _next(again)
            refused += number is None
            if number is not None:
                silent += number != "2025-0005" or not expected.items() <= _state(again).items()
            mend_register(again)
            held = _state(again)
            not_mended += (
                not expected.items() <= held.items()
                or _next(again, "2025-04-01/2025-05-02") in held
            )
            shutil.rmtree(again)
        out.append(Told(name, tries, silent, refused, not_mended))
    shutil.rmtree(whole)
    return out


def _state(folder: Path) -> dict[str, tuple[bytes, str]]:
    """Return each report's PDF and figures by its number."""
    return {
        entry.number: (issued_report(folder, entry), str(as_issued(folder, entry)))
        for entry in read_register(folder).entries
    }


@lru_cache
def _new(folder: Path, period: str) -> tuple[Workings, Said]:
    workings = worked(ROWS, site(folder))
    return workings, said(workings, period)


def _next(folder: Path, period: str = "2025-02-01/2025-03-31") -> str | None:
    workings, one = _new(folder, period)
    try:
        return issue(workings, one).number
    except CannotRun:
        return None
