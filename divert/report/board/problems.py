"""What went wrong, and the questions to settle next year: both drawn from the figures."""

from __future__ import annotations

import re

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.history import History
from divert.report.board.capacity import yield_band
from divert.report.board.figures import Board
from divert.report.board.section import Section
from divert.report.charts.chart import in_sentence
from divert.report.charts.known_months import first_day
from divert.report.wording.dates import month_and_year
from divert.report.wording.earlier_reports import earlier_reports
from divert.report.wording.factor_names import of_density
from divert.report.wording.set_aside import causes

_MOST = 9
_CONTAMINATION = 0.10


def wrong_section(board: Board, history: History) -> Section:
    """Return what went wrong, one sentence each."""
    found = [
        *_weeks(board),
        *_contamination(board),
        *_turned_away(board),
        *_below_zero(board),
        *_set_aside(board),
        *_restated(board, history),
    ]
    say = board.printer
    if not found:
        return Section(
            say.plain(Text(N_("Nothing went wrong that the records show"))),
            words=(say.say(Text(N_("No week is missing, no entry was set aside, no load was turned "
                                   "away."))),),
            half=True,
        )  # fmt: skip
    return Section(say.plain(Text(N_("What went wrong"))), words=tuple(found), half=True)


def _weeks(board: Board) -> list[Markup]:
    weeks, printer = board.now.weeks, board.printer
    if not weeks.missing:
        return []
    days = [printer.date(day, "medium") for day in weeks.missing_weeks[:4]]
    if len(weeks.missing_weeks) > 4:
        days.append(printer.plain(Text(N_("others"))))
    values = {"missing": printer.count("weeks.missing", weeks.missing),
              "days": printer.names(days)}  # fmt: skip
    return [
        printer.say(
            Text(N_("Weeks without any entry: {missing} (beginning {days}). What came in then is not "
                    "in these figures."), values)
        )
    ]  # fmt: skip


def _contamination(board: Board) -> list[Markup]:
    mass, printer = board.now.mass, board.printer
    if mass.received.central <= 0:
        return []
    key = "period:mass.removed.central/period:mass.received.central"
    share = mass.removed.central / mass.received.central
    values: dict[str, object] = {"share": printer.with_unit(printer.share(key, share))}
    if share > _CONTAMINATION:
        return [
            printer.say(
                Text(N_("Contamination picked out came to {share} of what was received, above the "
                        "ordinary tenth."), values)
            )
        ]  # fmt: skip
    before = board.comparable
    if before is not None and before.mass.received.central > 0:
        then = before.mass.removed.central / before.mass.received.central
        if share > 1.5 * then and share - then > 0.01:
            was = printer.share("before:mass.removed.central/before:mass.received.central", then)
            values["then"] = printer.with_unit(was)
            return [
                printer.say(
                    Text(N_("Contamination picked out rose from {then} to {share} of what was "
                            "received."), values)
                )
            ]  # fmt: skip
    return []


def _turned_away(board: Board) -> list[Markup]:
    rejected, printer = board.now.rejected, board.printer
    if not rejected.central:
        return []
    figure = printer.central("rejected", rejected, printer.scale("mass", rejected.central))  # fmt: skip
    return [
        printer.say(
            Text(N_("Loads turned away: {mass}. They were never received."),
                 {"mass": printer.with_unit(figure)})
        )
    ]  # fmt: skip


def _below_zero(board: Board) -> list[Markup]:
    printer = board.printer
    months = [
        month_and_year(first_day(m), printer.language)
        for m in board.now.by_month
        if m.diverted.central < 0
    ]
    if not months:
        return []
    return [
        printer.say(
            Text(N_("More was thrown away than came in to be diverted in {months}: the month stands "
                    "as an adjustment below zero."), {"months": printer.names(months)})
        )
    ]  # fmt: skip


def _set_aside(board: Board) -> list[Markup]:
    rows, printer = board.now.rows, board.printer
    if not rows.set_aside:
        return []
    reasons = [cause for cause, _ in causes(board.now, printer)[:3]]
    figure = printer.count("rows.set_aside", rows.set_aside)
    if not reasons:
        return [printer.say(Text(N_("Entries set aside and not counted: {count}."),
                                 {"count": figure}))]  # fmt: skip
    return [
        printer.say(
            Text(N_("Entries set aside and not counted: {count}, mostly for: {reasons}."),
                 {"count": figure, "reasons": printer.phrases(reasons)})
        )
    ]  # fmt: skip


def _restated(board: Board, history: History) -> list[Markup]:
    """Return what earlier reports said otherwise, with the reasons, and which were taken back."""
    notes = earlier_reports(history, board.printer)
    return [Markup("{} {}").format(note.lead, note.text) for note in notes]


