"""The numbers a grant statement rests on, with their sources as numbered notes."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from divert.figures import FactorUsed, Figures
from divert.report.factor_names import factor_name
from divert.report.printed import Printer
from divert.report.rounding import quantum_for
from divert.report.scales import Scale
from divert.report.tables import Group, Row, Table, marked
from divert.words import N_, Text

STANDINGS = {
    "read": N_("read in the document"),
    "quoted": N_("as quoted elsewhere"),
    "memory": N_("from memory, not checked"),
    "proxy": N_("a stand-in for want of a published value"),
    "measured": N_("measured by this site"),
    "stated by the site": N_("stated by the site"),
}
_UNITS = {
    "share": "",
    "1/yr": N_("per year"),
    "kg C per kg wet": N_("kg C per kg wet"),
    "kg CH4 per kg wet": N_("kg CH₄ per kg wet"),
    "kg N2O per kg wet": N_("kg N₂O per kg wet"),
    "kg CO2e per kg CH4": N_("kg CO₂e per kg CH₄"),
    "kg CO2e per kg N2O": N_("kg CO₂e per kg N₂O"),
    "kg CO2 per litre": N_("kg CO₂ per litre"),
}


@dataclass(frozen=True, slots=True)
class Sources:
    """The table of numbers and the notes it refers to, in order from 1."""

    table: Table
    notes: tuple[str, ...]


def sources_of(total: Figures, printer: Printer) -> Sources:
    """Return every published, measured or stated number in use, each with the note that names it."""
    notes: dict[str, int] = {}
    rows = []
    for i, factor in enumerate(total.factors):
        note = notes.setdefault(_note(factor, printer), len(notes) + 1)
        scale, unit = _scale(factor, printer)
        value, low, high = (
            printer.one(f"total:factors[{i}].{end}", number, scale)
            for end, number in (("value", factor.value), ("low", factor.low), ("high", factor.high))
        )
        spread = (
            "" if factor.low == factor.high
            else printer.say(Text(N_("{low} to {high}"), {"low": low, "high": high}))
        )  # fmt: skip
        rows.append(
            Row(
                factor_name(factor.key, printer),
                (marked(value), spread, unit,
                 Markup('<span class="note-number">{}</span>').format(note)),
            )
        )  # fmt: skip
    table = Table(
        caption=printer.say(Text(N_("Numbers in use"))),
        stub="",
        heads=tuple(
            printer.say(Text(m)) for m in (N_("Value"), N_("Range"), N_("Unit"), N_("Note"))
        ),
        groups=(Group("", tuple(rows)),),
        words=frozenset({2}),
    )
    return Sources(table, tuple(notes))


def _note(factor: FactorUsed, printer: Printer) -> str:
    standing = Text(STANDINGS.get(factor.standing, factor.standing))
    source = factor.source.rstrip(".")
    if factor.standing in ("measured", "stated by the site"):
        return f"{source}."
    return f"{source} ({printer.say(standing).unescape()})."


def _scale(factor: FactorUsed, printer: Printer) -> tuple[Scale, str]:
    if factor.unit == "kg/m3":
        scale = printer.scale("density", factor.value)
        return scale, printer.unit(scale.unit)
    quantum = min(1.0, quantum_for(factor.value)) if factor.value else 0.01
    unit = _UNITS.get(factor.unit, factor.unit)
    return Scale("count", quantum), printer.plain(Text(unit)) if unit else ""
