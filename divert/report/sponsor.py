"""The sponsor report as words and printed values: a pure function of the figures."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from divert.figures import Figures, Mass, Month, Range
from divert.report import method_box, sponsor_words
from divert.report.charts.by_month import ByMonth, Column, by_month
from divert.report.charts.chart import amount
from divert.report.charts.mix import Mix, MixPart, largest, mix
from divert.report.charts.strip import Strip, strip
from divert.report.dates import month_name, period_name, span, this_period
from divert.report.drawn import Drawn, drawn, full_width_mm, half_width_mm
from divert.report.harvest_words import Went, harvest_lines, nothing_harvested
from divert.report.history import History
from divert.report.look import Look
from divert.report.method_box import Note
from divert.report.pages import Frame
from divert.report.printed import Printed, PrintedRange, Printer
from divert.report.scales import Scale
from divert.report.sponsor_words import Claim
from divert.words import N_, Text

_FEWEST_MONTHS, _MOST_MONTHS = 6, 12


@dataclass(frozen=True, slots=True)
class SponsorView:
    """Everything a sponsor report says, in the order it says it."""

    headline: Markup
    large: Printed
    large_unit: str
    about: Markup
    other_claim: Markup | None
    strip: Drawn | None
    months: Drawn | None
    mix: Drawn | None
    harvest: tuple[Went, ...]
    no_harvest: Markup
    harvest_line: str
    avoided: Markup | None
    thanks: Markup
    site_title: str
    site_words: Markup
    site_strip: Drawn | None
    notes: tuple[Note, ...]
    cautions: Markup
    picture_alt: str


def sponsor_frame(figures: Figures, printer: Printer) -> Frame:
    """Return what stands around a sponsor report."""
    say, language = printer.say, printer.language
    period = figures.period
    days = span(period.start, period.end, language, printer.country)
    if period.to_date:
        days = str(say(Text(N_("{days}, to date"), {"days": days})))
    name = period_name(period, language, printer.country)
    sponsor = figures.sponsor or ""
    return Frame(
        title=str(
            say(Text(N_("{site}: report for {sponsor}, {period}"),
                     {"site": figures.site, "sponsor": sponsor, "period": name})).unescape()
        ),
        description=str(
            say(Text(N_("What {sponsor} kept from disposal with {site}, {days}"),
                     {"site": figures.site, "sponsor": sponsor, "days": days})).unescape()
        ),
        site=figures.site,
        site_line=str(say(Text(N_("Report to a sponsor")))),
        for_line=str(say(Text(N_("For {sponsor}"), {"sponsor": sponsor})).unescape()),
        period_line=days,
        foot=str(say(Text(N_("{site} · {period}"), {"site": figures.site, "period": name}))
                 .unescape()),
        day=figures.as_of.isoformat(),
    )  # fmt: skip


def sponsor_view(
    figures: Figures, history: History, printer: Printer, look: Look, *, screen: bool = False
) -> SponsorView:
    """Return a sponsor's report; ``figures`` must hold ``supplied`` or ``supported``."""
    claims = sponsor_words.claims_of(figures)
    lead = claims[0]
    own = figures.supplied
    supplied = lead.kind == "supplied" and own is not None
    mass = own.mass if supplied and own is not None else figures.mass
    path = "supplied.mass" if supplied else "mass"
    basis = own.basis if supplied and own is not None else figures.basis
    basis_path = "supplied.basis" if supplied else "basis"
    weighed = round(basis.get("weighed", 0.0), 6) == 1

    scale = printer.scale("mass", _size(lead.diverted), all_weighed=weighed)
    large = printer.range(f"{lead.kind}.diverted", lead.diverted, scale)
    whole = printer.scale("mass", mass.received.central, all_weighed=weighed)
    return SponsorView(
        headline=sponsor_words.headline(lead, figures, printer),
        large=large.central,
        large_unit=printer.unit(scale.unit, large.central.text),
        about=sponsor_words.about(lead, large, basis.get("weighed", 0.0), basis_path, printer),
        other_claim=sponsor_words.other_claim(claims[1], printer) if len(claims) > 1 else None,
        strip=_strip(mass, path, whole, printer, look, screen),
        months=_months(figures, supplied, whole, printer, look, screen),
        mix=_mix(figures, supplied, mass.diverted, whole, printer, look),
        harvest=harvest_lines(figures, printer),
        no_harvest=nothing_harvested(printer),
        harvest_line=str(
            printer.say(Text(N_("Harvested by the whole site {period}"),
                             {"period": this_period(figures.period)}))
        ),
        avoided=sponsor_words.avoided(lead, figures, printer),
        thanks=_thanks(claims, printer),
        site_title=str(printer.say(Text(N_("The site as a whole")))),
        site_words=_site_words(figures, printer),
        site_strip=_site_strip(figures, printer, look, screen) if supplied else None,
        notes=_notes(figures, claims, basis, basis_path, history, printer),
        cautions=method_box.said_cautions(printer),
        picture_alt=str(
            printer.say(Text(N_("A picture from {site}"), {"site": figures.site})).unescape()
        ),
    )  # fmt: skip


