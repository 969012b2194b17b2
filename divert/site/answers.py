"""Which answer of site.toml settles a question: its own, or one given to a whole class."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from divert.core.findings import Finding
from divert.site.model import Answer

_OPEN = ("query", "refused")


def settle(findings: Iterable[Finding], answers: Sequence[Answer]) -> tuple[Finding, ...]:
    """Return the findings, each question that an answer settles carrying the reason given there.

    An answer may name a question by what it is about (its name, or what its row says), by its cell,
    or name a class: a code, a code and a file, a code and a file and sheet. A class is settled for
    days up to the answer's own. What blocks an issue is never settled by a class.
    """
    if not answers:
        return tuple(findings)
    book = {_key(a.about): a for a in answers}
    return tuple(_settled(finding, book) for finding in findings)


def answer_to(finding: Finding, answers: Sequence[Answer]) -> Answer | None:
    """Return the answer that settles a question, None where it is open."""
    return _answer(finding, {_key(a.about): a for a in answers})


def names_met(findings: Iterable[Finding]) -> set[str]:
    """Return all that an answer may name to settle one of the findings, for comparing."""
    return {name for finding in findings for name in (*_own(finding), *_classes(finding))}


def compared(about: str) -> str:
    """Return what an answer is about, for comparing: no case, no $ signs, no stray spaces."""
    return _key(about)


def _settled(finding: Finding, book: dict[str, Answer]) -> Finding:
    if finding.level not in _OPEN or finding.answer is not None:
        return finding
    found = _answer(finding, book)
    if found is None:
        return finding
    return replace(finding, answer=f"{found.reason} ({found.by})".removesuffix(" ()"))


def _answer(finding: Finding, book: dict[str, Answer]) -> Answer | None:
    for name in _own(finding):
        if name in book:
            return book[name]
    for name in () if finding.blocks else _classes(finding):
        answer = book.get(name)
        if answer is None:
            continue
        last = None if finding.days is None else finding.days[1]
        if answer.on is None or last is None or last <= answer.on:
            return answer
    return None


def _own(finding: Finding) -> list[str]:
    names = [_key(finding.about)]
    if finding.where.row is not None:
        names.append(_key(str(finding.where)))
    return names


def _classes(finding: Finding) -> list[str]:
    where, code = finding.where, finding.code
    names = [_key(code)]
    if where.file:
        names.append(_key(f"{code}: {where.file}"))
        if where.sheet:
            names.append(_key(f"{code}: {where.file}!{where.sheet}"))
    return names


def _key(about: str) -> str:
    text = " ".join(about.replace("$", "").split()).casefold()
    return "!".join(part.strip() for part in text.split("!") if part.strip())
