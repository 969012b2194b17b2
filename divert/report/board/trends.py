"""The year against its target, and beside the years before it."""

from __future__ import annotations

import datetime as dt
import re
from itertools import dropwhile

from divert.core.period import months_on, reporting_year
from divert.core.words import N_, Text, first_of_month
from divert.figures.compare import reaches, verdict
from divert.figures.contract import Month, Span
from divert.figures.numbers.printed import Printed
from divert.figures.numbers.tables import Group, Row, Table, between, halves
from divert.figures.numbers.written import locale_of
from divert.report.board.figures import Board
from divert.report.board.section import Section, of_drawing
from divert.report.charts.chart import Amount, amount
from divert.report.charts.cumulative import Cumulated, cumulative
from divert.report.charts.drawn import drawn, full_width_mm, half_width_mm
from divert.report.charts.known_months import first_day
from divert.report.charts.years import Year, Years, years
from divert.report.wording.dates import month_name

_DAY = dt.timedelta(days=1)
_FEW_YEARS = 4  # as many still fit half the page
_FEWEST_YEARS = 3  # of fewer, the page's numbers and the line have said all


def target_section(board: Board) -> Section | None:
    """Return how the year mounted up against its target and the year before; None for other spans."""
    printer, now = board.printer, board.now
    found = board.target
    if now.period.kind != "year" or len(now.by_month) < 3:
        return None
    first = now.period.start
    months = tuple(m for _, m in board.known_months)
    if not any(m.diverted.central for m in months):
        return None
    points = _points(months, [m.diverted.central for m in months], first, board.known_until, board)
    so_far = printer.range("mass.diverted", now.mass.diverted, board.mass, within=now.mass.received)
    target = None
    if found is not None:
        target = amount(_goal(board))
    before, end, name = _year_before(board) if not board.gaps_differ else ((), None, "")
    if target is None and not before:
        return None
    language = printer.language
    ticks = tuple(
        ((n + 0.5) / 12, month_name(f"{months_on(first, n):%Y-%m}", language)) for n in range(12)
    )
    data = Cumulated(
        points=points,
        so_far=amount(so_far),
        ticks=ticks,
        measure=printer.plain(Text(N_("Diverted since the year began"))),
        unit=printer.unit_in_full(board.mass.unit),
        name=str(board.year),
        target=target,
        before=before,
        before_end=end,
        name_before=name,
        began=points[0][0],
        reached=found is not None and reaches(so_far.central, _goal(board)),
        than_before=board.than_before,
    )
    shown = drawn(lambda look: cumulative(data, look), full_width_mm(board.look), language,
                  board.look, screen=board.screen)  # fmt: skip
    return of_drawing(shown)


def _goal(board: Board) -> Printed:
    """Return the period's target as it is printed."""
    assert board.target is not None
    place, goal = board.target
    return board.printer.one(f"targets[{place}].target", goal.target, board.mass)


def _points(
    months: tuple[Month, ...], kg: list[float], first: dt.date, last: dt.date, board: Board
) -> tuple[tuple[float, float], ...]:
    """Return (share of the year gone, mass so far) at the first day and at each month's end."""
    days = (months_on(first, 12) - first).days
    began = max(first, board.site.started)
    out, so_far = [((began - first).days / days, 0.0)], 0.0
    for month, mass in zip(months, kg, strict=True):
        so_far += mass / board.mass.factor
        ends = min(months_on(first_day(month), 1), last + _DAY)
        out.append(((ends - first).days / days, so_far))
    return tuple(out)


def _year_before(board: Board) -> tuple[tuple[tuple[float, float], ...], Amount | None, str]:
    """Return the year before as a line, its end as printed, and its name.

    One in which the site began starts where it began, and is called so.
    """
    now = board.now
    name = board.year - 1
    of_year = [
        m for m in now.history if reporting_year(first_day(m), board.site.year_starts) == name
    ]
    spans = [(i, s) for i, s in enumerate(now.by_year) if s.label.removeprefix("FY") == str(name)]
    if not spans or not of_year:
        return (), None, ""
    place, span = spans[0]
    opens = months_on(now.period.start, -12)
    if len(of_year) != 12 and not opens < board.site.started <= months_on(first_day(of_year[0]), 1):
        return (), None, ""
    points = _points(tuple(of_year), [m.diverted.central for m in of_year], opens,
                     months_on(opens, 12) - _DAY, board)  # fmt: skip
    end = board.printer.central(
        f"by_year[{place}].diverted", span.diverted, board.mass, within=span.received
    )
    return points, amount(end), re.sub(" ", "\u00a0", f"{name} {_missing(span, board)}".strip())


