"""The numbers a grant statement rests on, with their sources as numbered notes."""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import Markup

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.contract import FactorUsed, Figures
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.rounding import quantum_for
from divert.figures.numbers.scales import FACTOR, Scale
from divert.figures.numbers.tables import Group, Row, Table, on_the_point
from divert.report.wording.factor_names import factor_name

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
    "kg CH4 per kg wet": N_("g CH₄ per kg wet"),
    "kg N2O per kg wet": N_("g N₂O per kg wet"),
    "kg CO2e per kg CH4": N_("kg CO₂e per kg CH₄"),
    "kg CO2e per kg N2O": N_("kg CO₂e per kg N₂O"),
    "kg CO2 per litre": N_("kg CO₂ per L"),
}
_ENDS = {"low": N_("low"), "typical": N_("typical"), "high": N_("high")}
_IN_GRAMS = ("kg CH4 per kg wet", "kg N2O per kg wet")
# What a factor's key opens with, by the part of the table it stands in.
_PARTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (N_("Densities"), ("density", "measured", "stated")),
    (N_("Landfill"), ("doc", "docf_2006", "docf_2019", "k", "mcf", "methane_share", "oxidation",
                      "gas_captured")),
    (N_("Composting, fuel and warming"), ()),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sources:
    """The table of numbers and the notes it refers to, in order from 1."""

    table: Table
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Line:
    """One number with the ends of its range (None where it has none), as printed."""

    part: str
    name: str
    unit: str
    note: int
    printed: tuple[Printed | None, ...]  # value, low, high


def sources_of(total: Figures, printer: Printer) -> Sources:
    """Return every published, measured or stated number in use, each with the note that names it.

    The numbers of a column stand with their decimal points beneath each other.
    """
    notes: dict[str, int] = {}
    places = sorted(range(len(total.factors)), key=lambda i: _place(total.factors[i]))
    lines = []
    for i in places:
        factor = total.factors[i]
        scale, unit = _scale(factor, printer)
        ends = ("value",) if factor.low == factor.high else ("value", "low", "high")
        spread = Range(factor.value, factor.low, factor.high)
        ranged = printer.range(f"total:factors[{i}]", spread, scale, central="value")
        printed = (ranged.central, ranged.low, ranged.high)[: len(ends)]
        lines.append(
            _Line(
                _PARTS[_place(factor)][0], factor_name(factor.key, printer), unit,
                notes.setdefault(_note(factor, printer), len(notes) + 1),
                (*printed, None, None)[:3],
            )
        )  # fmt: skip
    columns = [on_the_point([line.printed[j] for line in lines]) for j in range(3)]
    rows: dict[str, list[Row]] = {}
    for i, line in enumerate(lines):
        note = Markup('<span class="note-number">{}</span>').format(line.note)
        row = Row(line.name, (*(column[i] for column in columns), line.unit, note))
        rows.setdefault(line.part, []).append(row)
    heads = (N_("Value"), N_("Low"), N_("High"), N_("Unit"), N_("Note"))
    table = Table(
        caption=printer.say(Text(N_("Numbers in use"))),
        stub="",
        heads=tuple(printer.say(Text(m)) for m in heads),
        groups=tuple(Group(printer.say(Text(part)), tuple(of)) for part, of in rows.items()),
        words=frozenset({3}),
    )
    return Sources(table, tuple(notes))


def _place(factor: FactorUsed) -> int:
    """Return the part of the table a factor stands in: the last holds what no other names."""
    opening = factor.key.split(".", 1)[0]
    return next((i for i, (_, known) in enumerate(_PARTS) if opening in known), len(_PARTS) - 1)


def _note(factor: FactorUsed, printer: Printer) -> str:
    """Return where a number stands written, and how far it was checked there."""
    if factor.standing == "measured":
        loads = re.search(r"\d+", factor.source)
        return printer.plain(
            Text(N_("This site's own weigh-ins: {loads} loads."),
                 {"loads": int(loads[0]) if loads else 0})
        )  # fmt: skip
    if factor.standing == "stated by the site":
        return printer.plain(Text(N_("Stated by the site in its settings.")))
    source = _of_each_end(factor.source.rstrip("."), printer)
    return f"{source} ({_standing(factor.standing, printer)})."


def _of_each_end(source: str, printer: Printer) -> str:
    """Return a source whose ends stand in different documents ("low: ...; high: ...") in words."""

    def end(said: re.Match[str]) -> str:
        name = Text(N_("{ends}: {standing}"), {"ends": Text(_ENDS[said[2]]), "standing": ""})
        return printer.phrases(["", ""] if said[1] else [""]) + printer.plain(name)

    return re.sub(r"(^|; )(low|typical|high): ", end, source)


def _standing(standing: str, printer: Printer) -> str:
    """Return how far a number was checked: once for all its ends, or end by end where they differ."""
    told = re.findall(r"(low|typical|high) (\w+)", standing)
    if not told:
        return printer.plain(Text(STANDINGS.get(standing, standing)))
    ends: dict[str, list[str | Markup]] = {}
    for end, how in told:
        ends.setdefault(how, []).append(printer.plain(Text(_ENDS[end])))
    return printer.phrases(
        printer.plain(Text(N_("{ends}: {standing}"),
                           {"ends": printer.names(of), "standing": Text(STANDINGS.get(how, how))}))
        for how, of in ends.items()
    )  # fmt: skip


def _scale(factor: FactorUsed, printer: Printer) -> tuple[Scale, str]:
    if factor.unit == "kg/m3":
        scale = printer.scale("density", factor.value)
        return scale, printer.unit(scale.unit)
    unit = "g per kg" if factor.unit in _IN_GRAMS else "count"
    shown = factor.value / FACTOR[unit]
    quantum = min(1.0, quantum_for(shown)) if shown else 0.01
    name = _UNITS.get(factor.unit, factor.unit)
    return Scale(unit, quantum), printer.plain(Text(name)) if name else ""
