"""What was promised for each year of a grant, beside what was achieved."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.compare import reaches
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, between


def promised_table(total: Figures, scale: Scale, printer: Printer) -> Table | None:
    """Return one row a target year: the target, what was diverted and its range; None without any."""
    rows = []
    for i, target in enumerate(total.targets):
        goal = printer.one(f"total:targets[{i}].target", target.target, scale)
        done = printer.range(f"total:targets[{i}].diverted", target.diverted, scale)
        reached = Text(N_("reached") if reaches(done.central, goal) else N_("not reached"))
        cells: tuple[Cell, ...] = (goal, done, between(done, printer), printer.say(reached))
        rows.append(Row(str(target.year), cells))
    if not rows:
        return None
    heads = (N_("Target"), N_("Diverted"), N_("90\u202f% range"), N_("As of this statement"))
    return Table(
        caption=printer.say(
            Text(N_("Promised and achieved, {unit}"), {"unit": printer.unit_in_full(scale.unit)})
        ),
        stub=printer.say(Text(N_("Year"))),
        heads=tuple(printer.say(Text(m)) for m in heads),
        groups=(Group("", tuple(rows)),),
        words=frozenset({3}),
    )
