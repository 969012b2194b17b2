"""How much of its gas the landfill captures: a number to be asked for, or that nobody can say."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun, Finding
from divert.core.words import N_, Text
from divert.page.questions.question import Choice, Field, Question, Signed
from divert.site.change import Edit, NewEntry, SetKey

if TYPE_CHECKING:
    from divert.convert import Workings


def gas_question(workings: Workings, findings: tuple[Finding, ...]) -> Question:
    """Return the question about the landfill's gas."""
    share = Field(
        "share", Text(N_("Share of its gas that is captured, in percent")),
        hint=Text(N_("As the landfill says it: 65")),
    )  # fmt: skip

    def captured(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        try:
            number = float(said.get("share", "").replace(",", ".").strip().removesuffix("%"))
        except ValueError:
            raise CannotRun(Text(N_("Write a number of percent, such as 65."))) from None
        return (SetKey("landfill", "", "gas_captured", round(number / 100, 4)),)

    def unknown(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        return (
            NewEntry("answer", {
                "about": findings[0].about,
                "reason": said.get("reason", "").strip() or "the landfill could not say",
                **({"by": signed.by} if signed.by else {}), "on": signed.on,
            }),
        )  # fmt: skip

    reason = Field("reason", Text(N_("Why?")),
                   value=Text(N_("the landfill could not say")).say(workings.site.language))  # fmt: skip
    return Question(
        Text(N_("How much of its gas does the landfill capture?")), findings[0].message, findings,
        (Choice("captured", Text(N_("It captures …")), captured, (share,), True),
         Choice("unknown", Text(N_("The landfill could not say")), unknown, (reason,))),
        advice=findings[0].hint,
    )  # fmt: skip
