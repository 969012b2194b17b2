"""What is missing, said: one question for a file, with the mass that went with it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from divert.convert.bands import System, quantity
from divert.core.findings import Choice, Finding, Where
from divert.core.words import N_, Text
from divert.inventory.compare import GONE, LESS, RENAMED, UNREADABLE, Loss
from divert.inventory.model import Settled

_SAID = {
    GONE: N_("“{file}” was read on {day} and is not here now. It held {what}."),
    UNREADABLE: N_("“{file}” was read on {day} and cannot be read now. It held {what}."),
    LESS: N_("“{file}” says less than it did on {day}: {what} are missing."),
    RENAMED: N_("“{file}” is called “{now}” now, and is read otherwise: {what} are not as they were."),
}  # fmt: skip
_HINTS = {
    GONE: N_("Put the file back; or answer that it is right so, with the reason."),
    UNREADABLE: N_(
        "Bring back an older copy of it; or answer that it is right so, with the reason."
    ),
    LESS: N_(
        "Bring back an older copy of it; or answer that it is right as it is, with the reason. "
        "divert read FOLDER --changes shows the rows."
    ),
    RENAMED: N_("Give it its old name; or answer that it is right as it is, with the reason."),
}
_MASS_KINDS = ("intake", "removed", "residue", "disposed", "rejected", "moved")


def finding_of(loss: Loss, system: System) -> Finding:
    """Return the question that a loss raises; a note where a file only has another name."""
    if not loss.rows:
        message = Text(
            N_("“{file}” is called “{now}” now; it says what it said."),
            {"file": loss.file, "now": loss.now},
        )
        return Finding("note", RENAMED, message, Where(loss.now))
    values = {
        "file": loss.file, "now": loss.now, "day": loss.read_on, "what": _what(loss, system),
    }  # fmt: skip
    name = _name(loss)
    choice = Choice(Text(N_("It is right as it is")), "answer", {"about": f"{loss.code}: {name}"})
    return Finding(
        "refused", loss.code, Text(_SAID[loss.code], values), Where(loss.now or loss.file),
        Text(_HINTS[loss.code]), rows=sum(loss.rows.values()), name=name, blocks=True,
        mass_kg=sum(loss.kg.values()), choices=(choice,),
        days=None if loss.first is None or loss.last is None else (loss.first, loss.last),
    )  # fmt: skip


def _name(loss: Loss) -> str:
    """Return what an answer names: the file with what is missing, so that more is asked anew."""
    kg = sum(loss.kg.values())
    size = f"{kg:.1f} kg" if kg > 0 else f"{sum(loss.rows.values())} rows"
    days = "" if loss.first is None else f", {loss.first} to {loss.last}"
    return f"{loss.file}, {size}{days}"


def _what(loss: Loss, system: System) -> Text:
    """Return what is missing: "574 lb of intake (8 entries, 2025-03-03 to 2025-04-21)"."""
    parts = [
        Text(
            N_("{mass} of {kind} ({rows} entries)"),
            {"mass": quantity(loss.kg[kind], "kg", system), "kind": Text(kind), "rows": rows},
        )
        if loss.kg[kind] > 0 and kind in _MASS_KINDS
        else Text(N_("{rows} entries of {kind}"), {"kind": Text(kind), "rows": rows})
        for kind, rows in loss.rows.items()
    ]
    listed = parts[0]
    for part in parts[1:]:
        listed = Text(N_("{first}, {second}"), {"first": listed, "second": part})
    if loss.first is None or loss.last is None:
        return listed
    return Text(
        N_("{what}, from {first} to {last}"),
        {"what": listed, "first": loss.first, "last": loss.last},
    )


def with_unreadable(findings: Iterable[Finding], asked: Sequence[Finding]) -> list[Finding]:
    """Return the findings, a file that cannot be read carrying what it held when it could."""
    lost = {f.where.file: f for f in asked if f.code == UNREADABLE}
    return [
        replace(f, mass_kg=held.mass_kg, days=held.days, shown=(held.message,))
        if f.code == UNREADABLE and not f.where.sheet and (held := lost.get(f.where.file))
        else f
        for f in findings
    ]


def settled_of(finding: Finding, loss: Loss) -> Settled:
    """Return a loss as it is remembered once an answer has settled it."""
    return Settled(
        finding.about, loss.code, loss.file, loss.read_on, sum(loss.kg.values()),
        sum(loss.rows.values()), str(loss.first or ""), str(loss.last or ""),
    )  # fmt: skip


def finding_again(settled: Settled, system: System) -> Finding:
    """Return the question that was settled before; it is open again where its answer is gone."""
    import datetime as dt

    days = None
    if settled.first and settled.last:
        days = (dt.date.fromisoformat(settled.first), dt.date.fromisoformat(settled.last))
    message = Text(
        N_("“{file}” said more on {day}: {mass} more, in {rows} entries."),
        {"file": settled.file, "day": settled.read_on, "rows": settled.rows,
         "mass": quantity(settled.mass_kg, "kg", system)},
    )  # fmt: skip
    return Finding(
        "refused", settled.code, message, Where(settled.file), Text(_HINTS[GONE]),
        rows=settled.rows, name=settled.about.partition(": ")[2], blocks=True,
        mass_kg=settled.mass_kg, days=days,
        choices=(Choice(Text(N_("It is right as it is")), "answer", {"about": settled.about}),),
    )  # fmt: skip
