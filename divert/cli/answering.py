"""`divert answer`: the open questions one by one in the terminal, and the lines that answers write."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun, Finding
from divert.core.words import N_, Text
from divert.page.questions import Choice, Field, Question, Signed, questions_of
from divert.site.change import Change, plan, write

if TYPE_CHECKING:
    from pathlib import Path

    from divert.convert import Workings


@dataclass(frozen=True, slots=True)
class Terminal:
    """How a person is spoken to: ``ask`` returns what they typed, ``say`` prints a line."""

    ask: Callable[[Text], str]
    say: Callable[[Text], None]


class _LeftAlone(Exception):  # noqa: N818 - the person wants to stop
    pass


def answer_all(workings: Workings, today: dt.date, by: str, terminal: Terminal) -> int:
    """Walk through the open questions; return how many were answered.

    An answer is written once its lines were shown and agreed to. Raises CannotRun where site.toml
    cannot be written; what was answered before stays written.
    """
    findings = _every_finding(workings, today)
    questions = questions_of(workings, findings, every_name=True)
    if not questions:
        terminal.say(Text(N_("No question is open.")))
        return 0
    done = 0
    try:
        for number, question in enumerate(questions, start=1):
            terminal.say(Text(""))
            terminal.say(
                Text(N_("Question {number} of {all}: {title}"),
                     {"number": number, "all": len(questions), "title": question.title})
            )  # fmt: skip
            done += _one(workings, question, Signed(by, today), terminal)
    except _LeftAlone:
        pass
    terminal.say(Text(""))
    terminal.say(Text(N_("Questions answered: {count}. The others stay open."), {"count": done}))
    return done


def _every_finding(workings: Workings, today: dt.date) -> tuple[Finding, ...]:
    from divert.core.period import read_period
    from divert.figures.compute import figures_for

    if not len(workings.ledger):
        return workings.findings
    site = workings.site
    period = read_period("all", as_of=today, started=site.started, year_starts=site.year_starts)
    return figures_for(workings, period, today).findings


def _one(workings: Workings, question: Question, signed: Signed, terminal: Terminal) -> bool:
    for line in _told(question):
        terminal.say(line)
    while True:
        typed = terminal.ask(Text(N_("Answer (a number, Enter for later, q to stop)"))).strip()
        if typed.lower() in ("q", "quit"):
            raise _LeftAlone
        if not typed:
            return False
        if typed.isdecimal() and 1 <= int(typed) <= len(question.choices):
            choice = question.choices[int(typed) - 1]
            return choice.makes is not None and _take(workings, choice, signed, terminal)


def _told(question: Question) -> Iterator[Text]:
    yield Text("  {why}", {"why": question.why})
    for line in question.first.shown:
        yield Text("    {line}", {"line": line})
    if str(question.first.where):
        rows = question.rows
        message = N_("  {where}; lines: {rows}") if rows > 1 else "  {where}"
        yield Text(message, {"where": str(question.first.where), "rows": rows})
    if question.advice is not None:
        yield Text("  {advice}", {"advice": question.advice})
    for number, choice in enumerate(question.choices, start=1):
        yield Text("  {number}  {label}", {"number": number, "label": choice.label})


def _take(workings: Workings, choice: Choice, signed: Signed, terminal: Terminal) -> bool:
    """Ask what an answer must know, show its lines, and write them where they are agreed to."""
    assert choice.makes is not None
    said = {field.name: _asked(field, terminal) for field in choice.needs}
    try:
        planned = plan(workings.site.folder, choice.makes(said, signed))
    except CannotRun as mistake:
        terminal.say(mistake.message)
        return False
    return write_agreed(workings.site.folder, planned, terminal)


def write_agreed(folder: Path, planned: Change, terminal: Terminal) -> bool:
    """Show the lines of a change, and write it where they are agreed to. Raises CannotRun."""
    for line in _lines(planned):
        terminal.say(line)
    if not _yes(terminal.ask(Text(N_("Write these lines into site.toml? (y/n)")))):
        return False
    write(folder, planned)
    return True


def _yes(typed: str) -> bool:
    return typed.strip().lower() in ("y", "yes", "o", "oui")


def _asked(field: Field, terminal: Terminal) -> str:
    for number, (_, label) in enumerate(field.choices, start=1):
        terminal.say(Text("    {number}  {label}", {"number": number, "label": label}))
    typed = terminal.ask(field.label).strip()
    if field.choices and typed.isdecimal() and 1 <= int(typed) <= len(field.choices):
        return field.choices[int(typed) - 1][0]
    return typed or field.value


def _lines(planned: Change) -> Iterator[Text]:
    for hunk in planned.hunks:
        for line in hunk.heading.splitlines():
            yield Text("      {line}", {"line": line})
        for line in hunk.gone:
            yield Text("    - {line}", {"line": line})
        for line in hunk.come:
            yield Text("    + {line}", {"line": line})
