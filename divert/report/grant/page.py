"""A grant statement as words and printed values: tables lead, every number with its source."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.history import History
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Table
from divert.report.charts.drawn import Drawn, drawn, full_width_mm
from divert.report.charts.strip import Strip, strip
from divert.report.charts.strips import site_strip
from divert.report.grant.bases import known_table
from divert.report.grant.columns import GrantFigures, columns
from divert.report.grant.counts import counts_table
from divert.report.grant.gases import (
    cross_check_table,
    gas_heading,
    gas_notes,
    sensitivity_table,
)
from divert.report.grant.left_out import (
    exclusions,
    left_out_table,
    set_aside_table,
    whose_claim,
)
from divert.report.grant.main_table import main_table
from divert.report.grant.materials import materials_table
from divert.report.grant.promised import promised_table
from divert.report.grant.restated import entries_moved, restated_table
from divert.report.grant.sources import Sources, sources_of
from divert.report.grant.years import years_table
from divert.report.paper.look import Look
from divert.report.paper.pages import Frame
from divert.report.sponsor.scope import site_scope
from divert.report.wording import method_box
from divert.report.wording.assumed_fates import assumed_sentence, unstated
from divert.report.wording.conventions import next_report, signs
from divert.report.wording.dates import period_name, shown_days, span
from divert.report.wording.earlier_reports import earlier_reports
from divert.report.wording.masses import as_estimate
from divert.report.wording.method_box import Note
from divert.report.wording.set_aside import many_set_aside
from divert.report.wording.standings import standings_table
from divert.report.wording.unknown_names import unknown_names
from divert.site.model import Grant, Site

_KEPT = 18  # rows of a table that never breaks over two pages
_FOOT_LINE = 100  # characters of the whole line
_FOOT = 60  # characters of a grant's name that the foot of a page holds beside the rest


@dataclass(frozen=True, slots=True)
class GrantView:
    """Everything a grant statement says, in the order it says it."""

    headline: Markup
    strip: Drawn | None
    strip_note: str
    main: Table
    main_note: Markup | None
    restated: Table | None
    earlier: tuple[Note, ...]
    whose: Markup
    years: Table
    materials: Table
    materials_kept: bool
    counts: Table | None
    known: Table
    known_notes: tuple[Note, ...]
    sensitivity: Table | None
    cross_check: Table | None
    gas_notes: tuple[Note, ...]
    gas_heading: str
    promised: Table | None
    left_out: Table | None
    exclusions: tuple[Note, ...]
    set_aside: Table | None
    sources: Sources
    standings: Table | None
    weakest: Note | None
    cautions: Markup
    declaration: Markup
    certify: Markup
    signers: tuple[tuple[str, str], ...]


def grant_frame(figures: GrantFigures, grant: Grant, printer: Printer) -> Frame:
    """Return what stands around a grant statement."""
    plain, period = printer.plain, figures.period.period
    days = shown_days(period, printer)
    name = period_name(period, printer.language, printer.country)
    site = figures.period.site
    named = grant.name if not grant.number else f"{grant.name}, {grant.number}"
    short = _cut(named if len(named) <= _FOOT or not grant.number else grant.number, _FOOT)

    return Frame(
        title=plain(Text(N_("{site}: statement to {grant}, {period}"),
                         {"site": site, "grant": named, "period": name})),
        description=plain(Text(N_("What {site} diverted under {grant}, {days}"),
                               {"site": site, "grant": named, "days": days})),
        site=site,
        site_line=plain(Text(N_("Grant statement"))),
        for_line=named,
        period_line=days,
        foot=plain(Text(N_("{site} · {grant} · {period}"),
                        {"site": _cut(site, _FOOT_LINE - len(short) - len(name)), "grant": short,
                         "period": name})),
        day=figures.period.as_of.isoformat(),
    )  # fmt: skip


def _cut(name: str, room: int) -> str:
    return name if len(name) <= room else f"{name[: max(room, 8) - 1].rstrip()}…"


def grant_view(
    figures: GrantFigures, history: History, site: Site, grant: Grant, printer: Printer, look: Look,
    *, screen: bool = False,
) -> GrantView:  # fmt: skip
    """Return a grant's statement; ``figures.total`` runs from the grant's own start."""
    total = figures.total
    shown = columns(figures, history.previously)
    scale = site_scope(total, printer).scale
    by_material = materials_table(shown, scale, unknown_names(total, "material"), printer)
    return GrantView(
        headline=_headline(figures, grant, scale, printer),
        strip=_strip(total, scale, printer, look, screen),
        strip_note=printer.plain(Text(N_("Everything received since the grant began, {unit}"),
                             {"unit": printer.unit_in_full(scale.unit)})),
        main=main_table(
            shown, scale, printer, all_told=not unstated(total, total.by_material)
        ),
        main_note=_main_note(shown.note, figures.period, printer),
        restated=restated_table(history, scale, printer),
        earlier=_earlier(history, printer),
        whose=whose_claim(grant.share, total, scale, printer),
        years=years_table(total, site.year_starts, scale, printer),
        materials=by_material,
        materials_kept=len(by_material.groups[0].rows) <= _KEPT,
        counts=counts_table(figures, scale, printer),
        known=known_table(figures.period, total, printer),
        known_notes=_known_notes(total, printer),
        sensitivity=sensitivity_table(total, printer),
        cross_check=cross_check_table(total, printer),
        gas_notes=gas_notes(total, printer),
        gas_heading=gas_heading(total, printer),
        promised=promised_table(total, site.year_starts, site.started, scale, printer),
        left_out=left_out_table(total, scale, printer),
        exclusions=exclusions(total, printer),
        set_aside=set_aside_table(total, printer),
        sources=sources_of(total, printer),
        standings=standings_table(total, "total:", printer),
        weakest=method_box.standing(total.factors, printer),
        cautions=method_box.said_cautions(printer),
        declaration=_declaration(figures, grant, site, printer),
        certify=printer.say(
            Text(N_("I certify that, to the best of my knowledge, this statement is true and complete and "
                    "is drawn from the site's own records."))
        ),
        signers=_signers(site, printer),
    )  # fmt: skip


def _main_note(note: Text | None, period: Figures, printer: Printer) -> Markup:
    """Return what the columns are, and up to when anything is known of a period still running."""
    said = [] if note is None else [printer.say(note)]
    fate = assumed_sentence(period.assumed_fate, "period:assumed_fate", printer)
    if fate is not None:
        said.append(fate)
    aside = many_set_aside(period, printer)
    if aside is not None:
        said.append(aside)
    shown = period.period
    if not period.mass.received.central and not period.weeks.logged:
        said.append(printer.say(Text(N_("No delivery was written down in this period."))))
    elif shown.to_date and shown.last_entry is not None:
        said.append(
            printer.say(Text(N_("The period has not ended: the last entry is of {day}."),
                             {"day": shown.last_entry}))
        )  # fmt: skip
    return Markup(" ").join(said)


def _headline(figures: GrantFigures, grant: Grant, scale: Scale, printer: Printer) -> Markup:
    total, period = figures.total, figures.period
    all_in, now = (
        printer.central(f"{name}:mass.diverted", one.mass.diverted, scale,
                        within=one.mass.received)
        for name, one in (("total", total), ("period", period))
    )  # fmt: skip
    unit = printer.unit_in_full(scale.unit, all_in.text)
    amount = Markup("<em>{}\u00a0{}</em>").format(all_in, unit)
    values: dict[str, object] = {
        "grant": grant.name,
        "site": total.site,
        "day": printer.date(total.period.start),
        "amount": as_estimate(amount, total, printer),
        "now": Markup("{}\u00a0{}").format(now, printer.unit(scale.unit, now.text)),
    }
    if not total.mass.diverted.central:
        return printer.say(
            Text(N_("Since {day}, the first day of this grant, none of what {site} received counts as "
                    "diverted from disposal."), values)
        )  # fmt: skip
    unlogged = not period.mass.received.central and not period.weeks.logged
    if unlogged or (figures.earlier is None and period.period.start == total.period.start):
        return printer.say(
            Text(N_("Since {day}, the first day of this grant, {site} has diverted {amount} of "
                    "material from disposal."), values)
        )  # fmt: skip
    return printer.say(
        Text(N_("Since {day}, the first day of this grant, {site} has diverted {amount} of material "
                "from disposal, {now} of it in this period."), values)
    )  # fmt: skip


def _strip(
    total: Figures, scale: Scale, printer: Printer, look: Look, screen: bool
) -> Drawn | None:
    data: Strip | None = site_strip(total, "total", scale, printer)
    if data is None:
        return None
    return drawn(lambda chart: strip(data, chart), full_width_mm(look), printer.language, look,
                 screen=screen)  # fmt: skip


def _known_notes(total: Figures, printer: Printer) -> tuple[Note, ...]:
    loads = sum(d.weigh_ins for d in total.densities if d.basis == "measured density")
    measured = (
        Note(
            printer.plain(Text(N_("Weigh-ins."))),
            printer.say(
                Text(N_("Loads that were both weighed and measured by volume, and so taught this "
                        "site its own densities: {loads}."), {"loads": loads})
            ),
        )
        if loads else None
    )  # fmt: skip
    ranges = Note(
        printer.plain(Text(N_("Ranges."))),
        printer.say(
            Text(N_("Our 90\u202f% range, for density, fill and scale, and of gases also for the landfill; "
                    "it does not cover where the material would have gone. Ranges of parts do not add "
                    "up; the amounts do."))
        ),
    )  # fmt: skip
    notes = (ranges, measured, signs(printer))
    return tuple(note for note in notes if note is not None)


def _earlier(history: History, printer: Printer) -> tuple[Note, ...]:
    """Return the entries behind a restatement, and which statements were taken back."""
    entries = entries_moved(history, printer)
    withdrawn = earlier_reports(History(withdrawn=history.withdrawn), printer)
    return withdrawn if entries is None else (entries, *withdrawn)


def _declaration(
    figures: GrantFigures, grant: Grant, site: Site, printer: Printer
) -> Markup:  # fmt: skip
    """Return what the figures were drawn from, and when the next statement comes."""
    period = figures.period.period
    said = printer.say(
        Text(
            N_("These figures were drawn from the site's own records as of {day}, for {days}. "
               "The records behind every figure are in the evidence workbook."),
            {"day": printer.date(figures.period.as_of),
             "days": span(period.start, period.end, printer.language, printer.country)},
        )
    )  # fmt: skip
    return Markup("{} {}").format(said, next_report(period, site.year_starts, printer, grant.end))


def _signers(site: Site, printer: Printer) -> tuple[tuple[str, str], ...]:
    """Return (what they do, their name) for each signature line."""
    return tuple(
        (printer.plain(Text(message)), name)
        for message, name in (
            (N_("Prepared by"), site.report.prepared_by),
            (N_("Reviewed by"), site.report.reviewed_by),
        )
    )
