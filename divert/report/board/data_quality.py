"""How good the data are: weeks with entries, what could not be used, densities measured here."""

from __future__ import annotations

from dataclasses import replace

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.numbers.tables import Cell, Group, Row, Table, between
from divert.report.board.figures import Board
from divert.report.board.section import Section
from divert.report.charts.chart import as_name
from divert.report.wording.material_names import material_name
from divert.report.wording.method_box import coverage
from divert.report.wording.standings import standings_table

_MOST_DENSITIES = 8


def known_section(board: Board) -> Section:
    """Return coverage, what could not be used, and the site's own densities."""
    printer, now = board.printer, board.now
    words = [coverage(now, printer).text]
    if now.rows.set_aside:
        words.append(
            printer.say(
                Text(N_("Of {seen} entries seen in all files, {set_aside} could not be used; "
                        "questions still open: {queries}."),
                     {"seen": printer.count("rows.seen", now.rows.seen),
                      "set_aside": printer.count("rows.set_aside", now.rows.set_aside),
                      "queries": printer.count("rows.queries", now.rows.queries)})
            )
        )  # fmt: skip
    table = _densities(board)
    tables = () if table is None else (table,)
    title = printer.plain(Text(N_("How good the data are")))
    return Section(title, "", None, tables, tuple(words), half=True)


def standing_section(board: Board) -> Section | None:
    """Return what the result rests on, weighed to stand-in; None where nothing was received."""
    table = standings_table(board.now, "", board.printer)
    if table is None:
        return None
    return Section(str(table.caption), "", None, (replace(table, caption=""),), half=True)


def _densities(board: Board) -> Table | None:
    """Return the densities in use that were measured here, or wait to be, largest share first."""
    printer, now = board.printer, board.now
    measured_here = [
        (i, d) for i, d in enumerate(now.densities) if d.weigh_ins and d.basis == "measured density"
    ]
    if not measured_here:
        return None
    measured_here.sort(key=lambda item: -item[1].weigh_ins)
    scale = printer.scale("density", max(d.value for _, d in measured_here))
    rows = []
    for i, density in measured_here[:_MOST_DENSITIES]:
        spread = Range(density.value, density.low, density.high)
        value = printer.range(f"densities[{i}]", spread, scale, central="value")
        more: Cell = (
            "–" if density.more_to_halve is None
            else printer.count(f"densities[{i}].more_to_halve", density.more_to_halve)
        )  # fmt: skip
        loads = printer.count(f"densities[{i}].weigh_ins", density.weigh_ins)
        condition = printer.plain(Text(density.condition)) if density.condition else ""
        material = material_name(density.material, printer)
        name = as_name(", ".join(part for part in (material, condition) if part))
        rows.append(Row(name, (loads, value, between(value, printer), more)))
    return Table(
        caption="",
        stub=printer.say(Text(N_("Density measured here"))),
        heads=(
            printer.say(Text(N_("Weigh-ins"))),
            printer.unit(scale.unit),
            printer.say(Text(N_("90\u202f% range"))),
            printer.say(Text(N_("More to halve the range"))),
        ),
        groups=(Group("", tuple(rows)),),
        style="check",
    )
