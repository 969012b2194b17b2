"""The sentences of a sponsor report: what the share is, in plain words and in figures."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.compare import is_printed_zero
from divert.figures.contract import Figures, Part
from divert.figures.numbers.printed import PrintedRange, Printer
from divert.figures.numbers.tables import with_range
from divert.report.charts.chart import in_sentence
from divert.report.sponsor.scope import Scope
from divert.report.wording.assumed_fates import unstated
from divert.report.wording.dates import month_and_year, this_period
from divert.report.wording.masses import ESTIMATED, in_words
from divert.report.wording.material_names import material_name
from divert.report.wording.released import mostly_early

_NOTHING_KG = 1e-9
_LONGEST_LIST = 64  # characters of material names that a headline still carries


@dataclass(frozen=True, slots=True)
class Claim:
    """One of a sponsor's two claims: ``supplied`` (their own material) or ``supported`` (their share
    of the whole). ``received`` is the mass the claim is a part of; ``parts`` its materials.
    """

    kind: Literal["supplied", "supported"]
    share: float
    received: Range
    diverted: Range
    net_avoided: Range
    parts: tuple[Part, ...]


def claims_of(figures: Figures) -> tuple[Claim, ...]:
    """Return a sponsor's claims, the one to lead with first: what they supplied, then supported."""
    found = []
    if figures.supplied is not None:
        own = figures.supplied
        found.append(
            Claim(
                "supplied", own.share, own.received, own.diverted, own.net_avoided, own.by_material
            )
        )
    if figures.supported is not None:
        paid = figures.supported
        found.append(
            Claim("supported", paid.share, figures.mass.received, paid.diverted, paid.net_avoided,
                  figures.by_material)
        )  # fmt: skip
    return tuple(found)


def all_landfill(claim: Claim, figures: Figures, printer: Printer) -> bool:
    """Return whether all that a claim diverted was bound for a landfill, so that it may be said.

    Less than one printed unit bound elsewhere (an adjustment of old residue) decides nothing.
    """
    own = figures.supplied if claim.kind == "supplied" else None
    by_before = own.diverted_by_before if own is not None else None
    if by_before is None:
        by_before = figures.diverted_by_before
    if by_before is None:
        return False
    scale = printer.scale("mass", claim.diverted.central)
    return all(
        abs(mass.central) < scale.quantum_of(claim.diverted.central, claim.diverted) * scale.factor
        for before, mass in by_before.items()
        if before != "landfill"
    )


def headline(claim: Claim, figures: Figures, large: Markup, printer: Printer) -> Markup:
    """Return the one sentence the report opens with; ``large`` is its number with the unit in full."""
    values: dict[str, object] = {"period": this_period(figures.period)}
    diverted = claim.diverted.central
    if diverted > _NOTHING_KG:
        estimated = not all_weighed(claim, figures)
        words = in_words(diverted, printer.units, estimated=estimated)
        if words is None:
            amount = printer.say(Text(ESTIMATED, {"amount": large})) if estimated else large
        else:
            amount = printer.say(words)
        values["amount"] = Markup("<em>{}</em>").format(amount)
        values["materials"] = material_list(claim.parts, printer)
        return printer.say(Text(_kept(claim.kind, all_landfill(claim, figures, printer)), values))
    if diverted < -_NOTHING_KG:
        return printer.say(Text(_below_zero(claim.kind), values))
    if claim.received.central <= _NOTHING_KG:
        return printer.say(Text(_NOTHING_CAME[claim.kind], values))
    if unstated(figures, claim.parts):
        return printer.say(Text(_NOT_TOLD[claim.kind], values))
    return printer.say(Text(_NOT_THROWN_AWAY[claim.kind], values))


def _kept(kind: str, landfill: bool) -> str:
    if kind == "supplied":
        return (
            N_("You kept {amount} of {materials} out of the landfill {period}.")
            if landfill
            else N_("You kept {amount} of {materials} from disposal {period}.")
        )
    return (
        N_("Your support kept {amount} of {materials} out of the landfill {period}.")
        if landfill
        else N_("Your support kept {amount} of {materials} from disposal {period}.")
    )