def questions_section(board: Board) -> Section:
    """Return what to settle next year: open questions, bands, weeks, densities still on lists."""
    printer = board.printer
    found = [*_bands(board), *_densities(board), *_open(board), *_habit(board)]
    if not found:
        return Section(
            printer.plain(Text(N_("No question is open for next year"))),
            words=(printer.say(Text(N_("Set next year's target, and keep weighing."))),),
            half=True,
        )
    return Section(
        printer.plain(Text(N_("Questions for next year"))), words=tuple(found[:_MOST]), half=True
    )


def _bands(board: Board) -> list[Markup]:
    printer, out = board.printer, []
    heavy = [
        re.sub(r" (?=\d+$)", "\u00a0", b.bed)  # a number stays on the line of its bed
        for b in board.now.beds if b.band in ("ask", "implausible")
    ]  # fmt: skip
    if heavy:
        out.append(
            printer.say(
                Text(N_("Can the beds take it? Fed above the ordinary band: {beds}."),
                     {"beds": printer.names(heavy)})
            )
        )  # fmt: skip
    elif board.now.beds and all(b.band == "ordinary" for b in board.now.beds):
        out.append(
            printer.say(Text(N_("The beds are within the ordinary band: is there room for another "
                                "source?")))
        )  # fmt: skip
    found, band = board.now.yield_, yield_band(board)
    if found is not None and found.share and band is not None:
        low, high = band.ordinary
        if not low <= found.share <= high:
            out.append(
                printer.say(Text(N_("The yield lies outside the ordinary band: is every harvest "
                                    "written down, and weighed dry or wet?")))
            )  # fmt: skip
    return out


def _densities(board: Board) -> list[Markup]:
    """Name the materials whose mass rests on published densities and would gain by weighing."""
    printer = board.printer
    heavy = [
        (i, f) for i, f in enumerate(board.now.factors)
        if f.key.startswith("density.") and (f.share or 0.0) >= 0.05
    ]  # fmt: skip
    if not heavy:
        return []
    names = [
        Markup("{} ({})").format(
            in_sentence(of_density(f.key, printer)),
            printer.with_unit(printer.share(f"factors[{i}].share", f.share or 0)),
        )
        for i, f in heavy[:4]
    ]  # fmt: skip
    return [
        printer.say(
            Text(N_("Which loads should be weighed? Of the mass received, these shares rest on "
                    "published densities: {materials}."), {"materials": printer.names(names)})
        )
    ]  # fmt: skip


_ASKED = {
    "usual fate not stated": N_("Where did it go before? Not stated for: {names}."),
    "fill not recorded": N_("How full are they? The fill is not recorded for: {names}."),
    "source not recorded": N_("Who brought it? Some entries name no source."),
    "unknown source": N_("Who are they? Not in the site's list of sources: {names}."),
    "unknown material": N_("What are they? Not in the site's list of materials: {names}."),
    "unknown container": N_("What do they hold? Not in the site's list of containers: {names}."),
    "gas capture not stated": N_("How much gas does the landfill capture? It has not been asked."),
    "count far outside habit": N_("Are some counts right? A few lie far outside their source's "
                                  "habit."),
    "row repeated exactly": N_("Were some loads written down twice? Some rows repeat exactly."),
    "implausible density": N_("Are some weights or volumes wrong? A few do not fit each other."),
    "contamination exactly zero all year": N_("Is nothing ever picked out? Contamination is zero all "
                                              "year for: {names}."),
    "contamination high": N_("What can be done about contamination? It is high for: {names}."),
    "measured density outside the published range": N_(
        "Are the weigh-ins right? The site's own density lies outside the published range for: "
        "{names}."
    ),
}  # fmt: skip


def _open(board: Board) -> list[Markup]:
    """Ask what the open queries ask, one sentence a code."""
    printer = board.printer
    by_code: dict[str, list[str]] = {}
    for finding in board.now.findings:
        if finding.level == "query" and finding.answer is None and finding.code in _ASKED:
            by_code.setdefault(finding.code, []).append(finding.name)
    out = []
    for code, message in _ASKED.items():
        if code not in by_code:
            continue
        names = list(dict.fromkeys(name for name in by_code[code] if name))
        shown = names[:5]
        if len(names) > 5:
            shown.append(printer.plain(Text(N_("others"))))
        if "{names}" in message and not shown:
            continue
        out.append(printer.say(Text(message, {"names": printer.names(shown)})))
    return out


def _habit(board: Board) -> list[Markup]:
    if board.now.weeks.missing < 3:
        return []
    return [
        board.printer.say(
            Text(N_("Who writes the log when the usual crew is away? Weeks are missing."))
        )
    ]
