"""The sponsor report as words and printed values: a pure function of the figures."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.history import History
from divert.figures.numbers.printed import Printed, PrintedRange, Printer
from divert.report.charts.drawn import Drawn
from divert.report.paper.look import Look
from divert.report.paper.pages import Frame
from divert.report.sponsor import words as sponsor_words
from divert.report.sponsor.charts import (
    MixShown,
    MonthTable,
    balance_strip,
    mix_chart,
    month_chart,
    month_table,
)
from divert.report.sponsor.first_page import (
    SoFar,
    compared,
    next_step,
    so_far,
    where_it_went,
    you_may_say,
)
from divert.report.sponsor.notes import notes_of
from divert.report.sponsor.scope import Scope, site_scope, supplied_scope
from divert.report.sponsor.whole_site import site_in_words
from divert.report.sponsor.words import Claim
from divert.report.wording import method_box
from divert.report.wording.conventions import next_report
from divert.report.wording.dates import period_name, shown_days, this_period
from divert.report.wording.earlier_reports import changed_reports
from divert.report.wording.harvest import Went, harvest_lines, nothing_harvested
from divert.report.wording.method_box import Note
from divert.report.wording.set_aside import many_set_aside
from divert.site.model import Report

_LONGEST_TITLE = 150  # letters: more than that is no title of a window or a mail


@dataclass(frozen=True, slots=True)
class SponsorView:
    """Everything a sponsor report says, in the order it says it."""

    headline: Markup
    large: Printed
    large_unit: str
    about: Markup
    other_claim: Markup | None
    strip: Drawn | None
    strip_line: Markup
    months: Drawn | None
    months_first: bool
    mix: MixShown | None
    harvest: tuple[Went, ...]
    no_harvest: Markup
    harvest_line: str
    avoided: Markup | None
    thanks: Markup
    so_far: SoFar | None
    compared: Markup | None
    ribbon: Drawn | None
    quote: str
    picture_says: str
    may_say: Markup | None
    next_step: Markup
    next_report: str
    short_note: Markup
    table: MonthTable | None
    table_line: str
    site_words: Markup
    site_strip: Drawn | None
    notes: tuple[Note, ...]
    cautions: Markup
    picture_alt: str


def sponsor_frame(figures: Figures, printer: Printer) -> Frame:
    """Return what stands around a sponsor report."""
    period = figures.period
    days = shown_days(period, printer)
    values = {
        "site": figures.site,
        "sponsor": figures.sponsor or "",
        "period": period_name(period, printer.language, printer.country),
        "days": days,
    }
    title = printer.plain(Text(N_("{site}: report for {sponsor}, {period}"), values))
    if len(title) > _LONGEST_TITLE:
        title = printer.plain(Text(N_("Report for {sponsor}, {period}"), values))
    return Frame(
        title=title,
        description=printer.plain(Text(N_("What {sponsor} did with {site}, {days}"), values)),
        site=figures.site,
        site_line=printer.plain(Text(N_("Report to a sponsor"))),
        for_line=printer.plain(Text(N_("For {sponsor}"), values)),
        period_line=days,
        foot=printer.plain(Text(N_("{site} · {period}"), values)),
        day=figures.as_of.isoformat(),
    )


def sponsor_view(
    figures: Figures, history: History, printer: Printer, look: Look, *, screen: bool = False,
    kept_back: Collection[str] = (), words: Report | None = None, year_starts: int = 1,
) -> SponsorView:  # fmt: skip
    """Return a sponsor's report; ``figures`` must hold ``supplied`` or ``supported``.

    ``screen`` adds the narrow drawings that a phone shows. Others' rows appear only in sums;
    ``kept_back`` are destinations of the harvest that name somebody else; ``words`` the site's own;
    ``year_starts`` the first month of its reporting year.
    """
    claims = sponsor_words.claims_of(figures)
    lead = claims[0]
    whole = site_scope(figures, printer)
    own = supplied_scope(figures, printer) if lead.kind == "supplied" else None
    scope = own or whole
    said = words or Report()
    months = month_chart(scope, printer, look, screen=screen)
    went = where_it_went(figures, whole, printer, look, kept_back, screen=screen)
    site_strip = balance_strip(whole, printer, look, screen=screen) if own else None
    large, unit = _large(lead, own, printer)
    bracket = None if own else _bracket(lead, large, printer)
    period = {"period": this_period(figures.period)}
    return SponsorView(
        headline=sponsor_words.headline(lead, figures, _in_full(large, unit, printer), printer),
        large=large.central,
        large_unit=printer.unit(unit, large.central.text),
        about=sponsor_words.about(lead, large, scope, printer),
        other_claim=sponsor_words.other_claim(claims[1], printer) if len(claims) > 1 else None,
        strip=balance_strip(scope, printer, look, share=bracket, screen=screen),
        strip_line=_strip_line(scope, figures, printer),
        months=months,
        months_first=months is not None and look.picture is None and len(claims) == 1,
        mix=mix_chart(
            scope, Text(N_("Diverted {period}, by material"), period), printer, look, screen=screen
        ),
        harvest=harvest_lines(figures, printer, kept_back),
        no_harvest=nothing_harvested(printer),
        harvest_line=printer.plain(Text(N_("Harvested by the whole site {period}"), period)),
        avoided=sponsor_words.avoided(lead, figures, printer),
        thanks=_thanks(claims, printer),
        so_far=so_far(lead, figures, printer, look),
        compared=compared(lead, scope, figures, printer),
        ribbon=went,
        quote=said.quote,
        picture_says=said.picture_says,
        may_say=you_may_say(lead, large, figures, printer),
        next_step=next_step(lead, scope, figures, printer),
        next_report=next_report(figures.period, year_starts, printer),
        short_note=_short_note(figures, history, printer),
        table=month_table(scope, printer),
        table_line=_table_line(scope, printer),
        site_words=site_in_words(figures, whole, printer),
        site_strip=site_strip,
        notes=notes_of(figures, claims, scope, history, printer),
        cautions=method_box.said_cautions(printer),
        picture_alt=said.picture_says
        or printer.plain(Text(N_("A picture from {site}"), {"site": figures.site})),
    )


def _large(lead: Claim, own: Scope | None, printer: Printer) -> tuple[PrintedRange, str]:
    """Return the figure that stands large on the first page, and its unit."""
    if own:
        scale, large = own.scale, own.diverted(printer)
    else:
        scale = printer.scale("mass", lead.diverted.central)
        large = printer.range(f"{lead.kind}.diverted", lead.diverted, scale)
    return large, scale.unit


def _in_full(large: PrintedRange, unit: str, printer: Printer) -> Markup:
    """Return a figure with its unit's full name."""
    name = printer.unit_in_full(unit, large.central.text)
    return Markup("{}\u202f{}").format(large.central, name)


