"""A name that nobody has told the tool about: the same as a known one, new, or left out."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING

from divert.convert.unknown import name_books
from divert.core.findings import CannotRun, Finding
from divert.core.names import plain
from divert.core.words import N_, Text
from divert.page.questions.question import Choice, Field, Makes, Question, Signed
from divert.page.questions.settled import settled_by
from divert.site.change import AddTo, Edit, NewEntry
from divert.site.change.edits import Value
from divert.site.model import BEFORES

if TYPE_CHECKING:
    from divert.convert import Workings

KINDS = ("material", "source", "container")
_WHAT = {
    "material": N_("What is “{name}”?"),
    "source": N_("Who is “{name}”?"),
    "container": N_("What is a “{name}”?"),
}
_UNITS = {"us": "gal", "metric": "L"}


def name_question(workings: Workings, findings: tuple[Finding, ...]) -> Question | None:
    """Return the question for one unknown name, the nearest known one first."""
    kind = findings[0].code.removeprefix("unknown ")
    name = named(findings[0])
    if kind not in KINDS or not name:
        return None
    near = name_books(workings.site, workings.factors)[kind].nearest(name)
    title = Text(_WHAT[kind], {"name": name})
    choices: list[Choice] = []
    if near:
        title = Text(N_("Is “{name}” the same as “{near}”?"), {"name": name, "near": near})
        label = Text(N_("Yes, {near}"), {"near": near})
        choices.append(Choice("same", label, _same(workings, kind, name, near), usual=True))
    others = tuple((n, n) for n in known_names(workings, kind) if n != near)
    if others:
        field = Field("known", Text(N_("Which one?")), choices=others)
        label = Text(N_("Another one"))
        choices.append(Choice("other", label, _same(workings, kind, name, ""), (field,)))
    choices.append(
        Choice("new", Text(N_("Something new")), new_entry(kind, name), new_fields(workings, kind))
    )
    choices.append(Choice("correct", Text(N_("I will correct the sheet")), None))
    if all(f.level == "refused" for f in findings):
        choices.append(
            Choice("leave", Text(N_("Leave it out for good")), left_out_names(workings, findings))
        )
    return Question(title, findings[0].message, findings, tuple(choices), advice=findings[0].hint)


def left_out_names(workings: Workings, findings: Iterable[Finding]) -> Makes:
    """Return what leaves the lines of a name out for good."""

    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        reason = Text(N_("left out")).say(workings.site.language)
        abouts = dict.fromkeys(f.about for f in findings)
        return tuple(settled_by(about, reason, signed) for about in abouts)

    return makes


def named(finding: Finding) -> str:
    """Return the name that a finding is about; one of a refused line says it in its sentence."""
    return finding.name or str(finding.message.values.get("name", ""))


def known_names(workings: Workings, kind: str) -> list[str]:
    """Return the known names of a kind: the site's own first, then the built-in list's."""
    site = workings.site
    if kind == "source":
        return sorted({s.name for s in site.sources}, key=plain)
    if kind == "container":
        return sorted({c.name for c in site.containers}, key=plain)
    own = sorted({m.name for m in site.materials}, key=plain)
    built_in = sorted({m.name for m in workings.factors.materials.values()} - set(own), key=plain)
    return own + built_in


def same_as(
    workings: Workings, kind: str, name: str, known: str, new: Collection[str] = ()
) -> tuple[Edit, ...]:
    """Return the edits by which a name becomes another spelling of a known one.

    ``new``: names of the kind that become known with it. Raises CannotRun for one that is neither.
    """
    if known in new:
        return (AddTo(kind, known, "also", (name,)),)
    site = workings.site
    own = {
        "material": {m.name for m in site.materials},
        "source": {s.name for s in site.sources},
        "container": {c.name for c in site.containers},
    }[kind]
    besides: dict[str, Value] = {}
    if kind == "material" and known not in own:
        entry = next((m for m in workings.factors.materials.values() if m.name == known), None)
        if entry is None:
            raise CannotRun(
                Text(N_("“{name}” cannot be the same as “{known}”: nobody has said what that is."),
                     {"name": name, "known": known})
            )  # fmt: skip
        besides = {"like": entry.key}
    elif known not in own:
        raise CannotRun(
            Text(N_("“{name}” cannot be the same as “{known}”: nobody has said what that is."),
                 {"name": name, "known": known})
        )  # fmt: skip
    return (AddTo(kind, known, "also", (name,), besides),)


def _same(workings: Workings, kind: str, name: str, known: str) -> Makes:
    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        return same_as(workings, kind, name, known or said.get("known", ""))

    return makes


def new_fields(workings: Workings, kind: str) -> tuple[Field, ...]:
    """Return what must be known of something new: of a container, a material, a source."""
    site = workings.site
    if kind == "container":
        volume = f"5 {_UNITS[site.units]}"
        weight = "2 lb" if site.units == "us" else "1 kg"
        return (
            Field("volume", Text(N_("Volume, brim-full, such as {example}"), {"example": volume})),
            Field("tare", Text(N_("Weight of an empty one, such as {example}"),
                               {"example": weight}), required=False),
            Field("usual_fill", Text(N_("How full it usually is: 1 is brim-full, 0.75 three quarters")),
                  required=False),
        )  # fmt: skip
    befores = tuple((b, Text(b)) for b in BEFORES)
    if kind == "material":
        alike = sorted(((m.key, m.name) for m in workings.factors.materials.values()),
                       key=lambda pair: plain(pair[1]))  # fmt: skip
        return (
            Field("like", Text(N_("What is it like?")), choices=tuple(alike)),
            Field("before", Text(N_("Where did it go before?")), choices=befores, required=False),
        )
    sponsors = tuple((n, n) for n in dict.fromkeys(s.name for s in site.sponsors))
    return (
        Field("sponsor", Text(N_("Which sponsor's is it?")), choices=sponsors, required=False),
        Field("before", Text(N_("Where did its material go before?")), choices=befores,
              required=False),
    )  # fmt: skip


def new_entry(kind: str, name: str) -> Makes:
    """Return what makes the entry of something new."""

    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        values: dict[str, Value] = {"name": name}
        for key in ("volume", "tare", "like", "before"):
            if text := said.get(key, "").strip():
                values[key] = text
        if text := said.get("usual_fill", "").strip():
            values["usual_fill"] = _share(text)
        edits: list[Edit] = [NewEntry(kind, values)]
        if sponsor := said.get("sponsor", "").strip():
            edits.append(AddTo("sponsor", sponsor, "supplies", (name,)))
        return tuple(edits)

    return makes


def _share(text: str) -> float:
    try:
        number = float(text.replace(",", ".").removesuffix("%"))
    except ValueError:
        raise CannotRun(Text(N_("“{text}” is not a number such as 0.9."), {"text": text})) from None
    return number / 100 if text.endswith("%") else number
