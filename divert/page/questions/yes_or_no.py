"""Questions that a setting of site.toml answers with yes, no, or a word from a list."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun, Finding
from divert.core.words import N_, Text
from divert.page.questions.question import Choice, Field, Makes, Question, Signed
from divert.page.questions.settled import settled_by
from divert.site.change import Edit, SetKey
from divert.site.change.edits import Value
from divert.site.model import CLAIMED

if TYPE_CHECKING:
    from divert.convert import Workings


def dumpster_question(workings: Workings, findings: tuple[Finding, ...]) -> Question:
    """Ask whether what was picked out went into the rubbish that is weighed as hauled away."""
    return Question(
        Text(N_("Did what was picked out go into the rubbish that was hauled away?")),
        findings[0].message, findings,
        (Choice("same", Text(N_("Yes, into the same dumpster")), _sets(True)),
         Choice("apart", Text(N_("No, it went another way")), _sets(False))),
    )  # fmt: skip


def _sets(value: bool) -> Makes:
    return lambda said, signed: (SetKey("site", "", "disposed_holds_removed", value),)


def law_question(workings: Workings, findings: tuple[Finding, ...]) -> Question:
    """Ask whether a law kept any material out of the landfill anyhow."""
    names = tuple(
        (m.material.name, m.material.name)
        for m in {m.material.name: m for m in workings.meanings}.values()
        if (m.material.before or m.usual_fate) in CLAIMED
    )
    keys = {m.material.name: m.key for m in workings.meanings}
    listed = {m.name for m in workings.site.materials}

    def asked_for(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        name = said.get("material", "")
        if name not in dict(names):
            raise CannotRun(Text(N_("Choose the material that the law speaks of.")))
        besides: dict[str, Value] = {}
        if name not in listed and keys[name]:
            besides = {"like": keys[name]}
        return (
            SetKey("material", name, "required_by_law", _since(said.get("since", "")), besides),
        )

    def not_asked_for(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        reason = said.get("reason", "").strip() or "no law asks for it"
        return tuple(settled_by(f.about, reason, signed) for f in findings)

    default = Text(N_("no law asks for it")).say(workings.site.language)
    reason = Field("reason", Text(N_("How do you know?")), value=default)
    since = Field(
        "since", Text(N_("Since which day? As 2024-01-01; empty: always")), required=False
    )
    which = Field("material", Text(N_("Which material?")), choices=names)
    return Question(
        Text(N_("Did a law keep it out of the landfill anyhow?")), findings[0].message, findings,
        (Choice("no", Text(N_("No law asks for it")), not_asked_for, (reason,)),
         Choice("yes", Text(N_("A law asks for it")), asked_for, (which, since))),
        advice=Text(N_("Ask your local authority.")),
    )  # fmt: skip


def _since(text: str) -> bool | dt.date:
    if not text.strip():
        return True
    try:
        return dt.date.fromisoformat(text.strip())
    except ValueError:
        raise CannotRun(
            Text(N_("“{text}” is not a day such as 2024-04-01."), {"text": text})
        ) from None
