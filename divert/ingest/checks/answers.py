"""Answers in site.toml: they settle a query for good, and leave it listed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from divert.core.findings import Finding
from divert.ingest.lexicon import bare
from divert.site.model import Site


def settled(findings: Iterable[Finding], site: Site) -> tuple[Finding, ...]:
    """Return the findings with each answered query carrying the reason given for it."""
    answers = {_key(a.about): a.reason for a in site.answers}
    if not answers:
        return tuple(findings)
    return tuple(_settle(f, answers) for f in findings)


def _settle(finding: Finding, answers: dict[str, str]) -> Finding:
    if finding.level != "query" or finding.answer is not None:
        return finding
    for about in (finding.about, str(finding.where)):
        reason = answers.get(_key(about))
        if reason is not None:
            return replace(finding, answer=reason)
    return finding


def _key(about: str) -> str:
    """Return what an answer is about, for comparing: no case, no $ signs, no stray spaces."""
    return "!".join(
        part.strip() for part in bare(about).replace("$", "").split("!") if part.strip()
    )
