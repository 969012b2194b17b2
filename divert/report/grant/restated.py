"""What was reported before and has moved since, with the reasons that make up each move."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.history import REASONS, History, ReasonForMove, Restatement
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Group, Row, Table
from divert.report.charts.chart import as_name
from divert.report.wording.dates import span
from divert.report.wording.method_box import Note

_FIGURES = {
    "mass.received": N_("Received"),
    "mass.diverted": N_("Diverted"),
    "mass.not_claimed": N_("Not claimed"),
    "mass.removed": N_("Removed"),
    "mass.residue": N_("Residue"),
    "emissions.landfill_avoided": N_("Landfill methane avoided"),
    "emissions.process": N_("Gases of composting"),
    "emissions.fuel": N_("Fuel burned"),
    "emissions.net_avoided": N_("Net greenhouse gases avoided"),
}
REASON_WORDS = {
    "rows added": N_("rows added"),
    "rows changed": N_("rows changed"),
    "rows removed": N_("rows removed"),
    "sheets read otherwise": N_("sheets read otherwise"),
    "settings changed": N_("settings changed"),
    "the site's own densities moved": N_("the site's own densities moved"),
    "factors changed": N_("factors changed"),
    "the calculation changed": N_("the calculation changed"),
}


def restated_table(history: History, mass: Scale, printer: Printer) -> Table | None:
    """Return one row for each figure that moved: as reported, each reason's part, now.

    None where nothing moved. Masses stand in the statement's own unit.
    """
    moved = [
        m for m in history.restatements
        if m.figure.removesuffix(".central") in _FIGURES and m.was != m.now
    ]  # fmt: skip
    if not moved:
        return None
    reasons = [
        r for r in REASONS if any(p.reason == r and p.amount for m in moved for p in m.parts)
    ]
    statements = list(dict.fromkeys((m.number, m.label, m.issued) for m in moved))
    groups = tuple(
        Group(
            printer.plain(
                Text(N_("Statement {number} of {day}, {label}"),
                     {"number": number, "day": issued, "label": _days(label, printer)})
            ),
            tuple(
                _row(m, reasons, mass, printer) for m in moved
                if (m.number, m.label) == (number, label)
            ),
        )
        for number, label, issued in statements
    )  # fmt: skip
    heads = [
        Text(N_("As reported then")),
        *(Text(REASON_WORDS[r]) for r in reasons),
        Text(N_("Now")),
    ]
    return Table(
        caption=printer.say(Text(N_("Restated: reported before, and moved since"))),
        stub="",
        heads=tuple(as_name(printer.plain(head)) for head in heads),
        groups=groups,
    )


def entries_moved(history: History, printer: Printer) -> Note | None:
    """Return how many entries each reason of a restatement holds; None where none holds any."""
    counts = {
        part.reason: part.rows
        for m in history.restatements for part in m.parts if part.rows
    }  # fmt: skip
    listed = [
        printer.say(Text(N_("{reason}: {count}"),
                         {"reason": Text(REASON_WORDS[r]), "count": counts[r]}))
        for r in REASONS if r in counts
    ]  # fmt: skip
    if not listed:
        return None
    return Note(
        printer.plain(Text(N_("Entries behind the move."))),
        Markup("{}.").format(as_name(str(printer.names(listed)))),
    )


def _days(label: str, printer: Printer) -> str:
    """Return a period's label in words where it is a span of days ("2024-07-01/2025-03-31")."""
    ends = label.split("/")
    if len(ends) != 2:
        return label
    first, last = (dt.date.fromisoformat(end) for end in ends)
    return span(first, last, printer.language, printer.country)


def _row(
    moved: Restatement, reasons: Sequence[ReasonForMove], mass: Scale, printer: Printer
) -> Row:
    scale = _scale(moved, mass, printer)
    quantum = scale.quantum_of(moved.was, moved.range_then)
    by_reason = {part.reason: part.amount for part in moved.parts}
    parts = [
        printer.written(by_reason[reason], scale, quantum, signed=True)
        if reason in by_reason else "–"
        for reason in reasons
    ]  # fmt: skip
    name = Text(N_("{figure}, {unit}"),
                {"figure": Text(_FIGURES[moved.figure.removesuffix(".central")]),
                 "unit": printer.unit(scale.unit)})  # fmt: skip
    return Row(
        printer.say(name),
        (
            printer.written(moved.was, scale, quantum),
            *parts,
            printer.written(moved.now, scale, quantum),
        ),
    )


def _scale(moved: Restatement, mass: Scale, printer: Printer) -> Scale:
    if moved.figure.startswith("emissions"):
        return printer.scale("co2e", max(abs(moved.was), abs(moved.now)))
    return mass
