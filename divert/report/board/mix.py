"""What came in: the mix of materials, the largest by name."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.contract import Part
from divert.figures.numbers.tables import Group, Row, Table, parts_add_up, rounding_note
from divert.report.board.figures import Board
from divert.report.board.section import Section, of_drawing, shows_nothing
from divert.report.charts.chart import amount, as_name
from divert.report.charts.drawn import drawn, half_width_mm
from divert.report.charts.mix import Mix, MixPart, finding, largest, mix
from divert.report.wording.unknown_names import shown_material, unknown_names


def mix_section(board: Board) -> Section | None:
    """Return the largest materials diverted and received, the rest as one."""
    printer, now = board.printer, board.now
    present = [(i, p) for i, p in enumerate(now.by_material) if p.received.central]
    if not present:
        return None
    named, rest = largest(present, lambda item: item[1].received.central)
    wholes = {"received": now.mass.received, "diverted": now.mass.diverted}
    columns = []
    for what in wholes:
        column = [
            printer.central(f"by_material[{i}].{what}", getattr(p, what), board.mass,
                            within=p.received)
            for i, p in named
        ]  # fmt: skip
        if rest:
            key = "+".join(f"period:by_material[{i}].{what}.central" for i, _ in rest)
            column.append(printer.one(key, sum(_kg(p, what) for _, p in rest), board.mass))
        columns.append(column)
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
        Row(as_name(name), tuple(column[i] for column in columns)) for i, name in enumerate(names)
    ]
    totals = tuple(
        printer.central(f"mass.{what}", whole, board.mass, within=now.mass.received)
        for what, whole in wholes.items()
    )
    rows.append(Row(printer.say(Text(N_("All materials"))), totals, "total"))
    table = Table(
        caption="",
        stub=printer.say(Text(N_("Material"))),
        heads=(printer.say(Text(N_("Received"))), printer.say(Text(N_("Diverted")))),
        groups=(Group("", tuple(rows)),),
        note=rounding_note(
            printer, *(parts_add_up(of, whole) for of, whole in zip(columns, totals, strict=True))
        ),
    )
    if shows_nothing([part.value.text for part in shown]):
        return Section(printer.plain(finding(data)), picture.note, None, (table,), half=True)
    return of_drawing(picture, (table,), beside=True)


def _kg(part: Part, what: str) -> float:
    return part.received.central if what == "received" else part.diverted.central
