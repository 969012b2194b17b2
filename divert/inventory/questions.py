"""Every open question, in the order of the mass that hangs on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from divert.convert import Workings
from divert.core.findings import Choice, Finding
from divert.core.words import N_, Text


@dataclass(frozen=True, slots=True)
class Question:
    """One open question: the finding, what settles it, and the class that it belongs to.

    ``about`` goes into ``[[answer]]``; ``choices`` are the ways to settle it, each as lines of
    site.toml; ``alike`` counts the open questions that an answer about ``alike_about`` settles with
    it ("" where each must be looked at by itself).
    """

    finding: Finding
    about: str
    choices: tuple[Choice, ...]
    alike: int
    alike_about: str


def questions(workings: Workings, more: Iterable[Finding] = ()) -> tuple[Question, ...]:
    """Return the open questions of a reading; ``more`` are those of figures (``figures.findings``).

    What blocks an issue comes first, then by mass, then as they were met.
    """
    seen: dict[tuple[str, str], Finding] = {}
    for finding in (*workings.findings, *more):
        if finding.level in ("query", "refused") and finding.answer is None:
            seen.setdefault((finding.about, str(finding.where)), finding)
    open_ones = list(seen.values())
    by_code: dict[str, int] = {}
    for finding in open_ones:
        if not finding.blocks:
            by_code[finding.code] = by_code.get(finding.code, 0) + 1
    ordered = sorted(open_ones, key=lambda f: (not f.blocks, -(f.mass_kg or 0.0)))
    return tuple(_question(f, by_code.get(f.code, 0)) for f in ordered)


def _question(finding: Finding, alike: int) -> Question:
    choices = finding.choices or _usual(finding)
    about = "" if finding.blocks or alike < 2 else finding.code
    return Question(finding, finding.about, choices, max(alike - 1, 0), about)


def _usual(finding: Finding) -> tuple[Choice, ...]:
    keys = {"about": finding.about}
    if finding.level == "refused":
        return (Choice(Text(N_("It is right that it does not count")), "answer", keys),)
    return (Choice(Text(N_("It is right as it is")), "answer", keys),)
