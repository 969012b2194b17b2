"""How a sponsor's figures were found: the notes on the last page."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.history import History
from divert.figures.numbers.printed import Printer
from divert.report.sponsor.scope import Scope
from divert.report.sponsor.words import Claim
from divert.report.wording import method_box
from divert.report.wording.assumed_fates import assumed_sentence, unstated
from divert.report.wording.earlier_reports import earlier_reports
from divert.report.wording.method_box import Note
from divert.report.wording.released import released_sentence


def _assumed(figures: Figures, scope: Scope, printer: Printer) -> Note | None:
    """Return which share of what is claimed rests on an assumed fate; None where none does."""
    own = figures.supplied if scope.kind == "supplied" else None
    fate = figures.assumed_fate if own is None else own.assumed_fate
    path = "assumed_fate" if own is None else "supplied.assumed_fate"
    said = assumed_sentence(fate, path, printer)
    return None if said is None else Note(method_box.lead(printer, N_("Assumed.")), said)


def notes_of(
    figures: Figures, claims: tuple[Claim, ...], scope: Scope, history: History, printer: Printer
) -> tuple[Note, ...]:
    """Return the notes in their order; those with nothing to say are left out."""
    notes = [
        *earlier_reports(history, printer),
        method_box.how_we_know(figures, scope.basis, f"{scope.root}basis", printer),
        method_box.coverage(figures, printer),
        method_box.set_aside(figures, printer),
        method_box.not_claimed(
            scope.not_claimed,
            "supplied.not_claimed_by" if scope.kind == "supplied" else "not_claimed",
            scope.scale, printer, unstated(figures, scope.by_material), adjustments=False,
        ),
        _assumed(figures, scope, printer),
        _whose_claim(claims, printer),
        method_box.gases(figures.emissions, figures.emissions_within, printer,
                         released_sentence(figures.emissions_within, "period", printer)),
        method_box.sources(figures.factors, printer),
    ]  # fmt: skip
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
    return Note(printer.plain(Text(N_("Whose claim."))), Markup(" ").join(said))
