"""The drawings of a sponsor report, and the table of the same months."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.contract import Mass, Month
from divert.figures.numbers.printed import Printed, PrintedRange, Printer
from divert.figures.numbers.tables import between
from divert.report.charts.by_month import ByMonth, Column, by_month
from divert.report.charts.chart import amount, in_sentence
from divert.report.charts.drawn import Drawn, drawn, full_width_mm, half_width_mm
from divert.report.charts.known_months import first_day
from divert.report.charts.mix import Mix, MixPart, largest, mix
from divert.report.charts.strip import Strip, strip
from divert.report.paper.look import Look
from divert.report.sponsor.scope import Scope, balance_counts
from divert.report.wording.dates import month_and_year, month_name
from divert.report.wording.material_names import material_name

_FEWEST_MONTHS, _MOST_MONTHS = 6, 12
_LONG_NAME = 44  # letters that half a page still sets in two lines


def balance_strip(scope: Scope, printer: Printer, look: Look, *, screen: bool) -> Drawn | None:
    """Return the balance strip, or None where nothing was received or charged."""
    mass, scale = scope.mass, scope.scale
    values = (mass.not_claimed.central, scope.thrown_away.central)
    if not mass.diverted.central and not any(values):
        return None
    diverted = printer.one(f"{scope.balance_key('diverted')}.central", mass.diverted.central, scale)
    others = [
        printer.settled(f"{scope.balance_key(name)}.central", value, count, scale,
                        f"{scope.root}balance")
        for name, value, count in zip(
            ("not_claimed", "thrown_away"), values, balance_counts(scope)[1:], strict=True
        )
    ]  # fmt: skip
    parts = (diverted, *others)
    received = printer.only_drawn(
        f"{scope.balance_key('received')}.central", mass.received.central, scale
    )
    one, two, three = (amount(part) for part in parts)
    data = Strip(amount(received), one, two, three, printer.unit(scope.scale.unit))
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


def month_table(scope: Scope, printer: Printer) -> MonthTable | None:
    """Return the months of the period, received and diverted; None where it would say nothing."""
    if not 1 < len(scope.by_month) <= _MOST_MONTHS:
        return None
    if not any(m.received.central or m.diverted.central for m in scope.by_month):
        return None
    diverted = _diverted(scope, printer)
    received = _by_month(
        scope, "received", lambda m: m.received, f"{scope.root}received by month", printer
    )
    before, before_total = _before(scope, printer)
    rows = []
    for i, m in enumerate(scope.by_month):
        name = month_name(m.month, printer.language, "wide")
        then: Printed | str = before.get(i, NOTHING_KNOWN)
        if i not in received:
            none = printer.plain(Text(N_("no entries")))
            rows.append(MonthRow(name, none, NOTHING_KNOWN, NOTHING_KNOWN, then))
            continue
        ranged = _ranged(diverted[i], m, f"{scope.root}by_month[{i}]", scope, printer)
        rows.append(MonthRow(name, received[i], ranged, between(ranged, printer), then))
    whole = printer.range(scope.balance_key("diverted"), scope.mass.diverted, scope.scale)
    return MonthTable(
        printer.unit_in_full(scope.scale.unit),
        printer.plain(Text(N_("90\u202f% range"))),
        tuple(rows),
        printer.one(
            f"{scope.balance_key('received')}.central", scope.mass.received.central, scope.scale
        ),
        whole,
        between(whole, printer),
        before_total,
        bool(before),
    )


NOTHING_KNOWN = "–"


def _before(scope: Scope, printer: Printer) -> tuple[dict[int, Printed], Printed | str]:
    """Return last year's figure of each month that has one, and their sum where all have."""
    then = {i: scope.year_before(m) for i, m in enumerate(scope.by_month)}
    had = {i: mass.central for i, mass in then.items() if mass is not None}
    paths = [f"{scope.root}by_month[{i}].same_month_last_year.central" for i in had]
    total = sum(had.values())
    group = f"{scope.root}a year before"
    printed = printer.parts(paths, list(had.values()), scope.scale, total, group)
    if len(had) < len(scope.by_month):
        return dict(zip(had, printed, strict=True)), NOTHING_KNOWN
    key = "+".join(f"{printer.figures_set}:{path}" for path in paths)
    return dict(zip(had, printed, strict=True)), printer.one(key, total, scope.scale, group)


