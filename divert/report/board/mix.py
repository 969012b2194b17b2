"""What came in: the mix of materials, the largest by name."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.contract import Part
from divert.figures.numbers.tables import Group, Row, Table, marked
from divert.report.board.figures import Board
from divert.report.board.section import Section, of_drawing
from divert.report.charts.chart import amount, as_name
from divert.report.charts.drawn import drawn, half_width_mm
from divert.report.charts.mix import Mix, MixPart, largest, mix
from divert.report.wording.unknown_names import shown_material, unknown_names


def mix_section(board: Board) -> Section | None:
    """Return the largest materials diverted and received, the rest as one."""
    printer, now = board.printer, board.now
    present = [(i, p) for i, p in enumerate(now.by_material) if p.received.central]
    if not present:
        return None
    named, rest = largest(present, lambda item: item[1].received.central)
    keys = [f"by_material[{i}]" for i, _ in named]
    wholes = [now.mass.received.central, now.mass.diverted.central]
    columns = []
    for what, whole in zip(("received", "diverted"), wholes, strict=True):
        paths = [f"period:{key}.{what}.central" for key in keys]
        values = [_kg(p, what) for _, p in named]
        if rest:
            paths.append("+".join(f"period:by_material[{i}].{what}.central" for i, _ in rest))
            values.append(sum(_kg(p, what) for _, p in rest))
        columns.append(printer.parts(paths, values, board.mass, whole, f"{what} by material"))
    strangers = unknown_names(now, "material")
    names = [shown_material(p.name, strangers, printer) for _, p in named]
    if rest:
        names.append(printer.plain(Text(N_("other"))))
    shown = tuple(
        MixPart(name, amount(figure), rest=bool(rest) and i == len(names) - 1)
        for i, (name, figure) in enumerate(zip(names, columns[0], strict=True))
    )
    data = Mix(shown, printer.plain(Text(N_("Received, by material"))),
               printer.unit_in_full(board.mass.unit))  # fmt: skip
    picture = drawn(lambda look: mix(data, look), half_width_mm(board.look), printer.language,
                    board.look, screen=False)  # fmt: skip
    rows = [
        Row(as_name(name), tuple(marked(column[i]) for column in columns))
        for i, name in enumerate(names)
    ]
    totals = tuple(
        marked(printer.one(f"mass.{what}.central", whole, board.mass))
        for what, whole in zip(("received", "diverted"), wholes, strict=True)
    )
    rows.append(Row(printer.say(Text(N_("All materials"))), totals, "total"))
    table = Table(
        caption="",
        stub=printer.say(Text(N_("Material"))),
        heads=(printer.say(Text(N_("Received"))), printer.say(Text(N_("Diverted")))),
        groups=(Group("", tuple(rows)),),
    )
    return of_drawing(picture, (table,), beside=True)


def _kg(part: Part, what: str) -> float:
    return part.received.central if what == "received" else part.diverted.central
