"""The first page of a board report: the year in one sentence and four numbers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from divert.figures import Figures, Range
from divert.report.board_figures import Board
from divert.report.dates import this_period
from divert.report.printed import THIN, Printed
from divert.report.scales import Scale
from divert.words import N_, Text


@dataclass(frozen=True, slots=True)
class Number:
    """One of the four: what it is, the figure with its unit, and small lines beneath."""

    label: str
    figure: Markup
    unit: str
    lines: tuple[Markup, ...]


def headline(board: Board) -> Markup:
    """Return the year in a sentence: diverted, against the year before and against the target."""
    printer, diverted = board.printer, board.now.mass.diverted
    printed = printer.one("mass.diverted.central", diverted.central, board.mass)
    amount = Markup("<em>{}\u00a0{}</em>").format(
        printed, printer.unit_in_full(board.mass.unit, printed.text)
    )
    values: dict[str, object] = {"period": _when(board), "amount": amount}
    said = [printer.say(Text(_against_last_year(board, printed), values))]
    target = _against_target(board)
    if target is not None:
        said.append(printer.say(target))
    return Markup(" ").join(said)


def _when(board: Board) -> str:
    """Return how the sentence begins: "In 2025", "This quarter so far"."""
    period, printer = board.now.period, board.printer
    if period.kind == "year" and not period.to_date:
        return printer.plain(Text(N_("In {year}"), {"year": str(board.year)}))
    said = printer.plain(this_period(period))
    return said[:1].upper() + said[1:]


def _against_last_year(board: Board, now: Printed) -> str:
    before = board.before
    if before is None:
        return N_("{period} the site diverted {amount} from disposal.")
    then = board.printer.one("before:mass.diverted.central", before.mass.diverted.central,
                             board.mass)  # fmt: skip
    if then.text == now.text:
        return N_("{period} the site diverted {amount} from disposal, as much as a year before.")
    if now.value > then.value:
        return N_("{period} the site diverted {amount} from disposal, more than a year before.")
    return N_("{period} the site diverted {amount} from disposal, less than a year before.")


def _against_target(board: Board) -> Text | None:
    found = board.target
    if found is None:
        return None
    _, target = found
    period = board.now.period
    if not period.to_date:
        if target.diverted.central >= target.target:
            return Text(N_("The target was reached."))
        return Text(N_("The target was not reached."))
    if target.diverted.central >= target.target:
        return Text(N_("The target is reached already."))
    gone = ((board.known_until - period.start).days + 1) / 365.25
    if target.diverted.central >= target.target * gone:
        return Text(N_("At the last entry that is ahead of an even pace to the target."))
    return Text(N_("At the last entry that is behind an even pace to the target."))


def four_numbers(board: Board) -> tuple[Number, ...]:
    """Return diverted, gases, harvest and how much was weighed, each with last year and target."""
    return (_diverted(board), _gases(board), _harvest(board), _weighed(board))


def _diverted(board: Board) -> Number:
    printer, now = board.printer, board.now
    printed = printer.range("mass.diverted", now.mass.diverted, board.mass)
    lines = [_ranged(board, printed.low, printed.high)]
    lines.append(_last_year(board, lambda f: f.mass.diverted, "mass.diverted", board.mass))
    found = board.target
    if found is None:
        lines.append(printer.say(Text(N_("No target set"))))
    else:
        place, target = found
        figure = printer.one(f"targets[{place}].target", target.target, board.mass)
        lines.append(printer.say(Text(N_("Target {value}"), {"value": figure})))
    return Number(
        printer.plain(Text(N_("Diverted from disposal"))),
        Markup("{}").format(printed.central),
        printer.unit_in_full(board.mass.unit, printed.central.text),
        tuple(lines),
    )


def _gases(board: Board) -> Number:
    printer, net = board.printer, board.now.emissions.net_avoided
    scale = printer.scale("co2e", max(abs(net.central), abs(net.high), abs(net.low)))
    printed = printer.range("emissions.net_avoided", net, scale)
    return Number(
        printer.plain(
            Text(N_("Greenhouse gases avoided, net"))
            if net.central >= 0 else Text(N_("Greenhouse gases, net: more given off than avoided"))
        ),
        Markup("{}").format(printed.central),
        printer.unit_in_full(scale.unit, printed.central.text),
        (
            _ranged(board, printed.low, printed.high),
            _last_year(board, lambda f: f.emissions.net_avoided, "emissions.net_avoided", scale),
            printer.say(Text(N_("No target set"))),
        ),
    )  # fmt: skip


def _ranged(board: Board, low: Printed, high: Printed) -> Markup:
    return board.printer.say(
        Text(N_("90\u202f% range {low} to {high}"), {"low": low, "high": high})
    )


def _last_year(board: Board, read: Callable[[Figures], Range], path: str, scale: Scale) -> Markup:
    if board.before is None:
        return board.printer.say(Text(N_("No year before")))
    figure = board.printer.one(f"before:{path}.central", read(board.before).central, scale)
    return board.printer.say(Text(N_("A year before {value}"), {"value": figure}))


def harvested(figures: Figures, of_set: str) -> tuple[str, float]:
    """Return the key and the kg of everything harvested."""
    places = [
        i for i, h in enumerate(figures.harvest) if h.mass_kg is not None and h.mass_kg.central
    ]
    key = "+".join(f"{of_set}:harvest[{i}].mass_kg.central" for i in places)
    return key, sum(h.mass_kg.central for h in figures.harvest if h.mass_kg is not None)


def _harvest(board: Board) -> Number:
    printer = board.printer
    label = printer.plain(Text(N_("Castings and compost harvested")))
    key, kg = harvested(board.now, "period")
    then_key, then = ("", 0.0) if board.before is None else harvested(board.before, "before")
    scale = printer.scale("mass", kg or then)
    lines = [printer.say(Text(N_("No year before")))]
    if board.before is not None:
        lines = [
            printer.say(Text(N_("A year before {value}"),
                             {"value": printer.one(then_key, then, scale)}))
            if then_key else printer.say(Text(N_("None logged a year before")))
        ]  # fmt: skip
    lines.append(printer.say(Text(N_("No target set"))))
    if not key:
        return Number(label, printer.say(Text(N_("none"))), printer.plain(Text(N_("logged"))),
                      tuple(lines))  # fmt: skip
    figure = printer.one(key, kg, scale)
    return Number(
        label, Markup("{}").format(figure), printer.unit_in_full(scale.unit, figure.text),
        tuple(lines),
    )  # fmt: skip


def _weighed(board: Board) -> Number:
    printer = board.printer
    share = printer.share("basis.weighed", board.now.basis.get("weighed", 0.0))
    lines = [printer.say(Text(N_("No year before")))]
    if board.before is not None:
        then = printer.share("before:basis.weighed", board.before.basis.get("weighed", 0.0))
        lines = [
            printer.say(Text(N_("A year before {value}"),
                             {"value": Markup("{}{}%").format(then, THIN)}))
        ]  # fmt: skip
    lines.append(printer.say(Text(N_("No target set"))))
    return Number(
        printer.plain(Text(N_("Of what came in, weighed rather than estimated"))),
        Markup("{}").format(share),
        "%",
        tuple(lines),
    )
