"""The year by month, against its target, and beside the years before it."""

from __future__ import annotations

import datetime as dt

from divert.figures import Month, Span
from divert.period import reporting_year
from divert.report.board_figures import Board
from divert.report.board_section import Section, of_drawing
from divert.report.charts.by_month import ByMonth, Column, by_month
from divert.report.charts.chart import Amount, amount
from divert.report.charts.cumulative import Cumulated, cumulative
from divert.report.charts.years import Year, Years, years
from divert.report.dates import month_and_year, month_name
from divert.report.drawn import drawn, full_width_mm, half_width_mm
from divert.report.printed import Printed, PrintedRange, locale_of
from divert.report.scales import Scale
from divert.report.tables import Cell, Group, Row, Table, between, marked
from divert.words import N_, Text

_DAY = dt.timedelta(days=1)
_FEW_YEARS = 4  # as many still fit half the page


def months_section(board: Board) -> Section | None:
    """Return the months of the period beside the same ones a year before, with their table."""
    printer, now = board.printer, board.now
    months = now.by_month
    if not months:
        return None
    largest = max(abs(m.diverted.central) for m in months)
    scale = printer.scale("mass", largest or now.mass.diverted.central, unit=board.mass.unit)
    columns, rows = [], []
    for i, month in enumerate(months):
        if _first(month) > board.known_until:
            break  # nothing is written of it yet, which is not zero
        value = printer.range(f"by_month[{i}].diverted", month.diverted, scale)
        then = _then(board, month, i, scale_of=value)
        columns.append(_column(board, month, value, then))
        cells: list[Cell] = [marked(value), between(value, printer)]
        cells.append(marked(then) if then else "–")
        rows.append(Row(month_and_year(_first(month), printer.language), tuple(cells)))
    year_before = str(board.year - 1) if board.site.year_starts == 1 else ""
    data = ByMonth(
        tuple(columns),
        printer.plain(Text(N_("Diverted"))),
        printer.unit_in_full(scale.unit),
        "month",
        year_before,
    )
    shown = drawn(lambda look: by_month(data, look), full_width_mm(board.look), printer.language,
                  board.look, screen=board.screen)  # fmt: skip
    if len(months) > 6:
        half = -(-len(rows) // 2)
        tables = tuple(
            _months_table(board, part, scale.unit) for part in (rows[:half], rows[half:])
        )
    else:
        tables = (_months_table(board, rows, scale.unit),)
    return of_drawing(shown, tables)


def _months_table(board: Board, rows: list[Row], unit: str) -> Table:
    printer = board.printer
    return Table(
        caption="",
        stub=printer.say(Text(N_("Month"))),
        heads=tuple(
            printer.say(Text(m))
            for m in (N_("Diverted"), N_("90\u202f% range"), N_("A year before"))
        ),
        groups=(Group("", tuple(rows)),),
    )


def _then(board: Board, month: Month, place: int, scale_of: PrintedRange) -> Printed | None:
    if month.same_month_last_year is None:
        return None
    scale = Scale(scale_of.central.unit, scale_of.central.quantum)
    return board.printer.one(
        f"by_month[{place}].same_month_last_year.central", month.same_month_last_year.central, scale
    )


def _column(board: Board, month: Month, value: PrintedRange, then: Printed | None) -> Column:
    language = board.printer.language
    under = month.month[:4] if month.month.endswith("-01") else ""
    return Column(
        label=month_name(month.month, language),
        now=amount(value),
        before=None if then is None else amount(then),
        under=under,
        partial=month.partial,
        name=month_and_year(_first(month), language),
    )


def _first(month: Month) -> dt.date:
    return dt.date(int(month.month[:4]), int(month.month[5:7]), 1)


def target_section(board: Board) -> Section | None:
    """Return how the year mounted up against its target and the year before; None for other spans."""
    printer, now = board.printer, board.now
    found, months = board.target, now.by_month
    if now.period.kind != "year" or len(months) < 3:
        return None
    first = now.period.start
    months = tuple(m for m in months if _first(m) <= board.known_until)
    points = _points(months, [m.diverted.central for m in months], first, board.known_until, board)
    so_far = printer.range("mass.diverted", now.mass.diverted, board.mass)
    target = None
    if found is not None:
        place, goal = found
        target = amount(printer.one(f"targets[{place}].target", goal.target, board.mass))
    before, end, name = _year_before(board)
    if target is None and not before:
        return None
    language = printer.language
    ticks = tuple(
        ((n + 0.5) / 12, month_name(f"{_on(first, n):%Y-%m}", language)) for n in range(12)
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
    )
    shown = drawn(lambda look: cumulative(data, look), full_width_mm(board.look), language,
                  board.look, screen=board.screen)  # fmt: skip
    return of_drawing(shown)


def _on(first: dt.date, months: int) -> dt.date:
    count = first.year * 12 + first.month - 1 + months
    return dt.date(count // 12, count % 12 + 1, 1)


def _points(
    months: tuple[Month, ...], kg: list[float], first: dt.date, last: dt.date, board: Board
) -> tuple[tuple[float, float], ...]:
    """Return (share of the year gone, mass so far) at the year's first day and each month's end."""
    days = (_on(first, 12) - first).days
    out, so_far = [(0.0, 0.0)], 0.0
    for month, mass in zip(months, kg, strict=True):
        so_far += mass / board.mass.factor
        ends = min(_on(_first(month), 1), last + _DAY)
        out.append(((ends - first).days / days, so_far))
    return tuple(out)


def _year_before(board: Board) -> tuple[tuple[tuple[float, float], ...], Amount | None, str]:
    """Return the whole year before as a line, its end as printed, and its name."""
    now = board.now
    name = board.year - 1
    of_year = [m for m in now.history if reporting_year(_first(m), board.site.year_starts) == name]
    spans = [(i, s) for i, s in enumerate(now.by_year) if s.label.removeprefix("FY") == str(name)]
    if len(of_year) != 12 or not spans:
        return (), None, ""
    place, span = spans[0]
    first = _first(of_year[0])
    points = _points(tuple(of_year), [m.diverted.central for m in of_year], first,
                     _on(first, 12) - _DAY, board)  # fmt: skip
    end = board.printer.one(f"by_year[{place}].diverted.central", span.diverted.central, board.mass)
    return points, amount(end), str(name)


def years_section(board: Board) -> Section | None:
    """Return every reporting year so far, with targets; None where there is only one."""
    printer, now = board.printer, board.now
    spans = now.by_year
    if len(spans) < 2:
        return None
    largest = max(abs(s.diverted.central) for s in spans)
    scale = printer.scale("mass", largest, unit=board.mass.unit)
    targets = {t.year: i for i, t in enumerate(now.targets)}
    drawn_years, rows = [], []
    for i, span in enumerate(spans):
        value = printer.range(f"by_year[{i}].diverted", span.diverted, scale)
        received = printer.one(f"by_year[{i}].received.central", span.received.central, scale)
        place = targets.get(_name(span))
        target = None
        if place is not None:
            target = printer.one(f"targets[{place}].target", now.targets[place].target, scale)
        under = _missing(span, board)
        drawn_years.append(
            Year(str(_name(span)), amount(value), None if target is None else amount(target),
                 span.partial, under)
        )  # fmt: skip
        rows.append(
            Row(f"{_name(span)} {under}".strip(),
                (marked(received), marked(value), between(value, printer),
                 "–" if target is None else marked(target)))
        )  # fmt: skip
    data = Years(tuple(drawn_years), printer.plain(Text(N_("Diverted"))),
                 printer.unit_in_full(scale.unit))  # fmt: skip
    few = len(spans) <= _FEW_YEARS
    width = half_width_mm(board.look) if few else full_width_mm(board.look)
    shown = drawn(lambda look: years(data, look), width, printer.language, board.look,
                  screen=board.screen)  # fmt: skip
    table = Table(
        caption="",
        stub=printer.say(Text(N_("Year"))),
        heads=tuple(
            printer.say(Text(m))
            for m in (N_("Received"), N_("Diverted"), N_("90\u202f% range"), N_("Target"))
        ),
        groups=(Group("", tuple(rows)),),
    )
    return of_drawing(shown, (table,), beside=few)


def _name(span: Span) -> int:
    return int(span.label.removeprefix("FY"))


def _missing(span: Span, board: Board) -> str:
    """Return what is missing of a year that is not whole: "from Apr 1", "to Nov 25"."""
    if not span.partial:
        return ""
    starts = board.site.year_starts
    opens = dt.date(_name(span) if starts == 1 else _name(span) - 1, starts, 1)
    began = max(span.start, board.site.started)
    said = []
    if began > opens:
        said.append(Text(N_("from {day}"), {"day": _day(began, board)}))
    if span.end + _DAY < _on(opens, 12):
        said.append(Text(N_("to {day}"), {"day": _day(span.end, board)}))
    return " ".join(board.printer.plain(text) for text in said)


def _day(day: dt.date, board: Board) -> str:
    from babel.dates import format_skeleton

    locale = locale_of(board.printer.language, board.printer.country)
    return str(format_skeleton("MMMd", day, locale=locale))
