"""From the findings of a reading to the questions that a person can answer."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from divert.convert.unknown import name_books
from divert.core.findings import Finding
from divert.core.names import NameBook
from divert.page.questions.answers import all_alike, asked_of
from divert.page.questions.mass import hanging
from divert.page.questions.names import named
from divert.page.questions.question import Question

if TYPE_CHECKING:
    from divert.convert import Workings

# A name that no list knows is asked for in one place, with all the others: under Names.
NAMES = ("unknown material", "unknown source", "unknown container")
# What is right of one says nothing of the next: a name, a fate, a setting.
_EACH_BY_ITSELF = (*NAMES, "usual fate not stated", "fill not recorded", "empty weight not known")
_MANY_ALIKE = 3  # others of the same kind, from which on all may be answered at once
_ONE_EACH = 3  # refused lines of one cause in one sheet that are still asked one by one


def questions_of(
    workings: Workings, findings: Sequence[Finding], *, every_name: bool = False
) -> tuple[Question, ...]:
    """Return the open questions, that on which most mass hangs first.

    ``findings``: those of the workings, with those of the figures where they are known already.
    ``every_name``: whether all names that are not known are among them, and not only those that are
    near to a known one; on the page the others stand under Names.
    """
    open_ones = [f for f in findings if f.level != "note" and f.answer is None]
    books = name_books(workings.site, workings.factors)
    open_ones = [f for f in open_ones if f.code not in NAMES or every_name or _near(f, books)]
    alike = Counter(f.code for f in open_ones if not f.blocks)
    out = []
    for group in _groups(open_ones):
        about = hanging(workings, group)
        question = asked_of(workings, tuple(group))
        first = group[0]
        if not first.blocks and first.code not in _EACH_BY_ITSELF:
            others = alike[first.code] - len(group)
            if others >= _MANY_ALIKE:
                choices = (*question.choices, all_alike(first.code, others + len(group)))
                question = replace(question, choices=choices)
        out.append(replace(question, mass_kg=about.kg, rough=about.rough))
    return tuple(sorted(out, key=_order))


def _near(finding: Finding, books: Mapping[str, NameBook]) -> bool:
    name = named(finding)
    return not name or books[finding.code.removeprefix("unknown ")].nearest(name) is not None


def _order(question: Question) -> tuple[bool, float, bool, str]:
    """Sort what no report may be issued over first, then by the mass that hangs on it."""
    blocks = any(f.blocks for f in question.findings)
    return not blocks, -(question.mass_kg or 0.0), question.counted, question.first.code


def _groups(findings: Iterable[Finding]) -> list[list[Finding]]:
    """Part findings into questions: one each, but many refused lines of one cause and sheet as one."""
    grouped: dict[tuple[str | None, ...], list[Finding]] = {}
    out: list[list[Finding]] = []
    for finding in findings:
        if finding.code in NAMES and (name := named(finding)):
            grouped.setdefault((finding.code, name), []).append(finding)
        elif finding.level == "refused" and finding.where.row is not None and not finding.choices:
            place = (finding.code, finding.where.file, finding.where.sheet)
            grouped.setdefault(place, []).append(finding)
        elif finding.code == "weekly habit broken":
            grouped.setdefault((finding.code,), []).append(finding)
        else:
            out.append([finding])
    for group in grouped.values():
        first = group[0]
        one_each = first.level == "refused" and first.code not in NAMES and len(group) <= _ONE_EACH
        out += [[f] for f in group] if one_each else [group]
    return out