def years_section(board: Board) -> Section | None:
    """Return every reporting year so far, with targets; None where there are few."""
    printer, now = board.printer, board.now
    spans = _known_years(board)
    if len(spans) < _FEWEST_YEARS:
        return None
    largest = max(abs(s.diverted.central) for _, s in spans)
    if not largest:
        return None
    scale = printer.scale("mass", largest, unit=board.mass.unit)
    targets = {t.year: i for i, t in enumerate(now.targets)}
    drawn_years, rows, last = [], [], None
    for i, span in spans:
        value = printer.range(f"by_year[{i}].diverted", span.diverted, scale, within=span.received)
        received = printer.central(f"by_year[{i}].received", span.received, scale)
        place = targets.get(_name(span))
        target = None
        if place is not None:
            target = printer.one(f"targets[{place}].target", now.targets[place].target, scale)
        # This year's own target is drawn once, under the line that led to it.
        goal = None if _name(span) == board.year and now.period.kind == "year" else target
        under = _missing(span, board)
        than_before = None
        if last is not None and span.change is not None and not _is_blank(span):
            than_before = verdict(span.change, value.central, last)
        last = value.central
        drawn_years.append(
            Year(str(_name(span)), amount(value), None if goal is None else amount(goal),
                 span.partial or _is_blank(span), under, than_before)
        )  # fmt: skip
        rows.append(
            Row(re.sub(r" (?=\S+$)", "\u00a0", f"{_name(span)} {under}".strip()),  # a day whole
                (received, value, between(value, printer),
                 *(() if not targets else ("–" if target is None else target,))))
        )  # fmt: skip
    data = Years(tuple(drawn_years), printer.plain(Text(N_("Diverted"))),
                 printer.unit_in_full(scale.unit), board.gaps_differ)  # fmt: skip
    few = len(spans) <= _FEW_YEARS
    width = half_width_mm(board.look) if few else full_width_mm(board.look)
    shown = drawn(lambda look: years(data, look), width, printer.language, board.look,
                  screen=board.screen)  # fmt: skip
    heads = [N_("Received"), N_("Diverted"), N_("90\u202f% range")]
    if targets:
        heads.append(N_("Target"))
    tables = tuple(
        Table("", printer.say(Text(N_("Year"))), tuple(printer.say(Text(m)) for m in heads),
              (Group("", part),))
        for part in ((tuple(rows),) if few else halves(rows))
    )  # fmt: skip
    return of_drawing(shown, tables, beside=few)


def _known_years(board: Board) -> list[tuple[int, Span]]:
    """Return the reporting years of which anything is known, by place, from the first entry on."""
    now = board.now
    begun = [(i, s) for i, s in enumerate(now.by_year) if s.start <= board.known_until]
    spans = list(dropwhile(lambda placed: _is_blank(placed[1]), begun))
    if spans and not now.weeks.logged and _is_blank(spans[-1][1]):
        return spans[:-1]  # nothing is written down of it, which is not nothing
    return spans


def _is_blank(span: Span) -> bool:
    return not span.received.central and not span.diverted.central


def _name(span: Span) -> int:
    return int(span.label.removeprefix("FY"))


def _missing(span: Span, board: Board) -> str:
    """Return what is missing of a year that is not whole: "from Apr 1", "to Nov 25"."""
    if _is_blank(span):
        return board.printer.plain(Text(N_("no entries")))
    if not span.partial:
        return ""
    starts = board.site.year_starts
    opens = dt.date(_name(span) if starts == 1 else _name(span) - 1, starts, 1)
    began = max(span.start, board.site.started)
    said = []
    if began > opens:
        said.append(Text(N_("from {day}"), {"day": _day(began, board)}))
    until = min(span.end, board.known_until)
    if until + _DAY < months_on(opens, 12):
        said.append(Text(N_("to {day}"), {"day": _day(until, board)}))
    return " ".join(board.printer.plain(text) for text in said)


def _day(day: dt.date, board: Board) -> str:
    from babel.dates import format_skeleton

    locale = locale_of(board.printer.language, board.printer.country)
    written = str(format_skeleton("MMMd", day, locale=locale))
    return first_of_month(written, day, board.printer.language)
