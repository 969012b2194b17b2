"""From whom it came: each source beside the same days a year before, who is new and who is gone."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.contract import Figures, Part
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Group, Row, Table, halves, more_row
from divert.report.board.figures import Board
from divert.report.board.section import Section, shows_nothing
from divert.report.board.year_before import days_compared
from divert.report.charts.chart import Amount, amount
from divert.report.charts.dots import Dots, Pair, dots
from divert.report.charts.drawn import drawn, full_width_mm
from divert.report.wording.dates import span
from divert.report.wording.material_names import NOT_RECORDED
from divert.report.wording.unknown_names import shown_name, unknown_names

_MOST_SOURCES = 10
_MOST_NAMED = 6

Placed = dict[str, tuple[int, Part]]  # by name: the place in the figures, and the part


@dataclass(frozen=True, slots=True)
class Sources:
    """Who brought something now and a year before, those of the site's list and the others."""

    here: Placed
    then: Placed
    strangers: frozenset[str]

    @property
    def now(self) -> list[str]:
        """Return the sources of now that the site's list has."""
        return [name for name in self.here if name not in self.strangers]

    @property
    def before(self) -> list[str]:
        """Return the sources of a year before that the site's list has."""
        return [name for name in self.then if name not in self.strangers]


def sources(board: Board) -> Sources:
    """Return the sources; names the site does not list are kept apart: a slip is no new source."""
    strangers = unknown_names(board.now, "source") | {NOT_RECORDED}
    before = board.before if board.before is not None and board.before.weeks.logged else None
    return Sources(_placed(board.now), {} if before is None else _placed(before), strangers)


def _placed(figures: Figures) -> Placed:
    return {p.name: (i, p) for i, p in enumerate(figures.by_source) if p.received.central}


def sources_section(board: Board) -> Section | None:
    """Return each source now beside the same days a year before; a first year lists the largest."""
    printer, found = board.printer, sources(board)
    here, then = found.here, found.then
    if not here:
        return None
    same = board.same_days
    if not then or same is None:
        return _largest_only(board, found)
    key, now = same
    paired = _Paired(_placed(now), f"{key}:by_source", then, "before:by_source")
    largest = max((paired.most(n) for n in paired.names), default=0.0)
    scale = printer.scale("mass", largest, unit=board.mass.unit)
    ordered = sorted((n for n in paired.names if n not in found.strangers),
                     key=lambda n: -paired.most(n))  # fmt: skip
    pairs = tuple(paired.pair(n, scale, printer) for n in ordered[:_MOST_SOURCES])
    gained = sorted((n for n in found.now if n not in then), key=lambda n: -_in(here, n))
    lost = sorted((n for n in found.before if n not in here), key=lambda n: -_in(then, n))
    to_date = now.period.to_date
    title = (
        Text(N_("Who the material comes from")) if board.gaps_differ
        else _gained_and_lost(len(gained), len(lost), to_date)
    )  # fmt: skip
    words = _words(board, found, gained, lost, len(ordered) - len(pairs))
    if shows_nothing([a.text for p in pairs for a in (p.now, p.before) if a is not None]):
        return _listed(pairs, title, words, scale, board)
    data = Dots(
        pairs, title, printer.plain(Text(N_("Received by source"))), printer.unit_in_full(scale.unit),
        _name(now, printer), _name(board.before or now, printer),
    )  # fmt: skip
    shown = drawn(lambda look: dots(data, look), full_width_mm(board.look), printer.language,
                  board.look, screen=board.screen)  # fmt: skip
    note = f"{shown.note} {_same_days(board, now)}".strip()
    return Section(shown.title, note, shown, (), words)


def _same_days(board: Board, now: Figures) -> str:
    """Return which days of both years are set beside each other; "" where they are whole."""
    if not board.began_within:
        return days_compared(board)
    printer = board.printer
    days = span(now.period.start, now.period.end, printer.language, printer.country)
    return printer.plain(
        Text(N_("The same days of both: {days}, and a year before."), {"days": days})
    )


@dataclass(frozen=True, slots=True)
class _Paired:
    """Parts by source of two times, each with the key of its list."""

    now: Placed
    now_key: str
    then: Placed
    then_key: str

    @property
    def names(self) -> list[str]:
        return list(dict.fromkeys([*self.now, *self.then]))

    def most(self, name: str) -> float:
        return max(_in(of, name) for of in (self.now, self.then) if name in of)

    def pair(self, name: str, scale: Scale, printer: Printer) -> Pair:
        amounts: list[Amount | None] = []
        for of, key in ((self.now, self.now_key), (self.then, self.then_key)):
            if name not in of:
                amounts.append(None)
                continue
            place, part = of[name]
            amounts.append(
                amount(printer.central(f"{key}[{place}].received", part.received, scale))
            )
        return Pair(shown_name(name, frozenset(), printer), *amounts)


