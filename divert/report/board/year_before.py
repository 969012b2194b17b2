"""How a board report speaks of the year before: in full, or of the days that can be compared."""

from __future__ import annotations

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printed
from divert.report.board.figures import Board


def line_before(board: Board, value: Printed | Markup) -> Markup:
    """Return a small line with last year's figure, and its days where they are not the whole."""
    say, days = board.printer.say, board.days_before
    if days is None or not (board.began_within or board.now.period.to_date):
        return say(Text(N_("A year before {value}"), {"value": value}))
    first, last = (board.printer.date(day, "medium") for day in days)
    if board.began_within and board.now.period.to_date:
        return say(Text(N_("{first} to {last}: {value}"),
                        {"first": first, "last": last, "value": value}))  # fmt: skip
    if board.began_within:
        return say(
            Text(N_("A year before, from {first} on: {value}"), {"first": first, "value": value})
        )
    return say(Text(N_("A year before, up to {last}: {value}"), {"last": last, "value": value}))


def days_compared(board: Board) -> str:
    """Return a sentence on which days the columns "a year before" hold; "" where they are whole."""
    days = board.days_before
    if days is None or not (board.began_within or board.now.period.to_date):
        return ""
    values = {"first": days[0], "last": days[1]}
    if board.began_within:
        return board.printer.plain(
            Text(N_("A year before: {first}, when the site began, to {last}."), values)
        )
    return board.printer.plain(Text(N_("A year before: up to the same day, {last}."), values))
