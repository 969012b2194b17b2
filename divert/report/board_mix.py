"""What came in and from whom: the mix of materials, sources gained and lost."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from divert.figures import Part
from divert.report.board_figures import Board
from divert.report.board_section import Section, of_drawing
from divert.report.charts.chart import amount, as_name
from divert.report.charts.mix import Mix, MixPart, largest, mix
from divert.report.drawn import drawn, half_width_mm
from divert.report.tables import Cell, Group, Row, Table, marked
from divert.words import N_, Text

_MOST_SOURCES = 8


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
    names = [p.name or printer.plain(Text(N_("not recorded"))) for _, p in named]
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


def sources_section(board: Board) -> Section | None:
    """Return sources gained and lost, and those that changed most; the first year lists the largest."""
    printer, now = board.printer, board.now
    here = {p.name: (i, p) for i, p in enumerate(now.by_source) if p.received.central}
    if not here:
        return None
    compared = now.same_period_last_year
    then = {
        p.name: (i, p) for i, p in enumerate(compared.by_source if compared else ())
        if p.received.central
    }  # fmt: skip
    if not then:
        return _largest_only(board, here)
    gained = sorted((n for n in here if n not in then), key=lambda n: -_in(here, n))
    lost = sorted((n for n in then if n not in here), key=lambda n: -_in(then, n))
    both = [n for n in here if n in then]
    moved = sorted(both, key=lambda n: -abs(_in(here, n) - _in(then, n)))
    scale = printer.scale(
        "mass", max(_in(of, n) for of in (here, then) for n in of), unit=board.mass.unit
    )

    def row(name: str) -> Row:
        cells: list[Cell] = []
        for of, key in (
            (then, "period:same_period_last_year.by_source"),
            (here, "period:by_source"),
        ):
            if name not in of:
                cells.append("–")
                continue
            place, part = of[name]
            cells.append(marked(printer.one(f"{key}[{place}].received.central",
                                            part.received.central, scale)))  # fmt: skip
        return Row(as_name(name) or printer.say(Text(N_("not recorded"))), tuple(cells))

    groups = tuple(
        Group(printer.say(Text(head, {"count": len(names)})), _rows(names, row, board))
        for head, names in (
            (N_("New this time: {count}"), gained),
            (N_("No longer: {count}"), lost),
            (N_("Came both times, those that changed most"), moved),
        )
        if names
    )
    table = Table(
        caption="",
        stub=printer.say(Text(N_("Source"))),
        heads=(printer.say(Text(N_("A year before"))), printer.say(Text(N_("Now")))),
        groups=groups,
    )
    return Section(
        printer.plain(_gained_and_lost(len(gained), len(lost))),
        printer.plain(
            Text(N_("Received by source, {unit}, beside the same days a year before. Sources now: "
                    "{now}; a year before: {then}."),
                 {"unit": printer.unit_in_full(scale.unit), "now": len(here), "then": len(then)})
        ),
        None,
        (table,),
    )  # fmt: skip


def _gained_and_lost(gained: int, lost: int) -> Text:
    values = {"gained": gained, "lost": lost}
    if gained and lost:
        return Text(N_("Sources gained: {gained}; lost: {lost}"), values)
    if gained:
        return Text(N_("Sources gained: {gained}; none lost"), values)
    if lost:
        return Text(N_("Sources lost: {lost}; none gained"), values)
    return Text(N_("The same sources as a year before"))


def _in(of: dict[str, tuple[int, Part]], name: str) -> float:
    return of[name][1].received.central


def _rows(names: Sequence[str], row: Callable[[str], Row], board: Board) -> tuple[Row, ...]:
    rows = [row(name) for name in names[:_MOST_SOURCES]]
    if len(names) > _MOST_SOURCES:
        more = Text(N_("and {count} more"), {"count": len(names) - _MOST_SOURCES})
        rows.append(Row(board.printer.say(more), ("", ""), "range"))
    return tuple(rows)


def _largest_only(board: Board, here: dict[str, tuple[int, Part]]) -> Section:
    printer = board.printer
    ordered = sorted(here, key=lambda n: -_in(here, n))
    scale = printer.scale("mass", _in(here, ordered[0]), unit=board.mass.unit)
    rows = [
        Row(as_name(name) or printer.say(Text(N_("not recorded"))),
            (marked(printer.one(f"by_source[{here[name][0]}].received.central", _in(here, name),
                                scale)),))
        for name in ordered[: 2 * _MOST_SOURCES]
    ]  # fmt: skip
    if len(ordered) > len(rows):
        more = Text(N_("and {count} more"), {"count": len(ordered) - len(rows)})
        rows.append(Row(printer.say(more), ("",), "range"))
    table = Table(
        caption="",
        stub=printer.say(Text(N_("Source"))),
        heads=(printer.say(Text(N_("Received"))),),
        groups=(Group("", tuple(rows)),),
    )
    title = (
        Text(N_("All of it comes from one source")) if len(here) == 1
        else Text(N_("Who the material comes from"))
    )  # fmt: skip
    note = Text(N_("Received by source, {unit}. Nothing a year before to compare with."),
                {"unit": printer.unit_in_full(scale.unit)})  # fmt: skip
    return Section(printer.plain(title), printer.plain(note), None, (table,))
