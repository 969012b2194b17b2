"""The method box: how the figures were found, what they leave out, and whose claim they are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.evidence import cautions
from divert.figures.compare import is_printed_zero
from divert.figures.contract import Emissions, FactorUsed, Figures
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.report.wording.assumed_fates import not_told_sentence
from divert.report.wording.factor_names import documents, factor_name, typical_standing

_RESTS_ON = 0.10  # a factor of weak standing that carries more than this is named

_BASES = {
    "weighed": N_("{share} was weighed"),
    "measured density": N_(
        "{share} is volume times a density this site measured ({loads} weigh-ins)"
    ),
    "stated density": N_("{share} is volume times a density the site states"),
    "published density": N_("{share} is volume times a published density"),
}
BEFORE_NAMES = {
    "landfill": N_("landfill"),
    "incinerator": N_("incinerator"),
    "composted": N_("composted before"),
    "recycled": N_("recycled before"),
    "fed to animals": N_("fed to animals before"),
    "spread on land": N_("spread on land before"),
    "bought in": N_("bought in"),
    "donated as food": N_("donated as food"),
    "required by law": N_("kept out of landfills by law"),
}


_APART = 0.1  # a mean that differs by more from the central value is told which way


@dataclass(frozen=True, slots=True)
class Note:
    """A paragraph of small print that opens with a few bold words."""

    lead: str
    text: Markup


def how_we_know(figures: Figures, basis: Mapping[str, float], path: str, printer: Printer) -> Note:
    """Return how the masses were found: the share on each basis, largest care first."""
    known = [name for name in _BASES if round(basis.get(name, 0.0), 9) > 0]
    shares = [printer.share(f"{path}.{name}", basis[name]) for name in known]
    loads = sum(d.weigh_ins for d in figures.densities if d.basis == "measured density")
    phrases = [
        printer.say(Text(_BASES[name], {"share": printer.with_unit(share), "loads": loads}))
        for name, share in zip(known, shares, strict=True)
    ]
    own = path.startswith("supplied")
    if not basis.get("weighed") and phrases:
        phrases.insert(0, printer.say(Text(N_("none was weighed"))))
    if not phrases:
        text = Text(N_("No load from you was logged.") if own else N_("No load was logged."))
    elif known == ["weighed"]:
        text = Text(
            N_("Everything you brought was weighed.")
            if own
            else N_("Everything received was weighed.")
        )
    else:
        message = (
            N_("Of the mass you brought, {parts}.") if own else N_("Of the mass received, {parts}.")
        )
        text = Text(message, {"parts": printer.names(phrases)})
    return Note(lead(printer, N_("How we know.")), printer.say(text))


def coverage(figures: Figures, printer: Printer) -> Note:
    """Return how many weeks have entries, and that nothing was filled in."""
    weeks = figures.weeks
    values: dict[str, object] = {
        name: printer.count(f"weeks.{name}", getattr(weeks, name))
        for name in ("in_period", "logged")
    }
    message = N_("Entries stand in {logged} of {in_period} weeks")
    if weeks.closed:
        values["closed"] = printer.count("weeks.closed", weeks.closed)
        message = N_("Entries stand in {logged} of {in_period} weeks; closed: {closed}")
    if weeks.missing:
        values["missing"] = printer.count("weeks.missing", weeks.missing)
        message = (
            N_(
                "Entries stand in {logged} of {in_period} weeks; closed: {closed}; missing: {missing}"
            )
            if weeks.closed
            else N_("Entries stand in {logged} of {in_period} weeks; missing: {missing}")
        )
    said = printer.say(Text(message, values))
    text = printer.say(
        Text(N_("{weeks}. Blank is not zero, and nothing was filled in."), {"weeks": said})
    )
    if figures.period.to_date and figures.period.last_entry is not None:
        until = Text(
            N_("The period has not ended: the last entry is of {day}."),
            {"day": figures.period.last_entry},
        )
        text = Markup(" ").join([text, printer.say(until)])
    return Note(lead(printer, N_("Coverage.")), text)


def set_aside(figures: Figures, printer: Printer) -> Note | None:
    """Return how many rows could not be used."""
    if not figures.rows.set_aside:
        return None
    return Note(
        lead(printer, N_("Set aside.")),
        printer.say(
            Text(
                N_(
                    "Rows of the whole log, of all years, that could not be used: {set_aside} of {seen}. "
                    "They count for nothing here."
                ),
                {
                    "set_aside": printer.count("rows.set_aside", figures.rows.set_aside),
                    "seen": printer.count("rows.seen", figures.rows.seen),
                },
            )
        ),
    )


def not_claimed(
    by_before: Mapping[str, Range], path: str, scale: Scale, printer: Printer,
    not_told: Sequence[str] = (), *, adjustments: bool = True,
) -> Note | None:  # fmt: skip
    """Return what is in the mass but not in the claim, by where it went before.

    Residue of earlier loads may leave a part below zero: it is named as an adjustment. ``not_told``
    are materials whose fate nobody has stated: of them it is not known, and not said.
    ``adjustments``: whether those below zero are told.
    """
    listed = []
    for kind, mass in by_before.items():
        printed = printer.central(f"{path}.{kind}", mass, scale)
        if is_printed_zero(printed) or (mass.central < 0 and not adjustments):
            continue
        message = (
            N_("{mass} {before}") if mass.central > 0 else N_("{mass} {before} (an adjustment)")
        )
        listed.append(
            printer.say(
                Text(message, {"mass": printer.with_unit(printed),
                               "before": Text(BEFORE_NAMES.get(kind, kind))})
            )
        )  # fmt: skip
    if not listed:
        return None
    said = printer.say(
        Text(
            N_("Composted here, and not claimed: {list}.") if not_told
            else N_("Composted here, but it would not have been thrown away: {list}."),
            {"list": printer.names(listed)},
        )
    )  # fmt: skip
    if not_told:
        said = Markup(" ").join([said, not_told_sentence(not_told, printer)])
    return Note(lead(printer, N_("Not claimed.")), said)


ONE_SITE = Text(N_("the whole site"))


def gases(
    emissions: Emissions,
    within: Mapping[str, Range],
    printer: Printer,
    when: Markup | None = None,
    whose: Text = ONE_SITE,
) -> Note:
    """Return what the greenhouse gas figure holds and leaves out, with both horizons.

    ``when``: the sentence on the decades in which the methane would have been released; ``whose`` the
    figure is.
    """
    scale = printer.scale("co2e", emissions.landfill_avoided.central)
    values: dict[str, object] = {
        "hundred": printer.central("emissions_within.100", within["100"], scale),
        "twenty": printer.central("emissions_within.20", within["20"], scale),
        "process": printer.central("emissions.process", emissions.process, scale),
        "fuel": printer.central("emissions.fuel", emissions.fuel, scale),
    }
    unit = printer.unit_in_full(scale.unit)
    text = Text(
        N_("In {unit}, for {whose}: landfill methane avoided {hundred} within 100 years and "
           "{twenty} within 20, both at 100-year warming (GWP-100); gases of composting {process} and "
           "fuel {fuel} are taken off. Left out: biogenic CO₂, stored carbon, fertilizer or peat "
           "replaced, energy recovery."),
        {"unit": unit, "whose": whose, **values},
    )  # fmt: skip
    said = [printer.say(text), *([] if when is None else [when])]
    central, mean = emissions.landfill_avoided.central, emissions.landfill_avoided.mean
    if mean is not None and central > 0:
        shown = printer.one("emissions.landfill_avoided.mean", mean, scale)
        message = N_("The central value is what typical parameters give; the mean of the draws is "
                     "{mean}.")  # fmt: skip
        if mean > central * (1 + _APART):
            message = N_("The central value is what typical parameters give; the mean of the draws, "
                         "{mean}, lies above it by more than a tenth.")  # fmt: skip
        elif mean < central * (1 - _APART):
            message = N_("The central value is what typical parameters give; the mean of the draws, "
                         "{mean}, lies below it by more than a tenth.")  # fmt: skip
        said.append(printer.say(Text(message, {"mean": shown})))
    return Note(lead(printer, N_("Gases.")), Markup(" ").join(said))


def range_means(printer: Printer) -> Note:
    """Return what the ranges cover, and what they do not."""
    return Note(
        lead(printer, N_("Ranges.")),
        printer.say(
            Text(N_("Our 90\u202f% range, for density, fill and scale, and of gases also for the landfill; "
                    "it does not cover where the material would have gone. Ranges of parts do not add "
                    "up; the amounts do."))
        ),
    )  # fmt: skip


def standing(factors: Iterable[FactorUsed], printer: Printer) -> Note | None:
    """Return the numbers that stand on memory or a stand-in and carry more than a tenth.

    A density carries its share of the mass received; a number of the gases carries all of them.
    """
    carrying = [f for f in factors if f.share is None or f.share > _RESTS_ON]
    sentences = []
    for kind, message in (
        ("memory", N_("Set down from memory and not yet checked against the document: {list}.")),
        ("proxy", N_("Stand-ins, for want of a published value: {list}.")),
    ):
        named = [factor_name(f.key, printer) for f in carrying if typical_standing(f) == kind]
        if named:
            sentences.append(printer.say(Text(message, {"list": printer.phrases(named)})))
    if not sentences:
        return None
    return Note(lead(printer, N_("Weakest part.")), Markup(" ").join(sentences))


def sources(factors: Iterable[FactorUsed], printer: Printer) -> Note | None:
    """Return the documents that the published numbers come from, each once."""
    named = documents(factors)
    if not named:
        return None
    return Note(
        lead(printer, N_("Published numbers.")), Markup("{}.").format(printer.phrases(named))
    )


def said_cautions(printer: Printer) -> Markup:
    """Return the cautions as one paragraph."""
    return Markup(" ").join(printer.say(text) for text in cautions.ALL)


def lead(printer: Printer, message: str) -> str:
    """Return the bold words that open a note."""
    return printer.plain(Text(message))
