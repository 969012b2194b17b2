"""The main points of a board report: what its numbers do not say already, a sentence each."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.product_scale import product_scale
from divert.report.board.figures import Board
from divert.report.board.sources import sources
from divert.report.wording.assumed_fates import assumed_sentence
from divert.report.wording.released import released_sentence
from divert.report.wording.set_aside import many_set_aside


def main_points(board: Board) -> tuple[Markup, ...]:
    """Return what came in and from whom, the total so far, and how far the figures carry."""
    said = [
        _received(board), many_set_aside(board.now, board.printer), _since(board), _rate(board),
        _gaps(board),
        assumed_sentence(board.now.assumed_fate, "assumed_fate", board.printer),
        released_sentence(board.now.emissions_within, "period", board.printer), _to_date(board),
    ]  # fmt: skip
    return tuple(one for one in said if one is not None)


def _received(board: Board) -> Markup | None:
    printer, now, found = board.printer, board.now, sources(board)
    if not now.mass.received.central:
        return None
    values: dict[str, object] = {
        "received": _with_words(printer.central("mass.received", now.mass.received, board.mass),
                                printer),
        "sources": len(found.now),
        "others": len(found.here) - len(found.now),
    }  # fmt: skip
    came = N_("Received: {received}, from {sources} sources.")
    if not found.now:
        came = N_("Received: {received}.")
    elif values["others"]:
        came = N_("Received: {received}, from sources on the list: {sources}, and under names that "
                  "are not: {others}.")  # fmt: skip
    elif values["sources"] == 1:
        came = N_("Received: {received}, from one source.")
    return printer.say(Text(came, values))


def _since(board: Board) -> Markup:
    printer, since = board.printer, board.now.cumulative
    scale = printer.scale("mass", since.diverted.central)
    ever = printer.central("cumulative.diverted", since.diverted, scale)
    return printer.say(
        Text(N_("Since {day} the site has diverted {amount}."),
             {"day": printer.date(since.since), "amount": _with_words(ever, printer)})
    )  # fmt: skip


def _rate(board: Board) -> Markup | None:
    printer, rate = board.printer, board.now.diversion_rate
    if rate is None:
        return None
    scale = product_scale(rate.disposed.central, board.mass, printer)
    figure = printer.central("diversion_rate.disposed", rate.disposed, scale)
    share = printer.share("diversion_rate.rate", rate.rate)
    values = {"rate": printer.with_unit(share), "disposed": _with_words(figure, printer)}
    return printer.say(
        Text(N_("Diversion rate of what this yard handled: {rate}, with {disposed} of rubbish "
                "hauled away."), values)
    )  # fmt: skip


def _gaps(board: Board) -> Markup | None:
    if not board.gaps_differ or board.began_within:
        return None
    return board.printer.say(
        Text(N_("One of the two years has many more weeks without entries: neither is called "
                "more or less."))
    )  # fmt: skip


def _to_date(board: Board) -> Markup | None:
    period = board.now.period
    if not period.to_date:
        return None
    values: dict[str, object] = {"day": period.last_entry}
    if period.last_entry is None:
        message = N_("The period has not ended, and nothing is written down of it.")
    elif board.before is None:
        message = N_("The period has not ended: the last entry is of {day}.")
    else:
        values["end"] = board.before.period.end
        message = N_(
            "The period has not ended: the last entry is of {day}. Last year is compared up to {end}."
        )
    return board.printer.say(Text(message, values))


def _with_words(figure: Printed, printer: Printer) -> Markup:
    return Markup("{}\u00a0{}").format(figure, printer.unit_in_full(figure.unit, figure.text))
