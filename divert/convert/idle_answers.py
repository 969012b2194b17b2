"""Answers in site.toml that settle nothing: a place no finding has, or a name that is not asked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from divert.core.findings import CODES, Finding, Where
from divert.core.words import N_, Text
from divert.site.answers import compared, names_met
from divert.site.model import Answer

# Asked whatever the period, while the sheets are read and turned into masses. Others need figures:
# an answer to one of those may well settle what a single year asks.
_ALWAYS_ASKED = frozenset({
    "unknown material", "unknown source", "unknown container", "row repeated exactly",
    "weight row and volume row of one load", "notes not understood",
    "implausible density", "unit settled by site.toml", "fill not recorded", "empty weight not known",
    "source not recorded", "usual fate not stated", "date order settled by site.toml",
    "money in another currency", "measured density outside the published range",
    "condition without a density", "state not recorded", "required by law not stated",
    "heavier than water allows",
})  # fmt: skip


def idle_answers(answers: Sequence[Answer], findings: Iterable[Finding]) -> list[Finding]:
    """Return a note for each answer that names what no finding is about."""
    if not answers:
        return []
    asked = names_met(findings)
    return [
        Finding(
            "note",
            "note",
            Text(
                N_("The answer in site.toml about “{about}” settles nothing."), {"about": a.about}
            ),
            Where("site.toml"),
            Text(N_("Copy what it is about from divert read, or take the answer out.")),
            a.about,
        )
        for a in answers
        if compared(a.about) not in asked and _is_certain(a.about)
    ]


def _is_certain(about: str) -> bool:
    """Return whether what an answer is about would be known by now, if it were asked at all."""
    code = about.split(": ")[0].strip().casefold()
    return code in _ALWAYS_ASKED or ("!" in about and code not in CODES)
