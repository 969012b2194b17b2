"""A change of site.toml worked out and not yet written: what it was made from, what it makes."""

from __future__ import annotations

import difflib
import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.site.change.apply import edited
from divert.site.change.edits import Edit
from divert.site.change.versions import text_of
from divert.site.document import FILE_NAME
from divert.site.read import read_site


@dataclass(frozen=True, slots=True)
class Hunk:
    """Lines that change in one place: under which heading, those that go and those that come."""

    heading: str
    gone: tuple[str, ...]
    come: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Change:
    """A text of site.toml that may replace another one; ``was`` is the text it was worked out on."""

    was: str
    now: str

    @property
    def stamp(self) -> str:
        """Return what names the text that this change was worked out on."""
        return stamp(self.was)

    @property
    def hunks(self) -> tuple[Hunk, ...]:
        """Return the lines that this change takes out and writes, place by place."""
        old, new = self.was.splitlines(), self.now.splitlines()
        out = []
        for tag, a, b, c, d in difflib.SequenceMatcher(
            None, old, new, autojunk=False
        ).get_opcodes():
            if tag != "equal":
                gone, come = _without_ends(old[a:b]), _without_ends(new[c:d])
                if gone or come:
                    headed = bool(come) and come[0].lstrip().startswith("[")
                    out.append(Hunk("" if headed else _heading(new, c), gone, come))
        return tuple(out)


def stamp(text: str) -> str:
    """Return a short name of a text's exact content."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:16]


def plan(folder: Path, edits: Iterable[Edit]) -> Change:
    """Return what edits would make of a site's site.toml as it stands now, without writing it.

    Raises CannotRun where site.toml cannot be read, or where what they make would be a mistake.
    """
    was = text_of(folder / FILE_NAME)
    return _checked(folder, was, edited(was, edits))


def restore(folder: Path, version: str) -> Change:
    """Return the change that brings an earlier version back. Raises CannotRun where it is gone."""
    from divert.site.change.versions import version_text

    return _checked(folder, text_of(folder / FILE_NAME), version_text(folder, version))


def _checked(folder: Path, was: str, now: str) -> Change:
    try:
        read_site(folder, now)
    except CannotRun as mistake:
        raise CannotRun(
            Text(N_("Nothing was written, for site.toml would then hold a mistake. {mistake}"),
                 {"mistake": mistake.message})
        ) from mistake  # fmt: skip
    return Change(was, now)


def _heading(lines: list[str], place: int) -> str:
    """Return the table heading over a line, with the entry's name where it has one."""
    for number in range(min(place, len(lines) - 1), -1, -1):
        if lines[number].lstrip().startswith("[") and not lines[number].lstrip().startswith("[ "):
            named = next(
                (x for x in lines[number + 1 : number + 3] if x.lstrip().startswith("name")), ""
            )
            heading = lines[number].split("#")[0].strip()
            return f"{heading}\n{named.split('#')[0].strip()}".strip() if named else heading
    return ""


def _without_ends(lines: list[str]) -> tuple[str, ...]:
    """Return lines without blank ones at the ends."""
    first, last = 0, len(lines)
    while first < last and not lines[first].strip():
        first += 1
    while last > first and not lines[last - 1].strip():
        last -= 1
    return tuple(lines[first:last])
