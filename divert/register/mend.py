"""A register made whole again from all that is left of it, without a byte being deleted.

Whole lines are looked for in the file, in other copies beside it, and in ``issued/``, where each
report keeps its own. Each line holds the fingerprint of the one before, so their order is no guess:
a register that was lost altogether comes back byte for byte. What fits nowhere in that one history
(another machine's) is taken in at the end, as it was written.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from divert.core.safe_files import write_whole
from divert.inventory.issued_folder import FOLDER
from divert.register import kept
from divert.register.entries import understood
from divert.register.forks import KEPT, every_line, forks, unwrapped
from divert.register.lines import FILE, FIRST, Line, data_of, has_checksum, made_line, parsed, split

BEFORE = ".registers"  # in issued/: each register as it was before it was mended


@dataclass(frozen=True, slots=True)
class Mended:
    """What a mended register would hold: its bytes, and the numbers that come back to it."""

    data: bytes
    before: bytes
    back: tuple[str, ...]

    @property
    def changes(self) -> bool:
        """Return whether the register is not so already."""
        return self.data != self.before


def mended(site_folder: Path) -> Mended:
    """Return the register of a site made whole; nothing is written. Raises CannotRun for a link."""
    data = data_of(site_folder / FILE)
    read = split(data)
    own = every_line(read)
    known = {line.sha256: line for line in read.lines.lines}
    everywhere = [*own, *read.later, *(line for fork in forks(site_folder) for line in fork.lines)]
    everywhere += _in_issued(site_folder)
    for line in everywhere:
        known.setdefault(line.sha256, line)
    chain = _chain(known, read.lines.lines, {line.sha256 for line in own})
    there = {unwrapped(line).sha256 for line in chain} | {line.sha256 for line in chain}
    rest = [line for line in known.values() if line.sha256 not in there and _sure(line)]
    for line in sorted(rest, key=lambda one: (str(one.says.get("written", "")), one.sha256)):
        inner = unwrapped(line)
        if inner.sha256 in there or not _of_register(inner):
            continue
        there.add(inner.sha256)
        before = chain[-1].sha256 if chain else FIRST
        chain.append(made_line({"what": KEPT, "line": inner.raw.decode()}, before))
    had = {_number(line) for line in own}
    back = tuple(dict.fromkeys(n for line in chain if (n := _number(line)) and n not in had))
    return Mended(b"".join(line.raw + b"\n" for line in chain), data, back)


def mend(site_folder: Path, to: Mended) -> None:
    """Write a mended register; the one before is kept in ``issued/``. Call it with the lock held."""
    if to.before and not to.data.startswith(to.before):
        name = hashlib.sha256(to.before).hexdigest()[:16]
        write_whole(site_folder / FOLDER / BEFORE / f"{name}.jsonl", to.before)
    write_whole(site_folder / FILE, to.data)


def _in_issued(site_folder: Path) -> list[Line]:
    """Return the lines kept with the reports, where the report beside them is theirs."""
    found = []
    for number, raw in kept.kept_lines(site_folder):
        line = parsed(raw)
        if line is not None and has_checksum(raw) and str(line.says.get("number")) == number:
            found.append(line)
    return found


def _chain(known: Mapping[str, Line], start: Iterable[Line], own: set[str]) -> list[Line]:
    """Return the lines that follow one another from the first; of two that do, the file's own."""
    after: dict[str, list[Line]] = {}
    for line in known.values():
        after.setdefault(line.before, []).append(line)
    chain = list(start)
    tip = chain[-1].sha256 if chain else FIRST
    while following := [line for line in after.get(tip, ()) if _of_register(line)]:
        following.sort(
            key=lambda one: (one.sha256 not in own, str(one.says.get("written", "")), one.sha256)
        )
        chain.append(following[0])
        tip = following[0].sha256
    return chain


def _sure(line: Line) -> bool:
    return has_checksum(line.raw)


def _of_register(line: Line) -> bool:
    if line.says.get("what") == KEPT:
        return unwrapped(line) is not line
    try:
        entry, withdrawal = understood(line)
    except (AttributeError, LookupError, TypeError, ValueError):
        return False
    return entry is not None or withdrawal is not None


def _number(line: Line) -> str | None:
    inner = unwrapped(line)
    return str(inner.says["number"]) if inner.says.get("what") == "issued" else None
