"""What may be answered to each kind of question, and the lines that each answer writes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from divert.core.findings import CannotRun, Finding
from divert.core.findings import Choice as Offered
from divert.core.words import N_, Text
from divert.page.questions import landfill, names, weeks, yes_or_no
from divert.page.questions.fates import fate_question
from divert.page.questions.question import Choice, Field, Question, Signed
from divert.page.questions.settled import settled_by
from divert.page.questions.sources import sheets_without, source_choices
from divert.site.change import Edit, NewEntry, SetKey
from divert.site.change.edits import Value

if TYPE_CHECKING:
    from divert.convert import Workings

_REASON = Field("reason", Text(N_("Why?")), hint=Text(N_("A few words; they stay in site.toml.")))


def asked_of(workings: Workings, findings: tuple[Finding, ...]) -> Question:
    """Return the question that findings of one kind stand for, its mass not yet weighed."""
    made = _KINDS.get(findings[0].code)
    if made is not None and (question := made(workings, findings)) is not None:
        return question
    return _plain(findings)


def _plain(findings: tuple[Finding, ...]) -> Question:
    first = findings[0]
    if first.choices:
        title = Text(N_("{code}: what is right?"), {"code": Text(first.code)})
        choices = tuple(_offered(n, one) for n, one in enumerate(first.choices))
        return Question(title, first.message, findings, (*choices, correct_it()), advice=first.hint)
    if first.level == "refused":
        title = Text(N_("Not counted: {code}"), {"code": Text(first.code)})
        if first.code == "not explained":
            title = Text(N_("Not counted until it is plain what this says"))
        return Question(title, first.message, findings, (correct_it(), *_left_out(findings)),
                        advice=first.hint)  # fmt: skip
    title = Text(N_("{code}: is this right?"), {"code": Text(first.code)})
    return Question(title, first.message, findings, (as_it_stands(findings), correct_it()),
                    advice=first.hint)  # fmt: skip


def _offered(number: int, offered: Offered) -> Choice:
    """Return a way to settle that the finding itself brings, as lines of site.toml."""

    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        keys: dict[str, Value] = dict(offered.keys)
        if offered.table != "answer":
            known = {k: v for k, v in keys.items() if k in ("file", "sheet")}
            rest = [(k, v) for k, v in keys.items() if k not in known]
            return tuple(SetKey(offered.table, known, key, value) for key, value in rest)
        reason = said.get("reason", "").strip()
        if not reason:
            raise CannotRun(Text(N_("Say in a few words why it is right.")))
        extra: dict[str, Value] = {"reason": reason, **({"by": signed.by} if signed.by else {})}
        return (NewEntry("answer", {**keys, **extra, "on": signed.on}),)

    needs = (_REASON,) if offered.table == "answer" else ()
    return Choice(f"offered-{number}", offered.label, makes, needs)


def as_it_stands(
    findings: tuple[Finding, ...], label: Text | None = None, *, usual: bool = True
) -> Choice:
    """Return the answer that all is right as it stands, with a reason."""

    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        reason = said.get("reason", "").strip()
        if not reason:
            raise CannotRun(Text(N_("Say in a few words why it is right.")))
        return tuple(settled_by(f.about, reason, signed) for f in findings)

    return Choice("right", label or Text(N_("It is right as it stands")), makes, (_REASON,), usual)


def all_alike(code: str, count: int) -> Choice:
    """Return the answer that settles every question of one kind up to today."""

    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        reason = said.get("reason", "").strip()
        if not reason:
            raise CannotRun(Text(N_("Say in a few words why it is right.")))
        return (settled_by(code, reason, signed),)

    label = Text(N_("All {count} of this kind are right"), {"count": count})
    return Choice("all", label, makes, (_REASON,))


def correct_it() -> Choice:
    """Return the answer that writes nothing: the sheet will be corrected, and that is noticed."""
    return Choice("correct", Text(N_("I will correct the sheet")), None)


def _left_out(findings: tuple[Finding, ...]) -> tuple[Choice, ...]:
    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        reason = said.get("reason", "").strip() or "left out"
        return tuple(settled_by(f.about, reason, signed) for f in findings)

    label = Text(N_("Leave it out for good"))
    return (Choice("leave", label, makes, (_REASON,)),)


def _fill(workings: Workings, findings: tuple[Finding, ...]) -> Question:
    name = findings[0].name

    def filled(share: float) -> Callable[[Mapping[str, str], Signed], tuple[Edit, ...]]:
        return lambda said, signed: (SetKey("container", name, "usual_fill", share),)

    shares = ((1.0, N_("Brim-full")), (0.9, N_("Nine tenths")), (0.75, N_("Three quarters")),
              (0.5, N_("Half")))  # fmt: skip
    choices = [Choice(f"fill-{share:g}", Text(label), filled(share)) for share, label in shares]
    return Question(
        Text(N_("How full is a “{name}” usually?"), {"name": name}), findings[0].message, findings,
        (*choices, as_it_stands(findings, Text(N_("Nobody can say")), usual=False)),
        advice=findings[0].hint,
    )  # fmt: skip


def _tare(workings: Workings, findings: tuple[Finding, ...]) -> Question | None:
    name = findings[0].name
    if name not in {c.name for c in workings.site.containers}:
        return _tare_of_new(workings, findings, name) if name else None

    def makes(said: Mapping[str, str], signed: Signed) -> tuple[Edit, ...]:
        return (SetKey("container", name, "tare", said.get("tare", "").strip()),)

    unit = "lb" if workings.site.units == "us" else "kg"
    field = Field("tare", Text(N_("Weight of an empty one, such as {example}"),
                               {"example": f"2 {unit}"}))  # fmt: skip
    return Question(
        Text(N_("What does an empty “{name}” weigh?"), {"name": name}), findings[0].message,
        findings,
        (Choice("tare", Text(N_("It weighs …")), makes, (field,), True),
         as_it_stands(findings, usual=False)),
        advice=findings[0].hint,
    )  # fmt: skip


def _tare_of_new(workings: Workings, findings: tuple[Finding, ...], name: str) -> Question:
    """Return the question for a container that nobody has described: its weight says how much of a
    load it is, so that to call the load right as it stands is not the usual answer."""
    needs = tuple(
        replace(field, required=True) if field.name == "tare" else field
        for field in names.new_fields(workings, "container")
    )
    new = Choice("new", Text(N_("It weighs …")), names.new_entry("container", name), needs, True)
    return Question(
        Text(N_("What does an empty “{name}” weigh?"), {"name": name}), findings[0].message,
        findings, (new, as_it_stands(findings, usual=False), correct_it()),
        advice=findings[0].hint,
    )  # fmt: skip


def _order(workings: Workings, findings: tuple[Finding, ...]) -> Question:
    def ordered(order: str) -> Callable[[Mapping[str, str], Signed], tuple[Edit, ...]]:
        return lambda said, signed: (SetKey("site", "", "dates", order),)

    found = next((f.found for f in findings if f.found), "")
    return Question(
        Text(N_("How are dates such as “{found}” written?"), {"found": found}),
        findings[0].message, findings,
        (Choice("month", Text(N_("The month first")), ordered("month first")),
         Choice("day", Text(N_("The day first")), ordered("day first")), correct_it()),
        advice=findings[0].hint,
    )  # fmt: skip


def _twice(workings: Workings, findings: tuple[Finding, ...]) -> Question:
    return Question(
        Text(N_("Did this load come twice, or was it written twice?")), findings[0].message,
        findings,
        (as_it_stands(findings, Text(N_("It came twice"))), correct_it()),
        advice=Text(N_("If it is one load, delete one of the two lines in the sheet.")),
    )  # fmt: skip


def _source(workings: Workings, findings: tuple[Finding, ...]) -> Question | None:
    first = findings[0]
    named = source_choices(workings, first)
    if not named:
        return None
    sheets = sheets_without(workings, first.where.file or "")
    place = (sheets[0] if len(sheets) == 1 else "") or first.where.file or ""
    return Question(
        Text(N_("Whom did the loads in “{file}” come from?"), {"file": place}),
        first.message, findings,
        (*named, as_it_stands(findings, Text(N_("Nobody can say")), usual=False), correct_it()),
        advice=first.hint,
    )  # fmt: skip


def _unit(workings: Workings, findings: tuple[Finding, ...]) -> Question | None:
    word = str(findings[0].message.values.get("word", ""))
    if not word:
        return None
    plain = _plain(findings)
    new = Choice("new", Text(N_("It is a container")), names.new_entry("container", word),
                 names.new_fields(workings, "container"))  # fmt: skip
    return replace(
        plain, title=Text(N_("What is a “{name}”?"), {"name": word}), choices=(new, *plain.choices)
    )


_KINDS: Mapping[str, Callable[[Workings, tuple[Finding, ...]], Question | None]] = {
    "usual fate not stated": fate_question,
    "unknown material": names.name_question,
    "unknown source": names.name_question,
    "unknown container": names.name_question,
    "fill not recorded": _fill,
    "empty weight not known": _tare,
    "date order ambiguous": _order,
    "source not recorded": _source,
    "unit unknown": _unit,
    "row repeated exactly": _twice,
    "weekly habit broken": weeks.weeks_question,
    "gas capture not stated": landfill.gas_question,
    "disposed may hold what was removed": yes_or_no.dumpster_question,
    "required by law not stated": yes_or_no.law_question,
}
