"""The period by month or by quarter, each beside the same one a year before."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from divert.core.period import months_on
from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.compare import Verdict, verdict
from divert.figures.contract import Month
from divert.figures.numbers.printed import Printed, PrintedRange
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, between, halves
from divert.report.board.figures import Board
from divert.report.board.section import Section, of_drawing, shows_nothing
from divert.report.charts.by_month import ByMonth, MonthColumn, by_month
from divert.report.charts.chart import amount
from divert.report.charts.drawn import drawn, full_width_mm
from divert.report.charts.known_months import a_year_before, broken_off, first_day, silent_months
from divert.report.wording.dates import month_and_year, month_name

_DAY = dt.timedelta(days=1)
_MOST_MONTHS = 18  # more of them are told by quarter
_MOST_QUARTERS = 24


def months_section(board: Board) -> Section | None:
    """Return the months of the period beside the same ones a year before; quarters where too many."""
    printer = board.printer
    shown = _months(board)
    if shown is None:
        return _quarters_section(board)
    if shows_nothing(
        [
            figure.text
            for m in shown.months
            for figure in (None if m.value is None else m.value.central, m.then)
            if figure is not None
        ]
    ):
        return None
    columns = [
        MonthColumn(
            label=month_name(m.month.month, printer.language),
            now=None if m.value is None else amount(m.value),
            before=None if m.then is None else amount(m.then),
            under=m.month.month[:4] if i == 0 or m.month.month.endswith("-01") else "",
            partial=m.partial,
            name=month_and_year(first_day(m.month), printer.language),
            than_before=m.than_before,
        )
        for i, m in enumerate(shown.months)
    ]
    data = ByMonth(
        tuple(columns),
        printer.plain(Text(N_("Diverted"))),
        printer.unit_in_full(shown.scale.unit),
        "month",
        _year_before_name(board),
    )
    return of_drawing(
        drawn(lambda look: by_month(data, look), full_width_mm(board.look), printer.language,
              board.look, screen=board.screen)
    )  # fmt: skip


def _year_before_name(board: Board) -> str:
    """Return what the outlined columns are called, where they all lie in one calendar year."""
    if board.before is None:
        return ""
    first, last = board.before.period.start.year, board.before.period.end.year
    return str(first) if first == last else ""


@dataclass(frozen=True, slots=True)
class _Shown:
    """A month with its figures as printed; None where nothing is known of it."""

    month: Month
    value: PrintedRange | None
    then: Printed | None
    partial: bool

    @property
    def than_before(self) -> Verdict | None:
        """Return how it compares with the year before; None where the two are not alike."""
        if self.value is None or self.then is None or self.month.change is None or self.partial:
            return None
        return verdict(self.month.change, self.value.central, self.then)


@dataclass(frozen=True, slots=True)
class _Months:
    months: tuple[_Shown, ...]
    scale: Scale


def _months(board: Board) -> _Months | None:
    """Return the months up to the last entry with their figures; None where too many for a chart."""
    printer, now = board.printer, board.now
    until, silent, broken = board.known_until, silent_months(now), broken_off(now)
    known = board.known_months
    if not any(m.diverted.central for _, m in known):
        return None
    if not 0 < len(known) <= _MOST_MONTHS:
        return None
    before = _months_before(board)
    largest = max(abs(m.diverted.central) for _, m in known)
    scale = printer.scale("mass", largest or now.mass.diverted.central, unit=board.mass.unit)
    out = []
    for i, month in known:
        value = None
        if month.month not in silent:
            value = printer.range(
                f"by_month[{i}].diverted", month.diverted, scale, within=month.received
            )
        then = None if month.month == broken else before.get(a_year_before(month))
        figure = None if then is None else printer.central(*then, scale)
        cut = until < now.period.end and until < months_on(first_day(month), 1) - _DAY
        out.append(_Shown(month, value, figure, month.partial or cut))
    return _Months(tuple(out), scale)


def _months_before(board: Board) -> dict[str, tuple[str, Range]]:
    """Return the key and the kg of each month of the year before that is known and whole."""
    before = board.before
    if before is None:
        return {}
    silent = silent_months(before)
    return {
        m.month: (f"before:by_month[{i}].diverted", m.diverted)
        for i, m in enumerate(before.by_month)
        if m.month not in silent and first_day(m) >= board.site.started
    }


def months_tables(board: Board) -> tuple[Table, ...]:
    """Return the numbers behind the months, in two tables side by side where there are many."""
    shown = _months(board)
    if shown is None:
        return ()
    printer = board.printer
    rows = []
    for m in shown.months:
        head = month_and_year(first_day(m.month), printer.language)
        if m.value is None:
            cells: list[Cell] = [printer.say(Text(N_("no entries"))), ""]
        else:
            cells = [m.value, between(m.value, printer)]
        if any(other.then is not None for other in shown.months):
            cells.append("–" if m.then is None else m.then)
        rows.append(Row(head, tuple(cells)))
    compared = any(m.then is not None for m in shown.months)
    return tuple(_months_table(board, part, compared) for part in halves(rows))


def _months_table(board: Board, rows: Sequence[Row], compared: bool) -> Table:
    printer = board.printer
    heads = [N_("Diverted"), N_("90\u202f% range")]
    if compared:
        heads.append(N_("A year before"))
    return Table(
        caption="",
        stub=printer.say(Text(N_("Month"))),
        heads=tuple(printer.say(Text(m)) for m in heads),
        groups=(Group("", tuple(rows)),),
    )


def _quarters_section(board: Board) -> Section | None:
    """Return the quarters beside the same ones a year before; None where these are too many, too."""
    printer = board.printer
    spans = [s for s in board.now.by_quarter if s.start <= board.known_until]
    if not 0 < len(spans) <= _MOST_QUARTERS or len(board.now.by_month) <= _MOST_MONTHS:
        return None
    largest = max(abs(s.diverted.central) for s in spans)
    if not largest:
        return None
    scale = printer.scale("mass", largest, unit=board.mass.unit)
    columns = []
    for i, span in enumerate(spans):
        value = printer.range(
            f"by_quarter[{i}].diverted", span.diverted, scale, within=span.received
        )
        year_ago = spans[i - 4] if i >= 4 else None
        then, than_before = None, None
        if year_ago is not None and not year_ago.partial:
            before = printer.central(f"by_quarter[{i - 4}].diverted", year_ago.diverted, scale,
                                     within=year_ago.received)  # fmt: skip
            then = amount(before)
            if span.change is not None:
                than_before = verdict(span.change, value.central, before)
        label = printer.plain(Text(N_("Q{number}"), {"number": span.label[-1]}))
        year = span.label[:4]
        columns.append(
            MonthColumn(label, amount(value), then, year if i == 0 or span.label[-1] == "1" else "",
                   partial=span.partial, name=f"{label} {year}", than_before=than_before)
        )  # fmt: skip
    data = ByMonth(tuple(columns), printer.plain(Text(N_("Diverted"))),
                   printer.unit_in_full(scale.unit), "quarter")  # fmt: skip
    return of_drawing(
        drawn(lambda look: by_month(data, look), full_width_mm(board.look), printer.language,
              board.look, screen=board.screen)
    )  # fmt: skip
