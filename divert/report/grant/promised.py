"""What was promised for each year of a grant, beside what was achieved."""

from __future__ import annotations

import datetime as dt

from divert.core.period import whole_year
from divert.core.words import N_, Text
from divert.figures.compare import reaches
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, between
from divert.report.wording.dates import span

_BEFORE_TOO = N_(
    "Targets are for the site's whole years, so the days before this grant began count here as well."
)


def promised_table(
    total: Figures, year_starts: int, started: dt.date, scale: Scale, printer: Printer
) -> Table | None:
    """Return one row a target year: its days, the target, what was diverted; None without any.

    ``year_starts``: the month that reporting years begin with; ``started``: the site's first day.
    """
    rows, before_too = [], False
    for i, target in enumerate(total.targets):
        goal = printer.one(f"total:targets[{i}].target", target.target, scale)
        done = printer.range(f"total:targets[{i}].diverted", target.diverted, scale)
        whole = whole_year(target.year, year_starts)
        start, end = max(whole.start, started), min(whole.end, total.period.end)
        before_too |= start < total.period.start
        over = end >= whole.end
        said = Text(_said(reaches(done.central, goal), over))
        cells: tuple[Cell, ...] = (
            span(start, end, printer.language, printer.country), goal, done,
            between(done, printer), printer.say(said),
        )  # fmt: skip
        rows.append(Row(str(target.year), cells))
    if not rows:
        return None
    heads = (
        N_("Days"), N_("Target"), N_("Diverted"), N_("90\u202f% range"), N_("As of this statement")
    )  # fmt: skip
    return Table(
        caption=printer.say(
            Text(N_("Promised and achieved, {unit}"), {"unit": printer.unit_in_full(scale.unit)})
        ),
        stub=printer.say(Text(N_("Year"))),
        heads=tuple(printer.say(Text(m)) for m in heads),
        groups=(Group("", tuple(rows)),),
        words=frozenset({0, 4}),
        note=printer.say(Text(_BEFORE_TOO)) if before_too else "",
    )


def _said(reached: bool, over: bool) -> str:
    if reached:
        return N_("reached")
    return N_("not reached") if over else N_("not yet, the year goes on")
