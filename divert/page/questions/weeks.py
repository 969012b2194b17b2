"""Weeks without an entry: closed, or not logged."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.page.questions.question import Choice, Field, Makes, Question, Signed
from divert.site.change import AddTo, Edit, NewEntry

if TYPE_CHECKING:
    from divert.convert import Workings


def weeks_question(workings: Workings, findings: tuple[Finding, ...]) -> Question:
    """Return the question about weeks that were missed: of the yard, and of its regular sources."""
    yard = [f for f in findings if f.name == "all sources"]
    rest = tuple(f for f in findings if f.name != "all sources")
    shown = yard[0] if yard else findings[0]
    mondays = _mondays(shown)
    choices: list[Choice] = []
    if yard and mondays:
        listed = tuple((d.isoformat(), Text("{day}", {"day": d})) for d in mondays)
        choices.append(
            Choice("closed", Text(N_("Closed in all of them")), _closed(mondays), (), True)
        )
        if len(mondays) > 1:
            field = Field("weeks", Text(N_("Closed in the week of")), choices=listed)
            choices.append(Choice("some", Text(N_("Closed in one of them")), _closed(()), (field,)))
    reason = Field(
        "reason", Text(N_("Why?")), value=Text(N_("not logged")).say(workings.site.language)
    )
    choices.append(
        Choice(
            "not-logged", Text(N_("Open, but not logged")), _not_logged(tuple(findings)), (reason,)
        )
    )
    title = (
        Text(N_("Was the yard closed in these weeks?"))
        if yard
        else Text(N_("Were these weeks missed?"))
    )
    advice = None
    if yard and rest:
        advice = Text(N_("Regular sources that missed weeks of their own: {names}."),
                      {"names": ", ".join(f.name for f in rest)})  # fmt: skip
    return Question(title, shown.message, (shown, *(f for f in findings if f is not shown)),
                    tuple(choices), advice=advice)  # fmt: skip


def _mondays(finding: Finding) -> tuple[dt.date, ...]:
    said = str(finding.message.values.get("shown", ""))
    return tuple(dt.date.fromisoformat(d) for d in re.findall(r"\d{4}-\d{2}-\d{2}", said))


def _closed(mondays: tuple[dt.date, ...]) -> Makes:
    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        chosen = mondays or (dt.date.fromisoformat(said.get("weeks", "")),)
        spans = tuple(f"{d}/{d + dt.timedelta(days=6)}" for d in chosen)
        return (AddTo("closed", "", "weeks", spans),)

    return makes


def _not_logged(findings: tuple[Finding, ...]) -> Makes:
    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        reason = said.get("reason", "").strip() or "not logged"
        return tuple(
            NewEntry("answer", {"about": f.about, "reason": reason,
                                **({"by": signed.by} if signed.by else {}), "on": signed.on})
            for f in findings
        )  # fmt: skip

    return makes
