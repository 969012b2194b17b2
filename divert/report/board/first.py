"""The first page of a board report: the year in one sentence and four numbers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from divert.core.period import months_on
from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.compare import reaches
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printed
from divert.figures.numbers.product_scale import product_scale
from divert.figures.numbers.scales import Scale
from divert.report.board.figures import Board
from divert.report.board.year_before import line_before
from divert.report.wording.dates import this_period
from divert.report.wording.masses import as_estimate

_LONG = 8


@dataclass(frozen=True, slots=True)
class LeadNumber:
    """One of the four: what it is, the figure with its unit, and small lines beneath."""

    label: str
    figure: Markup
    unit: str
    lines: tuple[Markup, ...]

    @property
    def is_long(self) -> bool:
        """Return whether the figure needs a smaller size to stand on one line with its unit."""
        return len(self.figure.striptags()) > _LONG


def headline(board: Board) -> Markup:
    """Return the year in a sentence: diverted, against the year before and against the target."""
    printer, mass = board.printer, board.now.mass
    printed = printer.central("mass.diverted", mass.diverted, board.mass, within=mass.received)
    if not mass.received.central and not mass.diverted.central:
        message = (
            N_("{period} nothing was received.") if board.now.weeks.logged
            else N_("{period} no delivery was written down.")
        )  # fmt: skip
        return printer.say(Text(message, {"period": _when(board)}))
    amount = Markup("<em>{}\u00a0{}</em>").format(
        printed, printer.unit_in_full(board.mass.unit, printed.text)
    )
    said_amount = as_estimate(amount, board.now, printer) if mass.diverted.central > 0 else amount
    values: dict[str, object] = {"period": _when(board), "amount": said_amount}
    if board.before is not None:
        values["day"] = board.before.period.end
    if mass.diverted.central < 0:
        return printer.say(
            Text(N_("{period} more was thrown away than came in to be diverted: {amount}."), values)
        )
    if not mass.diverted.central:
        return printer.say(
            Text(N_("{period} none of what came in counts as diverted from disposal."), values)
        )
    said = [printer.say(Text(_against_last_year(board), values))]
    target = _against_target(board)
    if target is not None:
        said.append(printer.say(target))
    return Markup(" ").join(said)


def _when(board: Board) -> str:
    """Return how the sentence begins: "In 2025", "This year so far (last entry: October 12, 2025)"."""
    period, printer = board.now.period, board.printer
    if period.to_date and period.last_entry is not None:
        until = {"period": this_period(period), "day": printer.date(period.last_entry)}
        return _opening(printer.plain(Text(N_("{period} (last entry: {day})"), until)))
    if period.kind == "year" and not period.to_date:
        message = (
            N_("In {year}") if board.site.year_starts == 1 else N_("In the reporting year {year}")
        )
        return printer.plain(Text(message, {"year": str(board.year)}))
    return _opening(printer.plain(this_period(period)))


def _opening(words: str) -> str:
    return words[:1].upper() + words[1:]


def _against_last_year(board: Board) -> str:
    to_date = board.now.period.to_date
    return {
        None: N_("{period} the site diverted {amount} from disposal."),
        ("more", False): N_(
            "{period} the site diverted {amount} from disposal, more than a year before."
        ),
        ("more", True): N_("{period} the site diverted {amount} from disposal, more than a year "
                           "before up to {day}."),
        ("less", False): N_(
            "{period} the site diverted {amount} from disposal, less than a year before."
        ),
        ("less", True): N_("{period} the site diverted {amount} from disposal, less than a year "
                           "before up to {day}."),
        ("about the same", False): N_(
            "{period} the site diverted {amount} from disposal, about as much as a year before."
        ),
        ("about the same", True): N_("{period} the site diverted {amount} from disposal, about as "
                                     "much as a year before up to {day}."),
    }[None if board.than_before is None else (board.than_before, to_date)]  # fmt: skip


def _against_target(board: Board) -> Text | None:
    """Return whether the target was reached; nothing of a pace, which a small line tells."""
    found = board.target
    if found is None:
        return None
    _, target = found
    place, _ = found
    goal = board.printer.one(f"targets[{place}].target", target.target, board.mass)
    reached = reaches(board.diverted.central, goal)
    if board.now.period.to_date:
        return Text(N_("The target is reached already.")) if reached else None
    return Text(N_("The target was reached.") if reached else N_("The target was not reached."))


def four_numbers(board: Board) -> tuple[LeadNumber, ...]:
    """Return diverted, gases, harvest and how much was weighed, each with last year and target."""
    return (_diverted(board), _gases(board), _harvest(board), _weighed(board))


def _diverted(board: Board) -> LeadNumber:
    printer, now = board.printer, board.now
    printed = printer.range(
        "mass.diverted", now.mass.diverted, board.mass, within=now.mass.received
    )
    lines = _ranged(board, printed.low, printed.high)
    if board.before is None and now.period.kind != "all":
        lines.append(printer.say(Text(N_("No year before"))))
    lines += _last_year(board, lambda f: f.mass.diverted, "mass.diverted", board.mass)
    lines += _target(board)
    return LeadNumber(
        printer.plain(Text(N_("Diverted from disposal"))),
        Markup("{}").format(printed.central),
        printer.unit_in_full(board.mass.unit, printed.central.text),
        tuple(lines),
    )


def _target(board: Board) -> list[Markup]:
    """Return the target of the mass diverted, and in a year still running how the pace is to it."""
    printer, found, period = board.printer, board.target, board.now.period
    if period.kind != "year":
        return []
    if found is None:
        return [printer.say(Text(N_("No target set")))]
    place, target = found
    figure = printer.one(f"targets[{place}].target", target.target, board.mass)
    message = N_("Target {value}")
    if period.to_date and target.diverted.central < target.target:
        ahead = target.diverted.central >= target.target * _share_gone(board)
        message = (
            N_("Target {value}: ahead of an even pace") if ahead
            else N_("Target {value}: behind an even pace")
        )  # fmt: skip
    return [printer.say(Text(message, {"value": figure}))]


def _share_gone(board: Board) -> float:
    """Return how much of the year is behind the last entry, counted from the site's own start."""
    first = board.now.period.start
    began, end = max(first, board.site.started), months_on(first, 12)
    return ((board.known_until - began).days + 1) / (end - began).days


