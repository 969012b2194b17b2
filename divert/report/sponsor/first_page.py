"""What makes a sponsor's first page worth keeping: the way so far, where it went, what may be said."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection
from dataclasses import dataclass

from markupsafe import Markup

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.compare import is_printed_zero
from divert.figures.contract import Compared, Cumulative, Figures, Span
from divert.figures.numbers.printed import PrintedRange, Printer
from divert.figures.numbers.scales import Scale
from divert.report.charts.chart import amount
from divert.report.charts.drawn import Drawn, drawn, full_width_mm
from divert.report.charts.quarters import WIDTH_MM as SMALL_LINE_MM
from divert.report.charts.quarters import Quarter, Quarters, quarters
from divert.report.charts.ribbon import Lot, Ribbon, ribbon
from divert.report.paper.look import Look
from divert.report.sponsor.scope import Scope
from divert.report.sponsor.words import Claim, all_weighed
from divert.report.wording.against_last_year import against_last_year, not_compared, sentence
from divert.report.wording.dates import month_and_year, shown_days
from divert.report.wording.harvest import what_and_where

_FEWEST_QUARTERS = 2
_MOST_QUARTERS = 16
_WELL_WEIGHED = 0.5


@dataclass(frozen=True, slots=True)
class SoFar:
    """What a sponsor's part comes to since they began, in words and as a small line of quarters."""

    words: Markup
    line: Drawn | None


def so_far(claim: Claim, figures: Figures, printer: Printer, look: Look) -> SoFar | None:
    """Return the way so far; None where there is nothing before this period."""
    own = figures.supplied if claim.kind == "supplied" else figures.supported
    since: Cumulative | None = None if own is None else own.cumulative
    if own is None or since is None or since.diverted.central <= claim.diverted.central * 1.001:
        return None
    scale = printer.scale("mass", since.diverted.central)
    total = printer.central(f"{claim.kind}.cumulative.diverted", since.diverted, scale)
    words = printer.say(
        Text(N_("Since {month}: {amount}."),
             {"month": month_and_year(since.since, printer.language),
              "amount": Markup("<b>{}</b>").format(printer.with_unit(total))})
    )  # fmt: skip
    return SoFar(words, _line(own.by_quarter, claim, figures, scale, printer, look))


def _line(
    spans: tuple[Span, ...], claim: Claim, figures: Figures, scale: Scale, printer: Printer,
    look: Look,
) -> Drawn | None:  # fmt: skip
    placed = [(i, s) for i, s in enumerate(spans) if s.end >= _first(spans)][-_MOST_QUARTERS:]
    if len(placed) < _FEWEST_QUARTERS:
        return None
    period = figures.period
    shown = Quarters(
        tuple(
            Quarter(
                printer.plain(Text(N_("Q{number} {year}"),
                                   {"number": s.label[-1], "year": s.label[:4]})),
                amount(printer.drawn(f"{claim.kind}.by_quarter[{i}].diverted", s.diverted,
                                     scale).central),
                period.start <= s.start <= period.end,
            )
            for i, s in placed
        ),
        printer.unit_in_full(scale.unit),
    )  # fmt: skip
    return drawn(lambda chart: quarters(shown, chart), SMALL_LINE_MM, printer.language, look,
                 screen=False)  # fmt: skip


def _first(spans: tuple[Span, ...]) -> dt.date:
    return next((s.end for s in spans if s.diverted.central or s.received.central), spans[-1].end)


def compared(claim: Claim, scope: Scope, figures: Figures, printer: Printer) -> Markup | None:
    """Return the one comparison of the page: what was diverted against the same time a year earlier."""
    path = "same_period_last_year"
    then: Compared | None = figures.same_period_last_year
    if claim.kind == "supplied" and figures.supplied is not None:
        path, then = f"supplied.{path}", figures.supplied.same_period_last_year
    if then is None or claim.received.central <= 0:
        return None
    if claim.kind == "supplied" and figures.same_period_last_year is not None:
        then_weeks = figures.same_period_last_year.weeks
    else:
        then_weeks = then.weeks
    now = scope.diverted(printer).central
    if is_printed_zero(now):
        return None
    found = against_last_year(then, path, now, scope.scale, printer, figures.weeks, then_weeks)
    if found is None:
        return not_compared(then, printer)
    said = sentence(found, figures.period, then, printer)
    whose = N_("Your material:") if claim.kind == "supplied" else N_("The whole site:")
    if claim.kind == "supplied" and not printer.plain_text(said)[:1].islower():
        return said  # "8 % more ..." opens a sentence; "under 1 % more ..." does not
    return Markup(" ").join([printer.say(Text(whose)), said])


