"""Charts to test with: ordinary ones, and those that try to break a layout."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from divert.core.words import Text
from divert.report.charts.by_month import ByMonth, MonthColumn, by_month
from divert.report.charts.chart import Amount, Chart, Look
from divert.report.charts.cumulative import Cumulated, cumulative
from divert.report.charts.dots import Dots, Pair, dots
from divert.report.charts.mix import Mix, MixPart, mix
from divert.report.charts.quarter_line import Point, QuarterLine, quarter_line
from divert.report.charts.strip import Strip, strip
from divert.report.charts.years import Year, Years, years

LONG = "The very long name of an organisation that needs eighty characters to say who it is"
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def amount(value: float, spread: float = 0.1) -> Amount:
    """Return a number with a range of a tenth either way."""
    text = f"{value:,.0f}".replace("-", "\u2212")
    return Amount(value, text, value - abs(value) * spread, value + abs(value) * spread)


def months(
    values: list[float], before: list[float] | None = None, partial: bool = False
) -> ByMonth:
    """Return months in order, the last one partial if wanted."""
    columns = tuple(
        MonthColumn(
            MONTHS[i % 12],
            amount(value),
            None if before is None else amount(before[i]),
            str(2024 + i // 12) if i % 12 == 0 else "",
            full=i >= len(values) // 2,
            partial=partial and i + 1 == len(values),
            name=f"{MONTHS[i % 12]} {2024 + i // 12}",
        )
        for i, value in enumerate(values)
    )
    return ByMonth(columns, "Diverted", "pounds", "month", "2023" if before else "")


def balance(diverted: float, not_claimed: float, thrown_away: float) -> Strip:
    """Return a balance whose received mass is the sum of its parts."""
    return Strip(
        amount(diverted + not_claimed + thrown_away),
        amount(diverted), amount(not_claimed), amount(thrown_away), "pounds",
    )  # fmt: skip


def parts(*values: tuple[str, float]) -> Mix:
    """Return a mix; a part called "Other" is the rest."""
    return Mix(tuple(MixPart(n, amount(v), n == "Other") for n, v in values), "Diverted", "pounds")


TICKS = tuple(((i + 0.5) / 12, name) for i, name in enumerate(MONTHS))


def rising(end: float, value: float, target: float | None, before: float | None) -> Cumulated:
    """Return a line that rises evenly to ``value`` at ``end`` of the year."""
    points = tuple((end * i / 10, value * i / 10) for i in range(11))
    return Cumulated(
        points, amount(value), TICKS, "Diverted", "pounds", "2025",
        None if target is None else amount(target),
        () if before is None else ((0.0, 0.0), (1.0, before)),
        None if before is None else amount(before), "2024",
    )  # fmt: skip


def one_a_year(*values: float, target: float | None = None) -> Years:
    """Return years in order, the first and the last of them not whole."""
    last = len(values) - 1
    return Years(
        tuple(
            Year(str(2020 + i), amount(value), None if target is None else amount(target),
                 i in (0, last), "from Apr 1" if i == 0 else "to Nov 25" if i == last else "")
            for i, value in enumerate(values)
        ), "Diverted", "pounds",
    )  # fmt: skip


def quarters(*values: float | None) -> QuarterLine:
    """Return quarters by one figure each, the last one not over; None where none is recorded."""
    return QuarterLine(
        tuple(
            Point(f"Q{i % 4 + 1}", None if value is None else amount(value),
                  str(2023 + i // 4) if i % 4 == 0 else "", i + 1 == len(values))
            for i, value in enumerate(values)
        ), Text("What diverting it cost"), Text("Spent per short ton, USD a quarter."),
    )  # fmt: skip


def pairs(*rows: tuple[str, float | None, float | None]) -> Dots:
    """Return sources by name with what came now and a year before."""
    return Dots(
        tuple(
            Pair(name, *(None if v is None else amount(v) for v in values))
            for name, *values in rows
        ), Text("Sources gained: 1; none lost"), "Received by source", "pounds", "2025", "2024",
    )  # fmt: skip


DRAWINGS: dict[str, Callable[[Look], Chart]] = {
    "six months beside last year": lambda look: by_month(
        months([1040, 996, 1380, 1484, 1810, 2026], [820, 760, 1040, 1300, 1400, 1500]), look
    ),
    "twelve large months, the last one open": lambda look: by_month(
        months([20000 + 900 * i for i in range(12)], [31000 - 400 * i for i in range(12)], True), look
    ),
    "a month below zero": lambda look: by_month(months([-120, 300, 2], [40, -50, 500]), look),
    "two years of months": lambda look: by_month(months([100 + 37 * i for i in range(24)]), look),
    "months without entries": lambda look: by_month(
        replace(
            holed := months([1040, 996, 1380, 1484, 1810, 2026], [820, 760, 1040, 1300, 1400, 1500]),
            columns=tuple(replace(c, now=None) if i in (1, 4) else c
                          for i, c in enumerate(holed.columns)),
        ), look,
    ),
    "one month": lambda look: by_month(months([12]), look),
    "nothing at all": lambda look: by_month(months([0, 0, 0], [0, 0, 0]), look),
    "a usual balance": lambda look: strip(balance(5320, 1650, 520), look),
    "slivers": lambda look: strip(balance(500000, 1, 2), look),
    "nothing diverted": lambda look: strip(balance(0, 0, 300), look),
    "an adjustment below zero": lambda look: strip(balance(-120, 40, 400), look),
    "an empty balance": lambda look: strip(balance(0, 0, 0), look),
    "a usual mix": lambda look: mix(parts(("scraps", 290), ("pulp", 113), ("Other", 36)), look),
    "long names": lambda look: mix(parts((LONG, 290), ("W" * 80, 3), ("Other", 1)), look),
    "a part below zero": lambda look: mix(parts(("scraps", 290), ("leaves", -90)), look),
    "short of the target": lambda look: cumulative(rising(1.0, 109, 120, 91), look),
    "half a year, lines close together": lambda look: cumulative(rising(0.5, 100, 101, 200), look),
    "no target": lambda look: cumulative(rising(0.9, 100, None, None), look),
    "four years": lambda look: years(
        Years(
            (
                Year("2022", amount(42), None, True, "from Apr 1"), Year("2023", amount(91), amount(80)),
                Year("2024", amount(109), amount(120)),
                Year("2025", amount(70), amount(140), True, "to Nov 25"),
            ), "Diverted", "pounds",
        ), look,
    ),
    "many years": lambda look: years(
        Years(tuple(Year(str(2010 + i), amount(90 + i), amount(91 + i)) for i in range(14)),
              "Diverted", "pounds"), look,
    ),
    "lines that end in one place": lambda look: cumulative(rising(1.0, 100, 100, 100), look),
    "lines that cross in one place": lambda look: cumulative(rising(0.5, 50, 50, 100), look),
    "the first days of a year": lambda look: cumulative(rising(0.03, 3, 100, 90), look),
    "nothing of a target": lambda look: cumulative(rising(1.0, 0, 100, 0), look),
    "a year below zero": lambda look: cumulative(rising(1.0, -30, 100, 20), look),
    "very large lines": lambda look: cumulative(rising(0.98, 149676498, 900000000, 1), look),
    "one year": lambda look: years(one_a_year(91), look),
    "years of nothing": lambda look: years(one_a_year(0, 0, 0), look),
    "years below zero": lambda look: years(one_a_year(-40, 30, -1), look),
    "alike years at their targets": lambda look: years(one_a_year(*[100] * 6, target=100), look),
    "targets far above": lambda look: years(one_a_year(4, 5, 5, 6, target=26000), look),
    "very large years": lambda look: years(one_a_year(149676498, 98000000, target=9e8), look),
    "a line by quarter": lambda look: quarter_line(quarters(242, 237, 188, 410, 223, 318, 284), look),
    "three years of quarters": lambda look: quarter_line(
        quarters(*[200 + 37 * (i % 5) for i in range(12)]), look
    ),
    "a line with gaps": lambda look: quarter_line(quarters(4, None, 6, None, None, 3, 5), look),
    "a line that leaps": lambda look: quarter_line(quarters(1, 149676498, 0, 98000000), look),
    "sources beside last year": lambda look: dots(
        pairs(("Hill kitchen", 2560, 2110), (LONG, 1427, 1310), ("W" * 80, 10, None),
              ("Gone", None, 755), ("Alike", 755, 755)), look
    ),
    "sources of nothing": lambda look: dots(pairs(("Hill kitchen", 0, 0), ("Inn", 0, None)), look),
    "a mix of nothing": lambda look: mix(parts(("scraps", 0), ("pulp", 0)), look),
    "alike parts": lambda look: mix(parts(*[(name, 100) for name in MONTHS[:5]], ("Other", 100)), look),
    "very large parts": lambda look: mix(parts((LONG, 149676498), ("pulp", 1), ("Other", 9e8)), look),
}  # fmt: skip