def _gases(board: Board) -> LeadNumber:
    printer, net = board.printer, board.now.emissions.net_avoided
    scale = printer.scale("co2e", max(abs(net.central), abs(net.high), abs(net.low)))
    printed = printer.range("emissions.net_avoided", net, scale)
    return LeadNumber(
        printer.plain(
            Text(N_("Greenhouse gases avoided, net"))
            if net.central >= 0 else Text(N_("Greenhouse gases, net: more given off than avoided"))
        ),
        Markup("{}").format(printed.central),
        printer.unit_in_full(scale.unit, printed.central.text),
        (
            *_ranged(board, printed.low, printed.high),
            *_last_year(board, lambda f: f.emissions.net_avoided, "emissions.net_avoided", scale),
        ),
    )  # fmt: skip


def _ranged(board: Board, low: Printed, high: Printed) -> list[Markup]:
    if low.text == high.text:
        return []
    return [
        board.printer.say(Text(N_("90\u202f% range {low} to {high}"), {"low": low, "high": high}))
    ]


def _last_year(
    board: Board, read: Callable[[Figures], Range], path: str, scale: Scale
) -> list[Markup]:
    if board.before is None:
        return []
    figure = board.printer.central(f"before:{path}", read(board.before), scale)
    return [line_before(board, figure)]


def harvested(figures: Figures, of_set: str) -> tuple[str, float]:
    """Return the key and the kg of everything harvested."""
    places = [
        i for i, h in enumerate(figures.harvest) if h.mass_kg is not None and h.mass_kg.central
    ]
    key = "+".join(f"{of_set}:harvest[{i}].mass_kg.central" for i in places)
    return key, sum(h.mass_kg.central for h in figures.harvest if h.mass_kg is not None)


def _harvest(board: Board) -> LeadNumber:
    printer = board.printer
    label = printer.plain(Text(N_("Castings and compost harvested")))
    key, kg = harvested(board.now, "period")
    then_key, then = ("", 0.0) if board.before is None else harvested(board.before, "before")
    scale = product_scale(kg or then, board.mass, printer)
    lines = []
    if then_key:
        lines.append(line_before(board, printer.one(then_key, then, scale)))
    elif board.before is not None:
        lines.append(line_before(board, printer.say(Text(N_("none")))))
    if not key:
        return LeadNumber(label, printer.say(Text(N_("none"))), printer.plain(Text(N_("logged"))),
                      tuple(lines))  # fmt: skip
    figure = printer.one(key, kg, scale)
    return LeadNumber(
        label, Markup("{}").format(figure), printer.unit_in_full(scale.unit, figure.text),
        tuple(lines),
    )  # fmt: skip


def _weighed(board: Board) -> LeadNumber:
    printer, now, before = board.printer, board.now, board.before
    label = printer.plain(Text(N_("Of what came in, weighed rather than estimated")))
    lines = []
    if before is not None and before.mass.received.central:
        then = printer.share("before:basis.weighed", before.basis.get("weighed", 0.0))
        lines.append(line_before(board, printer.with_unit(then)))
    if not now.mass.received.central:
        return LeadNumber(label, Markup("–"), "", tuple(lines))
    share = printer.share("basis.weighed", now.basis.get("weighed", 0.0))
    return LeadNumber(label, Markup("{}").format(share), "%", tuple(lines))