def _name(figures: Figures, printer: Printer) -> str:
    """Return what a column of amounts is headed by: the year of a year, else the days."""
    first, last = figures.period.start, figures.period.end
    if first.year == last.year:
        return str(last.year)
    return span(first, last, printer.language, printer.country)


def _words(
    board: Board, found: Sources, gained: list[str], lost: list[str], more: int
) -> tuple[Markup, ...]:
    """Return how many there are, who is new, who is gone, and whom the site's list does not have."""
    printer, to_date = board.printer, board.now.period.to_date
    strange = sorted(n for n in {*found.here, *found.then} if n in found.strangers)
    said = [
        printer.say(Text(N_("Sources now: {now}; a year before: {then}."),
                         {"now": len(found.now), "then": len(found.before)}))
    ]  # fmt: skip
    if more > 0:
        said.append(printer.say(Text(N_("Shown are the largest; {count} more brought less."),
                                     {"count": more})))  # fmt: skip
    for message, names in (
        (N_("New this time: {count} ({names})."), gained),
        (N_("Not seen yet: {count} ({names}).") if to_date else N_("No longer: {count} ({names})."),
         lost),
        (N_("Not in the site's list of sources: {count} ({names})."), strange),
    ):  # fmt: skip
        if names:
            shown = [shown_name(n, frozenset(), printer) for n in names[:_MOST_NAMED]]
            if len(names) > _MOST_NAMED:
                shown.append(printer.plain(Text(N_("others"))))
            values = {"count": len(names), "names": printer.names(shown)}
            said.append(printer.say(Text(message, values)))
    return (Markup(" ").join(said),)


def _listed(
    pairs: tuple[Pair, ...], title: Text, words: tuple[Markup, ...], scale: Scale, board: Board
) -> Section:
    """Return sources that all brought alike as a list: equal dots show nothing."""
    printer = board.printer
    rows = [
        Row(p.name, tuple("–" if a is None else a.text for a in (p.before, p.now))) for p in pairs
    ]
    heads = (printer.say(Text(N_("A year before"))), printer.say(Text(N_("Now"))))
    tables = tuple(
        Table("", printer.say(Text(N_("Source"))), heads, (Group("", tuple(part)),))
        for part in halves(rows)
    )
    note = Text(N_("Received by source, {unit}."), {"unit": printer.unit_in_full(scale.unit)})
    return Section(printer.plain(title), printer.plain(note), None, tables, words)


def _gained_and_lost(gained: int, lost: int, to_date: bool) -> Text:
    """Say who is new and who is gone; in a year still running, who has not come yet."""
    values = {"gained": gained, "lost": lost}
    if lost and to_date:
        if gained:
            return Text(N_("Sources gained: {gained}; not seen yet: {lost}"), values)
        return Text(N_("Sources not seen yet: {lost}; none gained"), values)
    if gained and lost:
        return Text(N_("Sources gained: {gained}; lost: {lost}"), values)
    if gained:
        return Text(N_("Sources gained: {gained}; none lost"), values)
    if lost:
        return Text(N_("Sources lost: {lost}; none gained"), values)
    return Text(N_("The same sources as a year before"))


def _in(of: Placed, name: str) -> float:
    return of[name][1].received.central


def _largest_only(board: Board, found: Sources) -> Section:
    printer, here = board.printer, found.here
    ordered = sorted(here, key=lambda n: -_in(here, n))
    scale = printer.scale("mass", _in(here, ordered[0]), unit=board.mass.unit)
    rows = [
        Row(shown_name(name, found.strangers, printer),
            (printer.central(f"by_source[{here[name][0]}].received", here[name][1].received,
                             scale),))
        for name in ordered[: 12]
    ]  # fmt: skip
    if len(ordered) > len(rows):
        rows.append(more_row(len(ordered) - len(rows), 1, printer))
    tables = tuple(
        Table("", printer.say(Text(N_("Source"))), (printer.say(Text(N_("Received"))),),
              (Group("", tuple(part)),))
        for part in halves(rows)
    )  # fmt: skip
    title = (
        Text(N_("All of it comes from one source")) if len(here) == 1
        else Text(N_("Who the material comes from"))
    )  # fmt: skip
    note = Text(
        N_("Received by source, {unit}. Nothing a year before to compare with."),
        {"unit": printer.unit_in_full(scale.unit)},
    )
    return Section(printer.plain(title), printer.plain(note), None, tables)
