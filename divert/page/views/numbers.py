"""The figures of a period with their ranges, each a link to what makes it, and the charts.

What works figures out is imported where it is first asked for: the first view waits for none of it.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flask import Blueprint, request

from divert.core.findings import CannotRun
from divert.core.period import Period
from divert.core.range import Range
from divert.core.words import Text
from divert.figures.numbers.scales import Kind
from divert.page.amounts import Amounts
from divert.page.desk import Seen
from divert.page.figure_names import kind_of, name_of
from divert.page.left_out import left_by_sheet
from divert.page.open_yard import needs_reading
from divert.page.periods import last_quarter_logged, period_from, periods_of
from divert.page.screen import language_of, printer_of, screen

if TYPE_CHECKING:
    from divert.figures.contract import Figures

blueprint = Blueprint("numbers", __name__)
MOST_ROWS = 200  # of a trace that are laid out
_drawing = threading.Lock()  # the drawing library holds state of its own
_KINDS: dict[str, Kind] = {
    "kg": "mass", "kg CO2e": "co2e", "kg CH4": "ch4", "share": "share", "m3": "volume",
    "kg/m3": "density",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """One figure of the view: its name, its path for the trace, its kind of unit, its range."""

    name: Text
    path: str
    kind: Kind
    range: Range


@blueprint.get("/numbers")
def numbers() -> str:
    """Show the figures of a period."""
    from divert.figures.compute import figures_for

    seen = needs_reading()
    workings = seen.workings
    assert workings is not None
    site, problem, figures = workings.site, None, None
    label = chosen_label(seen)
    try:
        period = period_from(label, site, seen.today)
        figures = figures_for(workings, period, seen.today, request.args.get("sponsor") or None)
    except CannotRun as stop:
        problem, period = stop.message, None
    dates = workings.ledger["date"]
    first = dates.min().date() if len(dates) else site.started
    return screen(
        "numbers.html", figures=figures, period=period, label=label, problem=problem,
        periods=periods_of(site, first, seen.today), strip=_strip(figures),
        masses=_masses(figures), gases=_gases(figures), left=left_by_sheet(workings).total(),
        sponsors=list(dict.fromkeys(s.name for s in site.sponsors)),
        sponsor=request.args.get("sponsor", ""),
    )  # fmt: skip


def chosen_label(seen: Seen) -> str:
    """Return the period that was chosen, by its label or by two dates; else the last quarter logged."""
    assert seen.site is not None and seen.workings is not None
    start, end = request.args.get("start", ""), request.args.get("end", "")
    if start and end:
        return f"{start}/{end}"
    if label := request.args.get("period", ""):
        return label
    days = seen.workings.ledger["date"].dropna().dt.date.unique()
    return last_quarter_logged(seen.site, days.tolist(), seen.today).label


def _line(path: str, value: Range) -> Line:
    return Line(name_of(path), path, kind_of(path), value)


def _masses(figures: Figures | None) -> list[Line]:
    if figures is None:
        return []
    mass = figures.mass
    lines = [
        _line("mass.received", mass.received),
        _line("mass.diverted", mass.diverted),
        _line("mass.not_claimed", mass.not_claimed),
        _line("mass.removed", mass.removed),
        _line("mass.residue", mass.residue),
    ]
    if figures.supplied is not None:
        lines.append(_line("supplied.diverted", figures.supplied.diverted))  # fmt: skip
    if figures.supported is not None:
        lines.append(_line("supported.diverted", figures.supported.diverted))  # fmt: skip
    return lines


def _gases(figures: Figures | None) -> list[Line]:
    if figures is None:
        return []
    gas = figures.emissions
    return [
        _line("emissions.landfill_avoided", gas.landfill_avoided),
        _line("emissions.process", gas.process),
        _line("emissions.fuel", gas.fuel),
        _line("emissions.net_avoided", gas.net_avoided),
    ]  # fmt: skip


def _strip(figures: Figures | None) -> list[tuple[str, float, float]] | None:
    """Return the parts of the balance strip as (what, left, width) in thousandths of its length.

    None where nothing was received, or where a part is below zero: then the table alone says it.
    """
    if figures is None:
        return None
    mass = figures.mass
    parts = [
        ("diverted", mass.diverted.central),
        ("not-claimed", mass.not_claimed.central),
        ("thrown-away", mass.removed.central + mass.residue.central),
    ]
    total = sum(kg for _, kg in parts)
    if total <= 0 or min(kg for _, kg in parts) < 0:
        return None
    out, left = [], 0.0
    for what, kg in parts:
        width = 1000 * kg / total
        out.append((what, round(left, 2), round(width, 2)))
        left += width
    return out


@blueprint.get("/numbers/trace")
def walk() -> str:
    """Walk one figure back to its rows, densities, factors and sources."""
    from divert.trace import trace

    seen = needs_reading()
    workings = seen.workings
    assert workings is not None
    label, path = chosen_label(seen), request.args.get("figure", "mass.diverted")
    period = period_from(label, workings.site, seen.today)
    walked = trace(workings, path, period, seen.today, request.args.get("sponsor") or None)
    printer = printer_of(workings.site, language_of(workings.site))
    kind = _KINDS.get(walked.unit)
    amounts = Amounts(printer)

    def amount(value: float, exact: bool = False) -> str:
        if kind is None:
            return f"{printer.number(value, 0 if value == int(value) else 3)} {walked.unit}"
        return amounts.one(kind, value, exact=exact)

    whole, ends = amount(walked.value), ""
    if kind is not None and walked.low is not None and walked.high is not None:
        span = Range(walked.value, walked.low, walked.high)
        whole, ends = amounts.central(kind, span), amounts.ends(kind, span)
    return screen("trace.html", walked=walked, amount=amount, whole=whole, ends=ends, name=name_of(path),
                  label=label, period=period, most=MOST_ROWS)  # fmt: skip


@blueprint.get("/numbers/charts")
def charts() -> str:
    """Show the charts of the board report for a period."""
    from divert.publish.job import jobs_for
    from divert.report.board.figures import BoardFigures
    from divert.report.board.page import board_view
    from divert.report.paper.look import look_of

    seen = needs_reading()
    workings = seen.workings
    assert workings is not None
    period: Period = period_from(chosen_label(seen), workings.site, seen.today)
    printer = printer_of(workings.site, language_of(workings.site))
    with _drawing:
        job = jobs_for(workings, "board", period, seen.today, None)[0]
        look, _ = look_of(workings.site)
        figures = BoardFigures(job.figures, job.sets.get("before"))
        view = board_view(figures, job.history, workings.site, workings.factors.bands, printer,
                          look, screen=True)  # fmt: skip
    sections = [s for s in (view.first, *(s for row in view.rows for s in row)) if s is not None]
    return screen("charts.html", sections=[s for s in sections if s.drawing], label=period.label,
                  period=period, bare=request.args.get("bare"))  # fmt: skip