def _size(value: Range) -> float:
    return max(abs(value.central), abs(value.low) * 0.1, abs(value.high) * 0.1)


def _strip(
    mass: Mass, path: str, scale: Scale, printer: Printer, look: Look, screen: bool
) -> Drawn | None:
    if mass.received.central <= 0:
        return None
    thrown = mass.thrown_away or Range(
        *(
            getattr(mass.removed, end) + getattr(mass.residue, end)
            for end in ("central", "low", "high")
        )
    )
    values = (mass.diverted.central, mass.not_claimed.central, thrown.central)
    keys = [f"{path}.{part}.central" for part in ("diverted", "not_claimed", "thrown_away")]
    received = printer.one(f"{path}.received.central", mass.received.central, scale)
    parts = printer.parts(keys, values, scale, mass.received.central, f"{path} balance")
    one, two, three = (amount(part) for part in parts)
    data = Strip(amount(received), one, two, three, printer.unit(scale.unit))
    return drawn(
        lambda chart_look: strip(data, chart_look), full_width_mm(look), printer.language, look,
        screen=screen,
    )  # fmt: skip


def _site_strip(figures: Figures, printer: Printer, look: Look, screen: bool) -> Drawn | None:
    scale = printer.scale("mass", figures.mass.received.central)
    return _strip(figures.mass, "mass", scale, printer, look, screen)


def _months(
    figures: Figures, supplied: bool, scale: Scale, printer: Printer, look: Look, screen: bool
) -> Drawn | None:
    own = figures.supplied
    of_period = own.by_month if supplied and own else figures.by_month
    history = own.history if supplied and own else figures.history
    diverted = own.diverted if supplied and own else figures.mass.diverted
    root = "supplied." if supplied else ""
    within = {m.month: i for i, m in enumerate(of_period)}
    earlier = [(i, m) for i, m in enumerate(history) if m.month < min(within, default="9999")]
    shown = max(_FEWEST_MONTHS, min(len(of_period), _MOST_MONTHS))
    first = max(0, len(of_period) - _MOST_MONTHS)
    earlier = earlier[len(earlier) - max(0, shown - len(of_period)) :] if not first else []
    if not of_period:
        return None
    printed = printer.parts(
        [f"{root}by_month[{i}].diverted.central" for i in range(len(of_period))],
        [m.diverted.central for m in of_period], scale, diverted.central, f"{root}by_month",
    )  # fmt: skip
    columns = [
        _column(m, printer.one(f"{root}history[{i}].diverted.central", m.diverted.central, scale),
                f"{root}history[{i}]", scale, printer, full=False)
        for i, m in earlier
    ] + [
        _column(m, p, f"{root}by_month[{i}]", scale, printer, full=True)
        for i, (m, p) in enumerate(zip(of_period, printed, strict=True))
        if i >= first
    ]  # fmt: skip
    years = {int(m.month[:4]) - 1 for m in [*[m for _, m in earlier], *of_period[first:]]}
    measure = (
        N_("What was diverted of your material") if supplied else N_("Diverted by the whole site")
    )
    data = ByMonth(
        tuple(columns),
        measure=str(printer.say(Text(measure))),
        unit=printer.unit(scale.unit),
        year_before=str(years.pop()) if len(years) == 1 else "",
    )
    return drawn(
        lambda chart_look: by_month(data, chart_look), full_width_mm(look), printer.language, look,
        screen=screen,
    )  # fmt: skip


def _column(
    month: Month, now: Printed, path: str, scale: Scale, printer: Printer, *, full: bool
) -> Column:
    low = printer.one(f"{path}.diverted.low", month.diverted.low, scale)
    high = printer.one(f"{path}.diverted.high", month.diverted.high, scale)
    then = month.same_month_last_year
    return Column(
        label=month_name(month.month, printer.language),
        now=amount(PrintedRange(now, low, high)),
        before=None
        if then is None
        else amount(printer.one(f"{path}.same_month_last_year.central", then.central, scale)),
        under=month.month[:4] if month.month.endswith("-01") else "",
        full=full,
        partial=month.partial,
    )