def all_weighed(claim: Claim, figures: Figures) -> bool:
    """Return whether everything that a claim rests on was weighed."""
    own = figures.supplied if claim.kind == "supplied" else None
    basis = figures.basis if own is None else own.basis
    return round(basis.get("weighed", 0.0), 6) == 1


def _below_zero(kind: str) -> str:
    if kind == "supplied":
        return N_("More of your material was thrown away than came in {period}, so the balance is "
                  "below zero.")  # fmt: skip
    return N_("More was thrown away than came in {period}, so the balance is below zero.")


_NOTHING_CAME = {
    "supplied": N_("Nothing came in from you {period}."),
    "supported": N_("Nothing came in {period}."),
}
_NOT_TOLD = {
    "supplied": N_(
        "Nobody has told us yet where what you brought {period} went before, so none of it "
        "is claimed yet."
    ),
    "supported": N_(
        "Nobody has told us yet where what came in {period} went before, so none of it is "
        "claimed yet."
    ),
}
_NOT_THROWN_AWAY = {
    "supplied": N_("What you brought {period} would not have been thrown away, so none of it is "
                   "claimed."),
    "supported": N_("What came in {period} would not have been thrown away, so none of it is claimed."),
}  # fmt: skip


def material_list(parts: Sequence[Part], printer: Printer) -> str | Markup:
    """Return the largest materials by name, at most three, as a sentence lists them."""
    kept = sorted((p for p in parts if p.diverted.central > 0), key=lambda p: -p.diverted.central)
    names = [in_sentence(material_name(p.name, printer)) for p in kept[:3]]
    while len(names) > 1 and sum(len(n) for n in names) > _LONGEST_LIST:
        names.pop()
    if len(names) < len(kept):
        return printer.say(Text(N_("{names} and other material"), {"names": ", ".join(names)}))
    return printer.names(names)


def about(claim: Claim, printed: PrintedRange, scope: Scope, printer: Printer) -> Markup:
    """Return what stands beside the large number: the share, the range, how much was weighed."""
    if claim.kind == "supplied" and claim.received.central <= _NOTHING_KG:
        return _last_delivery(scope, printer)
    said = [_part_of_the_whole(claim, printer)]
    if claim.diverted.central < -_NOTHING_KG:
        said.append(printer.say(Text(_TAKEN_BACK)))
    if printed.low.text != printed.high.text:
        said.append(
            printer.say(
                Text(
                    N_("Our 90\u202f% range for it: {low} to {high}."),
                    {"low": printed.low, "high": printer.with_unit(printed.high)},
                )
            )
        )
    if claim.received.central > _NOTHING_KG:
        said.append(_weighed(claim, scope, printer))
    return Markup(" ").join(said)


def _weighed(claim: Claim, scope: Scope, printer: Printer) -> Markup:
    """Return how much of it was weighed; none is said as none."""
    weighed = scope.basis.get("weighed", 0.0)
    if scope.all_weighed:
        return printer.say(Text(N_("All of it was weighed.")))
    if not weighed:
        return printer.say(Text(N_("None of it was weighed.")))
    share = printer.with_unit(printer.share(f"{scope.root}basis.weighed", weighed))
    message = (
        N_("{share} of what you brought was weighed.") if claim.kind == "supplied"
        else N_("{share} of what came in was weighed.")
    )  # fmt: skip
    return printer.say(Text(message, {"share": share}))


_TAKEN_BACK = N_(
    "What was screened out came in earlier; it is taken off in the month in which it was thrown away."
)


