"""What was reported before and has moved since, with the reasons that make up each move."""

from __future__ import annotations

from divert.report.history import History, Restatement
from divert.report.printed import Printer
from divert.report.rounding import steps
from divert.report.scales import Scale
from divert.report.tables import Group, Row, Table
from divert.report.two_way import add_up_to
from divert.words import N_, Text

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
    "settings changed": N_("settings changed"),
    "the site's own densities moved": N_("the site's own densities moved"),
    "factors changed": N_("factors changed"),
    "the calculation changed": N_("the calculation changed"),
}


def restated_table(history: History, mass: Scale, printer: Printer) -> Table | None:
    """Return each figure that moved, then its reasons, adding up to the move; None where none did.

    Masses stand in the statement's own unit, with a digit more, so that a small move shows.
    """
    groups = tuple(
        Group(_what(moved, mass, printer), _rows(moved, _scale(moved, mass, printer), printer))
        for moved in history.restatements
        if moved.figure.removesuffix(".central") in _FIGURES
    )
    if not groups:
        return None
    return Table(
        caption=printer.say(Text(N_("Restated: reported before, and moved since"))),
        stub="",
        heads=(printer.say(Text(N_("Amount"))),),
        groups=groups,
    )


def _what(moved: Restatement, mass: Scale, printer: Printer) -> str:
    unit = _scale(moved, mass, printer).unit
    return printer.plain(
        Text(
            N_("{figure}, {label}, statement {number} of {day}, {unit}"),
            {"figure": Text(_FIGURES[moved.figure.removesuffix(".central")]),
             "label": moved.label, "number": moved.number, "day": moved.issued,
             "unit": printer.unit_in_full(unit)},
        )
    )  # fmt: skip


def _scale(moved: Restatement, mass: Scale, printer: Printer) -> Scale:
    if moved.figure.startswith("emissions"):
        return printer.scale("co2e", max(abs(moved.was), abs(moved.now)))
    return Scale(mass.unit, mass.quantum / 10)


def _rows(moved: Restatement, scale: Scale, printer: Printer) -> tuple[Row, ...]:
    was, now = (steps(v / scale.factor, scale.quantum) for v in (moved.was, moved.now))
    parts = [p for p in moved.parts if p.amount]
    amounts = [p.amount / scale.factor for p in parts]
    counted = add_up_to(amounts, now - was, scale.quantum)

    def written(count: int, sign: bool = False) -> str:
        text = printer.number(count * scale.quantum, scale.decimals)
        return f"+{text}" if sign and count > 0 else text

    rows = [Row(printer.say(Text(N_("As reported then"))), (written(was),))]
    for part, count in zip(parts, counted, strict=True):
        head = printer.say(Text(REASON_WORDS[part.reason]))
        if part.rows:
            head = printer.say(
                Text(N_("{reason} (entries: {count})"),
                     {"reason": Text(REASON_WORDS[part.reason]), "count": part.rows})
            )  # fmt: skip
        rows.append(Row(head, (written(count, sign=True),)))
    rows.append(Row(printer.say(Text(N_("Now"))), (written(now),), "total"))
    return tuple(rows)