def _strip_line(scope: Scope, figures: Figures, printer: Printer) -> Markup:
    """Return what the whole length of the balance strip is."""
    received = scope.received(printer)
    message = (
        N_("Everything you brought {period}: {received}")
        if scope.kind == "supplied"
        else N_("Everything the site received {period}: {received}")
    )
    values = {"period": this_period(figures.period), "received": printer.with_unit(received)}
    return printer.say(Text(message, values))


def _bracket(claim: Claim, large: PrintedRange, printer: Printer) -> tuple[Printed, str] | None:
    """Return a funder's share of what was diverted, drawn under the strip, with its words."""
    if not 0 < claim.share < 1 or claim.diverted.central <= 0:
        return None
    share = printer.with_unit(printer.share(f"{claim.kind}.share", claim.share))
    values = {"share": share, "amount": printer.with_unit(large.central)}
    return large.central, printer.plain(Text(N_("your {share} = {amount}"), values))


def _short_note(figures: Figures, history: History, printer: Printer) -> Markup:
    """Return what the first page must say of itself, and that it changes what was said before."""
    said = [
        printer.say(
            Text(
                N_(
                    "An estimate, not a verified or tradable reduction. How it was found, what it leaves "
                    "out and whose claim it is: see “How this was found”."
                )
            )
        )
    ]
    aside = many_set_aside(figures, printer)
    if aside is not None:
        said.insert(0, aside)
    changed = changed_reports(history)
    if changed:
        numbers = {"numbers": printer.names(changed)}
        message = (
            N_("It changes what report {numbers} said; why stands there too.")
            if len(changed) == 1
            else N_("It changes what reports {numbers} said; why stands there too.")
        )
        said.append(printer.say(Text(message, numbers)))
    return Markup(" ").join(said)


def _thanks(claims: tuple[Claim, ...], printer: Printer) -> Markup:
    kinds = {claim.kind for claim in claims}
    if kinds == {"supplied", "supported"}:
        return printer.say(
            Text(N_("Thank you for what you bring, and for helping to keep this work going."))
        )
    if kinds == {"supported"}:
        return printer.say(Text(N_("Thank you: your support keeps this work going.")))
    if claims[0].received.central:
        return printer.say(Text(N_("Thank you for keeping it apart and bringing it to us.")))
    return printer.say(Text(N_("We are ready for your next load whenever you are.")))


def _table_line(scope: Scope, printer: Printer) -> str:
    message = (
        N_("Your own material, {unit}")
        if scope.kind == "supplied"
        else N_("The whole site, {unit}")
    )
    return printer.plain(Text(message, {"unit": printer.unit_in_full(scope.scale.unit)}))