def month_chart(scope: Scope, printer: Printer, look: Look, *, screen: bool) -> Drawn | None:
    """Return the months of the period (at least six, with earlier ones paler) beside last year's."""
    if not scope.by_month:
        return None
    first = max(0, len(scope.by_month) - _MOST_MONTHS)
    diverted = _diverted(scope, printer)
    start = scope.by_month[0].month
    earlier = [(i, m) for i, m in enumerate(scope.history) if m.month < start]
    more = max(0, _FEWEST_MONTHS - len(scope.by_month))
    earlier = earlier[len(earlier) - more :] if more else []
    columns = []
    for i, m in earlier:
        path = f"{scope.root}history[{i}]"
        now = None
        if scope.is_known(m):
            now = printer.one(f"{path}.diverted.central", m.diverted.central, scope.scale)
        columns.append(_column(m, now, path, scope, printer, full=False))
    for i, m in list(enumerate(scope.by_month))[first:]:
        path = f"{scope.root}by_month[{i}]"
        columns.append(_column(m, diverted.get(i), path, scope, printer, full=True))
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
    keys = [f"{scope.root}by_material[{i}].diverted.central" for i, _ in named]
    values = [p.diverted.central for _, p in named]
    if rest:
        paths = [f"{scope.root}by_material[{i}].diverted.central" for i, _ in rest]
        keys.append("+".join(f"{printer.figures_set}:{path}" for path in paths))
        values.append(sum(p.diverted.central for _, p in rest))
    total = scope.mass.diverted.central
    printed = printer.parts(keys, values, scope.scale, total, f"{scope.root}by_material")
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


def _diverted(scope: Scope, printer: Printer) -> dict[int, Printed]:
    return _by_month(scope, "diverted", lambda m: m.diverted, f"{scope.root}by_month", printer)


def _by_month(
    scope: Scope, what: str, of: Callable[[Month | Mass], Range], group: str, printer: Printer
) -> dict[int, Printed]:
    """Return one mass of each month that something is known of, by its place; they add up."""
    known = [i for i, m in enumerate(scope.by_month) if scope.is_known(m)]
    printed = printer.parts(
        [f"{scope.root}by_month[{i}].{what}.central" for i in known],
        [of(scope.by_month[i]).central for i in known], scope.scale, of(scope.mass).central, group,
    )  # fmt: skip
    return dict(zip(known, printed, strict=True))


def _ranged(now: Printed, month: Month, path: str, scope: Scope, printer: Printer) -> PrintedRange:
    low = printer.one(f"{path}.diverted.low", month.diverted.low, scope.scale)
    high = printer.one(f"{path}.diverted.high", month.diverted.high, scope.scale)
    return PrintedRange(now, low, high)


def _column(
    month: Month, now: Printed | None, path: str, scope: Scope, printer: Printer, *, full: bool
) -> Column:
    """Return a month as it is drawn; the ends of its range and last year's stand in no label."""
    shown = None
    if now is not None:
        low, high = (
            printer.only_drawn(f"{path}.diverted.{end}", getattr(month.diverted, end), scope.scale)
            for end in ("low", "high")
        )
        shown = amount(PrintedRange(now, low, high))
    then = scope.year_before(month)
    return Column(
        label=month_name(month.month, printer.language),
        now=shown,
        before=None
        if then is None
        else amount(
            printer.only_drawn(f"{path}.same_month_last_year.central", then.central, scope.scale)
        ),
        under=month.month[:4] if month.month.endswith("-01") else "",
        full=full,
        partial=(month.partial or month.month == scope.cut) and now is not None,
        name=month_and_year(first_day(month), printer.language),
    )
