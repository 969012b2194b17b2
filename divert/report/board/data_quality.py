"""How good the data are: weighed and estimated, weeks with entries, densities that rest on lists."""

from __future__ import annotations

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.numbers.printed import THIN
from divert.figures.numbers.tables import Cell, Group, Row, Table, between
from divert.report.board.figures import Board
from divert.report.board.section import Section, of_drawing
from divert.report.charts.chart import amount, as_name
from divert.report.charts.drawn import drawn, full_width_mm, half_width_mm
from divert.report.charts.measured import MOST, Measured, Stretch, measured
from divert.report.wording.material_names import material_name
from divert.report.wording.method_box import coverage

_MOST_DENSITIES = 8
_FEW_QUARTERS = 10  # as many still fit half the page
_FEWEST_QUARTERS = 4  # so few would look lost on the whole of it


def known_section(board: Board) -> Section | None:
    """Return the weighed share by quarter, coverage, and the site's own densities."""
    printer, now = board.printer, board.now
    spans = [(i, s) for i, s in enumerate(now.by_quarter) if s.received.central > 0][-MOST:]
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
    if not spans or not now.mass.received.central:
        return Section(printer.plain(Text(N_("How good the data are"))), "", None, tables,
                       tuple(words))  # fmt: skip
    scale = printer.scale("mass", max(s.received.central for _, s in spans), unit=board.mass.unit)
    stretches = []
    for n, (i, span) in enumerate(spans):
        received, weighed = span.received.central, span.weighed_kg
        weighed_key = f"period:by_quarter[{i}].weighed_kg"
        received_key = f"period:by_quarter[{i}].received.central"
        share = printer.share(f"{weighed_key}/{received_key}", weighed / received)
        one = printer.only_drawn(weighed_key, weighed, scale)
        other = printer.only_drawn(f"{received_key}+-{weighed_key}", received - weighed, scale)
        quarter = span.label[-1]
        stretches.append(
            Stretch(
                printer.plain(Text(N_("Q{number}"), {"number": quarter})),
                amount(one),
                amount(other),
                f"{share.text}{THIN}%",
                span.label[:4] if n == 0 or quarter == "1" else "",
                span.partial,
            )
        )
    data = Measured(tuple(stretches), printer.plain(Text(N_("Received"))),
                    printer.unit_in_full(scale.unit))  # fmt: skip
    few = len(stretches) <= _FEW_QUARTERS
    beside, half = bool(tables) and few, not tables and len(stretches) <= _FEWEST_QUARTERS
    width = half_width_mm(board.look) if beside or half else full_width_mm(board.look)
    shown = drawn(lambda look: measured(data, look), width, printer.language,
                  board.look, screen=board.screen)  # fmt: skip
    return of_drawing(shown, tables, tuple(words), beside=beside, half=half)


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
