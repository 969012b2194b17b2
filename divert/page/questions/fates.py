"""Where did it go before it came here: the question that decides what may be claimed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun, Finding
from divert.core.words import N_, Text
from divert.page.questions.question import Choice, Field, Makes, Question, Signed
from divert.site.change import Edit, SetKey
from divert.site.change.edits import Value
from divert.site.model import BEFORES, CLAIMED

if TYPE_CHECKING:
    from divert.convert import Workings

_PROOF = Field(
    "proof", Text(N_("How do you know?")), hint=Text(N_("Such as: asked the stable; a letter.")),
    required=False,
)  # fmt: skip


def fate_question(workings: Workings, findings: tuple[Finding, ...]) -> Question | None:
    """Return the question for one material; None where the finding names none."""
    name = findings[0].name
    meaning = next((m for m in workings.meanings if m.material.name == name), None)
    if meaning is None:
        return None
    listed = name in {m.name for m in workings.site.materials}
    besides: dict[str, Value] = {} if listed or not meaning.key else {"like": meaning.key}
    usual = meaning.usual_fate or ""
    likely = list(dict.fromkeys([f for f in (usual, "landfill") if f]))
    choices = [
        Choice(f"was-{fate.replace(' ', '-')}", _said(fate), _writes(name, fate, besides),
               (_PROOF,), usual=fate == usual)
        for fate in likely
    ]  # fmt: skip
    others = tuple((f, Text(f)) for f in BEFORES if f not in likely)
    elsewhere = Field("before", Text(N_("Where to?")), choices=others)
    choices.append(
        Choice("elsewhere", Text(N_("Somewhere else")), _writes(name, "", besides),
               (elsewhere, _PROOF))
    )  # fmt: skip
    return Question(
        Text(N_("Where did the “{name}” go before it came to you?"), {"name": name}),
        findings[0].message, findings, tuple(choices), advice=_advice(usual),
    )  # fmt: skip


def _said(fate: str) -> Text:
    return Text("{fate}", {"fate": Text(fate)})


def _writes(name: str, fate: str, besides: Mapping[str, Value]) -> Makes:
    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        before = fate or said.get("before", "")
        if before not in BEFORES:
            raise CannotRun(Text(N_("Choose where it went.")))
        edits: list[Edit] = [SetKey("material", name, "before", before, besides)]
        if proof := said.get("proof", "").strip():
            signature = f", {signed.by}" if signed.by else ""
            edits.append(SetKey("material", name, "proof", f"{proof}{signature}"))
        return tuple(edits)

    return makes


def _advice(usual: str) -> Text:
    if usual in CLAIMED:
        return Text(N_("Only what would have been thrown away may be claimed: ask who brings it."))
    return Text(N_("It is claimed only if it would have been thrown away: ask who brings it."))
