"""Two lines by quarter: what a ton cost, and how much of what came in was weighed."""

from __future__ import annotations

from divert.core.words import N_, Text
from divert.figures.contract import Span
from divert.figures.numbers.money import cost_per_ton
from divert.figures.numbers.printed import THIN, Printer
from divert.report.board.figures import Board
from divert.report.board.section import Section, of_drawing
from divert.report.charts.chart import Amount, amount
from divert.report.charts.drawn import drawn, half_width_mm
from divert.report.charts.quarter_line import MOST, Point, QuarterLine, quarter_line, worth_drawing

_ABOUT = 0.015
_CLEAR = 0.1  # a share that rose or fell by less is called neither


def cost_section(board: Board) -> Section | None:
    """Return what a ton diverted cost, quarter by quarter; None where that makes no line."""
    printer, now = board.printer, board.now
    name, scale = cost_per_ton(printer)
    points: list[Point] = []
    for i, (one, span) in list(enumerate(zip(now.money_by_quarter, now.by_quarter, strict=False)))[
        -MOST:
    ]:
        value = one.spent_per_tonne
        path = f"money_by_quarter[{i}].spent_per_tonne"
        shown = None if value is None else amount(printer.one(f"period:{path}", value, scale))
        points.append(_point(span, shown, first=not points, printer=printer))
    if not worth_drawing(points):
        return None
    measure = Text(N_("{line}, {currency} a quarter."),
                   {"line": name, "currency": now.money.currency})  # fmt: skip
    return _section(QuarterLine(tuple(points), Text(N_("What diverting it cost")), measure), board)


def weighed_section(board: Board) -> Section | None:
    """Return the weighed share of what came in, quarter by quarter; None where it makes no line."""
    printer = board.printer
    spans = [
        (i, s)
        for i, s in enumerate(board.now.by_quarter)
        if s.start <= board.known_until
    ][-MOST:]  # fmt: skip
    points: list[Point] = []
    for i, span in spans:
        shown = None
        if span.received.central > 0:
            key = f"period:by_quarter[{i}]"
            share = printer.share(f"{key}.weighed_kg/{key}.received.central",
                                  span.weighed_kg / span.received.central)  # fmt: skip
            shown = Amount(share.value * 100, f"{share.text}{THIN}%")
        points.append(_point(span, shown, first=not points, printer=printer))
    if not worth_drawing(points):
        return None
    measure = Text(N_("Of the mass received, weighed rather than estimated, by quarter."))
    return _section(QuarterLine(tuple(points), weighing([s for _, s in spans]), measure), board)


def _point(span: Span, value: Amount | None, *, first: bool, printer: Printer) -> Point:
    quarter = span.label[-1]
    label = printer.plain(Text(N_("Q{number}"), {"number": quarter}))
    return Point(label, value, span.label[:4] if first or quarter == "1" else "", span.partial)


def _section(data: QuarterLine, board: Board) -> Section:
    shown = drawn(lambda look: quarter_line(data, look), half_width_mm(board.look),
                  board.printer.language, board.look, screen=board.screen)  # fmt: skip
    return of_drawing(shown, half=True)


def weighing(spans: list[Span]) -> Text:
    """Say how much is weighed, and whether the later half of the quarters weighed more of it."""
    shown = [s for s in spans if s.received.central > 0]
    if not shown:
        return Text(N_("Nothing was received"))
    share = _share(shown)
    if share <= 0:
        return Text(N_("Nothing was weighed"))
    if share >= 1:
        return Text(N_("Everything was weighed"))
    if share > 0.9:
        return Text(N_("Nearly everything was weighed"))
    if len(shown) >= 4:
        half = len(shown) // 2
        rise = _share(shown[half:]) - _share(shown[:half])
        if rise >= _CLEAR:
            return Text(N_("A growing share is weighed"))
        if rise <= -_CLEAR:
            return Text(N_("A shrinking share is weighed"))
    if abs(share - 0.5) < _ABOUT:
        return Text(N_("About half is weighed"))
    if share > 0.5:
        return Text(N_("More is weighed than estimated"))
    return Text(N_("More is estimated than weighed"))


def _share(spans: list[Span]) -> float:
    whole = sum(s.received.central for s in spans)
    return sum(s.weighed_kg for s in spans) / whole if whole else 0.0