def _mix(
    figures: Figures, supplied: bool, total: Range, scale: Scale, printer: Printer, look: Look
) -> Drawn | None:
    own = figures.supplied
    parts = own.by_material if supplied and own else figures.by_material
    root = "supplied." if supplied else ""
    present = [(i, p) for i, p in enumerate(parts) if p.diverted.central != 0]
    if not present:
        return None
    named, rest = largest(present, lambda item: item[1].diverted.central)
    rest_total = sum(p.diverted.central for _, p in rest)
    keys = [f"{root}by_material[{i}].diverted.central" for i, _ in named]
    values = [p.diverted.central for _, p in named]
    if rest:
        keys.append("+".join(f"{root}by_material[{i}].diverted.central" for i, _ in rest))
        values.append(rest_total)
    printed = printer.parts(keys, values, scale, total.central, f"{root}by_material")
    shown = [MixPart(p.name, amount(f)) for (_, p), f in zip(named, printed, strict=False)]
    if rest:
        other = str(printer.say(Text(N_("Other"))))
        shown.append(MixPart(other, amount(printed[-1]), rest=True))
    measure = Text(N_("Diverted {period}, by material"), {"period": this_period(figures.period)})
    data = Mix(tuple(shown), str(printer.say(measure)), printer.unit(scale.unit))
    return drawn(
        lambda chart_look: mix(data, chart_look), half_width_mm(look), printer.language, look,
        screen=False,
    )  # fmt: skip


def _thanks(claims: tuple[Claim, ...], printer: Printer) -> Markup:
    kinds = {claim.kind for claim in claims}
    if kinds == {"supplied", "supported"}:
        return printer.say(Text(N_("Thank you for what you bring, and for paying for the work.")))
    if kinds == {"supplied"}:
        return printer.say(Text(N_("Thank you for keeping it apart and bringing it to us.")))
    return printer.say(Text(N_("Thank you for paying for the work.")))


def _site_words(figures: Figures, printer: Printer) -> Markup:
    scale = printer.scale("mass", figures.mass.received.central)
    received = printer.one("mass.received.central", figures.mass.received.central, scale)
    diverted = printer.range("mass.diverted", figures.mass.diverted, scale)
    said = [
        printer.say(
            Text(
                N_("{period}, the site took in {received} from {sources} sources and diverted "
                   "{diverted} (between {low} and {high})."),
                {"period": _sentence_start(figures, printer),
                 "received": printer.with_unit(received),
                 "sources": printer.number(len(figures.by_source)),
                 "diverted": printer.with_unit(diverted), "low": diverted.low,
                 "high": diverted.high},
            )
        )
    ]  # fmt: skip
    before = figures.same_period_last_year
    if before is not None and before.diverted is not None:
        then = printer.one("same_period_last_year.diverted.central", before.diverted.central, scale)
        said.append(
            printer.say(
                Text(N_("A year earlier it was {then}."), {"then": printer.with_unit(then)})
            )
        )
    since = figures.cumulative
    total = printer.scale("mass", since.diverted.central)
    ever = printer.one("cumulative.diverted.central", since.diverted.central, total)
    said.append(
        printer.say(
            Text(N_("Since {day} it has diverted {amount}."),
                 {"day": printer.date(since.since),
                  "amount": Markup("{}\u202f{}").format(
                      ever, printer.unit_in_full(total.unit, ever.text))})
        )
    )  # fmt: skip
    return Markup(" ").join(said)


def _sentence_start(figures: Figures, printer: Printer) -> str:
    words = str(printer.say(this_period(figures.period)).unescape())
    return words[:1].upper() + words[1:]


def _notes(
    figures: Figures, claims: tuple[Claim, ...], basis: object, basis_path: str, history: History,
    printer: Printer,
) -> tuple[Note, ...]:  # fmt: skip
    own = figures.supplied
    supplied = claims[0].kind == "supplied" and own is not None
    by_before = own.not_claimed_by if supplied and own else figures.not_claimed
    before_path = "supplied.not_claimed_by" if supplied else "not_claimed"
    mass = own.mass if supplied and own else figures.mass
    scale = printer.scale("mass", mass.received.central)
    notes = [
        *method_box.earlier_reports(history, printer),
        method_box.how_we_know(figures, basis, basis_path, printer),  # type: ignore[arg-type]
        method_box.coverage(figures, printer),
        method_box.set_aside(figures, printer),
        method_box.not_claimed(by_before, before_path, scale, mass.not_claimed, printer),
        _whose_claim(claims, printer),
        method_box.gases(figures.emissions, figures.emissions_within, printer),
        method_box.standing(figures.factors, printer),
        method_box.sources(figures.factors, printer),
    ]
    return tuple(note for note in notes if note is not None)


def _whose_claim(claims: tuple[Claim, ...], printer: Printer) -> Note:
    messages = {
        "supplied": N_("Supplied is the mass of your own sources, less what was thrown away."),
        "supported": N_(
            "Supported is the share of the site's cost you pay for, of all it diverted."
        ),
    }
    said = [printer.say(Text(messages[claim.kind])) for claim in claims]
    said.append(
        printer.say(
            Text(N_("Whoever brings material, whoever pays and the town may all count the same mass: "
                    "do not add these claims up."))
        )
    )  # fmt: skip
    return Note(str(printer.say(Text(N_("Whose claim.")))), Markup(" ").join(said))