def _part_of_the_whole(claim: Claim, printer: Printer) -> Markup:
    """Return which part of the whole the claim is: of what came in, or of what the money pays."""
    if round(claim.share, 6) == 1:
        return printer.say(
            Text(N_("You brought everything the site received."))
            if claim.kind == "supplied"
            else Text(N_("Everything the site diverted: you pay for the whole program."))
        )
    share = printer.with_unit(printer.share(f"{claim.kind}.share", claim.share))
    first = (
        N_("You brought {share} of everything the site received.")
        if claim.kind == "supplied"
        else N_("{share} of everything the site diverted: the share of the program you pay for.")
    )
    return printer.say(Text(first, {"share": share}))


def _last_delivery(scope: Scope, printer: Printer) -> Markup:
    """Return when something last came, as far as the months of the last two years tell."""
    months = [m.month for m in scope.history if m.received.central > _NOTHING_KG]
    if not months:
        return printer.say(Text(N_("Nothing from you is on record for the last two years.")))
    last = dt.date.fromisoformat(f"{max(months)}-01")
    return printer.say(
        Text(N_("The last delivery on record is of {month}."),
             {"month": month_and_year(last, printer.language)})
    )  # fmt: skip


def other_claim(claim: Claim, printer: Printer) -> Markup:
    """Return the second claim in full, told apart from the first."""
    scale = printer.scale("mass", claim.diverted.central)
    printed = printer.range(f"{claim.kind}.diverted", claim.diverted, scale)
    values: dict[str, object] = {"amount": with_range(printed, printer)}
    if round(claim.share, 6) == 1:
        return printer.say(
            Text(
                N_("You also pay for the whole program. Everything the site diverted is {amount}. "
                   "It is another claim on some of the same material: never add the two."),
                values,
            )
        )  # fmt: skip
    values["share"] = printer.with_unit(printer.share(f"{claim.kind}.share", claim.share))
    return printer.say(
        Text(
            N_("You also pay for {share} of the program. That share of everything the site diverted "
               "is {amount}. It is another claim on some of the same material: never add the two."),
            values,
        )
    )  # fmt: skip


def avoided(claim: Claim, figures: Figures, printer: Printer) -> Markup | None:
    """Return what the claim avoids in greenhouse gases, net of composting; None where nothing is."""
    net = claim.net_avoided
    if net.central == net.low == net.high == 0:
        return None
    scale = printer.scale("co2e", max(abs(net.central), abs(net.low), abs(net.high)))
    printed = printer.range(f"{claim.kind}.net_avoided", net, scale)
    unit = printer.unit_in_full(scale.unit, printed.central.text)
    values: dict[str, object] = {
        "amount": Markup("<b>{}\u202f{}</b>").format(printed.central, unit),
        "low": printed.low,
        "high": printed.high,
    }
    if printed.low.text == printed.high.text and is_printed_zero(printed.central):
        return None
    landfill = all_landfill(claim, figures, printer)
    if net.low < 0 < net.high or is_printed_zero(printed.central):
        said = printer.say(
            Text(N_("Whether greenhouse gas was saved is too close to tell: after the gases of "
                    "composting and of fuel are taken off, the balance lies between {low} and "
                    "{high_unit}."),
                 {**values, "high_unit": Markup("{}\u202f{}").format(printed.high, unit)})
        )  # fmt: skip
    elif net.central < 0:
        said = printer.say(
            Text(N_("No greenhouse gas was saved: the gases of composting and of fuel come to more "
                    "than the landfill methane avoided. The balance is {amount}, between {low} and "
                    "{high}."), values)
        )  # fmt: skip
    else:
        message = N_("In a landfill this material would have given off about {amount} more than it did "
                     "here, between {low} and {high}, over the decades that follow. The gases of "
                     "composting and of fuel are taken off.")  # fmt: skip
        if mostly_early(figures.emissions_within):
            message = N_("In a landfill this material would have given off about {amount} more than it "
                         "did here, between {low} and {high}, most of it in the first two decades. The "
                         "gases of composting and of fuel are taken off.")  # fmt: skip
        said = printer.say(Text(message, values))
    if landfill:
        return said
    zero = printer.say(Text(N_("What was bound for an incinerator counts as zero.")))
    return Markup(" ").join([said, zero])