def where_it_went(
    figures: Figures, whole: Scope, printer: Printer, look: Look, kept_back: Collection[str],
    *, screen: bool,
) -> Drawn | None:  # fmt: skip
    """Return the ribbon from received to the places of the harvest; None where none was weighed."""
    lots = [(i, h, h.mass_kg) for i, h in enumerate(figures.harvest) if h.mass_kg is not None]
    if not lots or figures.mass.received.central <= 0 or figures.mass.diverted.central <= 0:
        return None
    scale = whole.scale
    ordered = sorted(lots, key=lambda lot: -lot[2].central)
    total = sum(mass.central for _, _, mass in lots)
    key = "+".join(f"period:harvest[{i}].mass_kg.central" for i, _, _ in lots)
    data = Ribbon(
        amount(whole.received(printer)),
        amount(whole.diverted(printer).central),
        amount(printer.central("mass.not_claimed", figures.mass.not_claimed, scale)),
        amount(printer.central("mass.thrown_away", whole.thrown_away, scale)),
        amount(printer.one(key, total, scale)),
        tuple(
            Lot(what_and_where(h, printer, kept_back),
                amount(printer.central(f"harvest[{i}].mass_kg", mass, scale)))
            for i, h, mass in ordered
        ),
        printer.unit(scale.unit),
    )  # fmt: skip
    return drawn(lambda chart: ribbon(data, chart), full_width_mm(look), printer.language, look,
                 screen=screen)  # fmt: skip


_MAY_SAY_SUPPLIED = {
    "exact": N_("“{site} kept {amount} of our material from disposal, {days}. The site's own record, "
                "not verified by others.”"),
    "weighed": N_("“{site} kept {amount} ({low} to {high}) of our material from disposal, {days}. All "
                  "of it was weighed; not verified by others.”"),
    "estimated": N_("“{site} kept an estimated {amount} ({low} to {high}) of our material from "
                    "disposal, {days}. The site's own estimate, not verified by others.”"),
}  # fmt: skip
_MAY_SAY_SUPPORTED = {
    "exact": N_("“Our support of {site} stands for {amount} kept from disposal, {days}. The site's own "
                "record, not verified by others.”"),
    "weighed": N_("“Our support of {site} stands for {amount} ({low} to {high}) kept from disposal, "
                  "{days}. All of it was weighed; not verified by others.”"),
    "estimated": N_("“Our support of {site} stands for an estimated {amount} ({low} to {high}) kept "
                    "from disposal, {days}. The site's own estimate, not verified by others.”"),
}  # fmt: skip


def you_may_say(
    claim: Claim, printed: PrintedRange, figures: Figures, printer: Printer
) -> Markup | None:
    """Return one sentence with its range that is safe to copy; None where nothing is claimed."""
    if claim.diverted.central <= 0 or is_printed_zero(printed.central):
        return None
    values: dict[str, object] = {
        "site": figures.site,
        "amount": printer.with_unit(printed),
        "low": printed.low,
        "high": printed.high,
        "days": shown_days(figures.period, printer),
    }
    messages = _MAY_SAY_SUPPLIED if claim.kind == "supplied" else _MAY_SAY_SUPPORTED
    if printed.low.text == printed.high.text:
        message = messages["exact"]
    else:
        message = messages["weighed" if all_weighed(claim, figures) else "estimated"]
    return printer.say(Text(message, values))


def next_step(claim: Claim, scope: Scope, figures: Figures, printer: Printer) -> Markup:
    """Return the one thing that would help most now."""
    thrown: Range = scope.thrown_away
    if claim.kind == "supplied" and claim.received.central <= 0:
        message = N_("Next: tell us when you would like to bring material again.")
    elif claim.kind == "supplied" and thrown.central > 0.05 * claim.received.central:
        message = N_("Next: keep out what does not rot; what we pick out counts for nobody.")
    elif claim.received.central > 0 and scope.basis.get("weighed", 0.0) < _WELL_WEIGHED:
        message = N_("Next: with more loads weighed, this range becomes narrower.")
    elif claim.kind == "supplied":
        message = N_("Next: keep it coming as clean as this.")
    else:
        message = N_("Next: come and see the beds; the crew will show you what this paid for.")
    return printer.say(Text(message))
