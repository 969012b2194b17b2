"""A grant's reporting years, added up from its months; the course of its total for the chart."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from divert.core.period import months_on, reporting_year
from divert.core.words import N_, Text
from divert.figures.contract import Figures, Month
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Group, Row, Table, parts_add_up, rounding_note
from divert.report.charts.chart import amount
from divert.report.charts.cumulative import Cumulated
from divert.report.charts.known_months import first_day, known_until
from divert.report.wording.dates import month_and_year, month_name, span


@dataclass(frozen=True, slots=True)
class _Year:
    name: int
    places: tuple[int, ...]  # of its months in by_month
    start: dt.date
    end: dt.date


def years_table(total: Figures, year_starts: int, scale: Scale, printer: Printer) -> Table:
    """Return received and diverted by reporting year (centrals: ranges do not add up)."""
    years = _years(total, year_starts)
    columns = [
        [
            printer.one(
                "+".join(f"total:by_month[{i}].{what}.central" for i in y.places),
                sum(_kg(total.by_month[i], what) for i in y.places), scale,
            )
            for y in years
        ]
        for what in ("received", "diverted")
    ]  # fmt: skip
    rows = [
        Row(str(y.name), (span(y.start, y.end, printer.language, printer.country),
                          *(column[i] for column in columns)))
        for i, y in enumerate(years)
    ]  # fmt: skip
    totals = [
        printer.central(f"total:mass.{what}", whole, scale, within=total.mass.received)
        for what, whole in (("received", total.mass.received), ("diverted", total.mass.diverted))
    ]
    period = total.period
    rows.append(
        Row(printer.say(Text(N_("Total"))),
            (span(period.start, period.end, printer.language, printer.country),
             *totals), "total")
    )  # fmt: skip
    return Table(
        caption=printer.say(
            Text(N_("By reporting year, {unit}"), {"unit": printer.unit_in_full(scale.unit)})
        ),
        stub=printer.say(Text(N_("Year"))),
        heads=tuple(printer.say(Text(m)) for m in (N_("Days"), N_("Received"), N_("Diverted"))),
        groups=(Group("", tuple(rows)),),
        words=frozenset({0}),
        note=rounding_note(
            printer, *(parts_add_up(of, whole) for of, whole in zip(columns, totals, strict=True))
        ),
    )


def _kg(month: Month, what: str) -> float:
    return month.received.central if what == "received" else month.diverted.central


def _years(total: Figures, year_starts: int) -> list[_Year]:
    found: dict[int, list[int]] = {}
    for i, month in enumerate(total.by_month):
        found.setdefault(reporting_year(first_day(month), year_starts), []).append(i)
    out = []
    for name, places in found.items():
        first, last = first_day(total.by_month[places[0]]), first_day(total.by_month[places[-1]])
        end = months_on(last, 1) - dt.timedelta(days=1)
        out.append(_Year(name, tuple(places), max(first, total.period.start),
                         min(end, total.period.end)))  # fmt: skip
    return out


def course(total: Figures, scale: Scale, printer: Printer) -> Cumulated | None:
    """Return how the total mounted up, month by month, for the chart; None where there is too little.

    The line ends with the month of the last entry: what came after is not known to be nothing.
    """
    until = known_until(total)
    months = tuple(m for m in total.by_month if first_day(m) <= until)
    if len(months) < 3 or not any(m.diverted.central for m in months):
        return None
    points, so_far = [(0.0, 0.0)], 0.0
    for i, month in enumerate(months):
        so_far += month.diverted.central / scale.factor
        points.append(((i + 1) / len(months), so_far))
    half = next((i for i, (_, mass) in enumerate(points) if mass >= so_far / 2), 0)
    printed = printer.range(
        "total:mass.diverted", total.mass.diverted, scale, within=total.mass.received
    )
    every = 1 if len(months) <= 14 else 3 if len(months) <= 40 else 12
    ticks = tuple(
        ((i + 0.5) / len(months), _tick(month, i, printer))
        for i, month in enumerate(months)
        if (first_day(month).month - 1) % every == 0
    )
    return Cumulated(
        points=tuple(points),
        so_far=amount(printed),
        ticks=ticks,
        measure=printer.plain(Text(N_("Diverted since the grant began"))),
        unit=printer.unit_in_full(scale.unit),
        half_by=month_and_year(first_day(months[half - 1]), printer.language) if half else "",
    )


def _tick(month: Month, place: int, printer: Printer) -> str:
    name = month_name(month.month, printer.language)
    january = month.month.endswith("-01")
    return f"{name} {month.month[:4]}" if january or place == 0 else name
