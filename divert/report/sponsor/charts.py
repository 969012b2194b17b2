"""The drawings of a sponsor report, and the table of the same months."""

from __future__ import annotations

from dataclasses import dataclass, replace

from markupsafe import Markup

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.compare import verdict
from divert.figures.contract import Month
from divert.figures.numbers.printed import Printed, PrintedRange, Printer
from divert.figures.numbers.tables import NOT_ADDING, between, parts_add_up
from divert.report.charts.by_month import ByMonth, MonthColumn, by_month
from divert.report.charts.chart import Amount, amount, in_sentence
from divert.report.charts.drawn import Drawn, drawn, full_width_mm, half_width_mm
from divert.report.charts.known_months import first_day
from divert.report.charts.mix import Mix, MixPart, largest, mix
from divert.report.charts.strip import Strip, strip
from divert.report.paper.look import Look
from divert.report.sponsor.scope import Scope
from divert.report.wording.dates import month_and_year, month_name
from divert.report.wording.material_names import material_name

_FEWEST_MONTHS, _MOST_MONTHS = 6, 12
_LONG_NAME = 44  # letters that half a page still sets in two lines


def balance_strip(
    scope: Scope, printer: Printer, look: Look, *, share: tuple[Printed, str] | None = None,
    screen: bool,
) -> Drawn | None:  # fmt: skip
    """Return the balance strip, or None where nothing was received or charged.

    ``share`` is a part of what was diverted that is the reader's own, with its words.
    """
    mass, scale = scope.mass, scope.scale
    values = (mass.not_claimed.central, scope.thrown_away.central)
    if not mass.diverted.central and not any(values):
        return None
    diverted = scope.diverted(printer).central
    others = (
        printer.central(scope.balance_key("not_claimed"), mass.not_claimed, scale),
        printer.central(scope.balance_key("thrown_away"), scope.thrown_away, scale),
    )
    parts = (diverted, *others)
    received = scope.received(printer)
    one, two, three = (amount(part) for part in parts)
    data = Strip(amount(received), one, two, three, printer.unit(scope.scale.unit))
    if share is not None:
        drawn_share = share[0].value / scope.scale.factor  # the strip may be in another unit
        data = replace(data, bracket=Amount(drawn_share, share[0].text), bracket_says=share[1])
    return drawn(
        lambda chart_look: strip(data, chart_look), full_width_mm(look), printer.language, look,
        screen=screen,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class MonthRow:
    """One row of the table of months: figures, or a word where nothing is known."""

    name: str
    received: Printed | str
    diverted: PrintedRange | str
    between: Markup | str
    before: Printed | str


@dataclass(frozen=True, slots=True)
class MonthTable:
    """The months of the period and their total, all in ``unit``; ``range_head`` heads the ranges."""

    unit: str
    range_head: str
    rows: tuple[MonthRow, ...]
    received: Printed
    diverted: PrintedRange
    between: Markup
    before: Printed | str
    compares: bool
    note: str = ""


def month_table(scope: Scope, printer: Printer) -> MonthTable | None:
    """Return the months of the period, received and diverted; None where it would say nothing."""
    if not 1 < len(scope.by_month) <= _MOST_MONTHS:
        return None
    if not any(m.received.central or m.diverted.central for m in scope.by_month):
        return None
    before, before_total = _before(scope, printer)
    rows = []
    for i, m in enumerate(scope.by_month):
        name = month_name(m.month, printer.language, "wide")
        then: Printed | str = before.get(i, NOTHING_KNOWN)
        if not scope.is_known(m):
            none = printer.plain(Text(N_("no entries")))
            rows.append(MonthRow(name, none, NOTHING_KNOWN, NOTHING_KNOWN, then))
            continue
        path = f"{scope.root}by_month[{i}]"
        received = printer.central(f"{path}.received", m.received, scope.scale)
        ranged = _diverted(m, path, scope, printer)
        rows.append(MonthRow(name, received, ranged, between(ranged, printer), then))
    whole = scope.diverted(printer)
    return MonthTable(
        printer.unit_in_full(scope.scale.unit),
        printer.plain(Text(N_("90\u202f% range"))),
        tuple(rows),
        scope.received(printer),
        whole,
        between(whole, printer),
        before_total,
        bool(before),
        _note(rows, scope.received(printer), whole.central, printer),
    )


def _note(rows: list[MonthRow], received: Printed, diverted: Printed, printer: Printer) -> str:
    """Return that the months may not add, where as printed they do not."""
    taken_in = [row.received for row in rows if isinstance(row.received, Printed)]
    kept = [row.diverted.central for row in rows if isinstance(row.diverted, PrintedRange)]
    if parts_add_up(taken_in, received) and parts_add_up(kept, diverted):
        return ""
    return printer.plain(NOT_ADDING)


NOTHING_KNOWN = "–"


def _before(scope: Scope, printer: Printer) -> tuple[dict[int, Printed], Printed | str]:
    """Return last year's figure of each month that has one, and their sum where all have."""
    then = {i: scope.year_before(m) for i, m in enumerate(scope.by_month)}
    had = {i: mass for i, mass in then.items() if mass is not None}
    paths = {i: f"{scope.root}by_month[{i}].same_month_last_year" for i in had}
    printed = {i: printer.central(paths[i], mass, scope.scale) for i, mass in had.items()}
    if len(had) < len(scope.by_month):
        return printed, NOTHING_KNOWN
    year_ago = scope.a_year_earlier
    if year_ago is not None and year_ago.diverted is not None:  # the same sum, in a sentence too
        path = f"{scope.root}same_period_last_year.diverted"
        whole_then = printer.central(path, year_ago.diverted, scope.scale, within=year_ago.received)
        return printed, whole_then
    key = "+".join(f"{printer.figures_set}:{path}.central" for path in paths.values())
    whole = sum(mass.central for mass in had.values())
    return printed, printer.one(key, whole, scope.scale)


def month_chart(scope: Scope, printer: Printer, look: Look, *, screen: bool) -> Drawn | None:
    """Return the months of the period (at least six, with earlier ones paler) beside last year's."""
    if not scope.by_month:
        return None
    first = max(0, len(scope.by_month) - _MOST_MONTHS)
    start = scope.by_month[0].month
    earlier = [(i, m) for i, m in enumerate(scope.history) if m.month < start]
    more = max(0, _FEWEST_MONTHS - len(scope.by_month))
    earlier = earlier[len(earlier) - more :] if more else []
    columns = []
    for i, m in earlier:
        path = f"{scope.root}history[{i}]"
        columns.append(_column(m, path, scope, printer, full=False))
    for i, m in list(enumerate(scope.by_month))[first:]:
        path = f"{scope.root}by_month[{i}]"
        columns.append(_column(m, path, scope, printer, full=True))
    shown = [m for _, m in earlier] + list(scope.by_month[first:])
    if not any(m.diverted.central or _central(scope.year_before(m)) for m in shown):
        return None  # nothing in any month: the headline says it
    years = {int(m.month[:4]) - 1 for m in shown}
    measure = (
        N_("Diverted from your material")
        if scope.kind == "supplied"
        else N_("Diverted by the whole site")
    )
    data = ByMonth(
        tuple(columns),
        measure=printer.plain(Text(measure)),
        unit=printer.unit(scope.scale.unit),
        year_before=str(years.pop()) if len(years) == 1 else "",
    )
    return drawn(
        lambda chart_look: by_month(data, chart_look), full_width_mm(look), printer.language, look,
        screen=screen,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class MixShown:
    """The materials as drawn; ``across`` where their names need the whole width of the page."""

    drawing: Drawn
    across: bool


def mix_chart(
    scope: Scope, measure: Text, printer: Printer, look: Look, *, screen: bool
) -> MixShown | None:
    """Return the materials diverted, at most five and the rest; None where there is but one."""
    present = [(i, p) for i, p in enumerate(scope.by_material) if p.diverted.central != 0]
    if len(present) < 2 or not any(p.diverted.central > 0 for _, p in present):
        return None
    named, rest = largest(present, lambda item: item[1].diverted.central)
    printed = [
        printer.central(f"{scope.root}by_material[{i}].diverted", p.diverted, scope.scale,
                        within=p.received)
        for i, p in named
    ]  # fmt: skip
    if rest:
        paths = [f"{scope.root}by_material[{i}].diverted.central" for i, _ in rest]
        key = "+".join(f"{printer.figures_set}:{path}" for path in paths)
        printed.append(printer.one(key, sum(p.diverted.central for _, p in rest), scope.scale))
    shown = [
        MixPart(in_sentence(material_name(p.name, printer)), amount(f))
        for (_, p), f in zip(named, printed, strict=False)
    ]  # fmt: skip
    if rest:
        shown.append(MixPart(printer.plain(Text(N_("other"))), amount(printed[-1]), rest=True))
    data = Mix(tuple(shown), printer.plain(measure), printer.unit(scope.scale.unit))
    across = any(len(part.name) > _LONG_NAME for part in shown)
    drawing = drawn(
        lambda chart_look: mix(data, chart_look),
        full_width_mm(look) if across else half_width_mm(look), printer.language, look,
        screen=screen and across,
    )  # fmt: skip
    return MixShown(drawing, across)


def _central(mass: Range | None) -> float:
    return 0.0 if mass is None else mass.central


def _diverted(month: Month, path: str, scope: Scope, printer: Printer) -> PrintedRange:
    return printer.range(f"{path}.diverted", month.diverted, scope.scale, within=month.received)


def _column(month: Month, path: str, scope: Scope, printer: Printer, *, full: bool) -> MonthColumn:
    """Return a month as it is drawn; the ends of its range and last year's stand in no label."""
    shown, before, than_before = None, None, None
    partial = month.partial or month.month == scope.cut
    then = scope.year_before(month)
    if then is not None:
        before = printer.drawn(f"{path}.same_month_last_year", then, scope.scale).central
    if scope.is_known(month):
        key, value = f"{path}.diverted", month.diverted
        now = printer.central(key, value, scope.scale, within=month.received)
        drawn_ends = printer.drawn(key, value, scope.scale)
        shown = amount(PrintedRange(now, drawn_ends.low, drawn_ends.high))
        if before is not None and month.change is not None and not partial:
            than_before = verdict(month.change, now, before)
    return MonthColumn(
        label=month_name(month.month, printer.language),
        now=shown,
        before=None if before is None else amount(before),
        under=month.month[:4] if month.month.endswith("-01") else "",
        full=full,
        partial=partial and shown is not None,
        name=month_and_year(first_day(month), printer.language),
        than_before=than_before,
    )
