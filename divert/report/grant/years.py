"""A grant's reporting years, added up from its months."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from divert.core.period import months_on, reporting_year
from divert.core.words import N_, Text
from divert.figures.contract import Figures, Month
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Group, Row, Table, parts_add_up, rounding_note
from divert.report.charts.known_months import first_day
from divert.report.wording.dates import span


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
        [_of_year(total, y, what, scale, printer) for y in years]
        for what in ("received", "diverted")
    ]
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


def _of_year(total: Figures, year: _Year, what: str, scale: Scale, printer: Printer) -> Printed:
    """Print one amount of a year: by its range where it is a whole span of the figures."""
    for i, known in enumerate(total.by_year):
        if (known.start, known.end) == (year.start, year.end):
            spread = known.received if what == "received" else known.diverted
            path = f"total:by_year[{i}].{what}"
            return printer.central(path, spread, scale, within=known.received)
    key = "+".join(f"total:by_month[{i}].{what}.central" for i in year.places)
    return printer.one(key, sum(_kg(total.by_month[i], what) for i in year.places), scale)


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
