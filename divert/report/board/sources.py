"""From whom it came: sources gained and lost, and those that changed most."""

from __future__ import annotations

from dataclasses import dataclass

from divert.core.words import N_, Text
from divert.figures.contract import Figures, Part
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, halves, more_row
from divert.report.board.figures import Board
from divert.report.board.section import Section
from divert.report.board.year_before import days_compared
from divert.report.wording.material_names import NOT_RECORDED
from divert.report.wording.unknown_names import shown_name, unknown_names

_MOST_SOURCES = 6

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
    """Return sources gained and lost, and those that changed most; the first year lists the largest."""
    printer, found = board.printer, sources(board)
    here, then = found.here, found.then
    if not here:
        return None
    if not then:
        return _largest_only(board, found)
    gained = sorted((n for n in found.now if n not in then), key=lambda n: -_in(here, n))
    lost = sorted((n for n in found.before if n not in here), key=lambda n: -_in(then, n))
    both = [n for n in found.now if n in then]
    moved = sorted(both, key=lambda n: -abs(_in(here, n) - _in(then, n)))
    came = N_("Came both times, those that changed most")
    if board.began_within:  # amounts of unlike times show no change
        moved, came = sorted(both, key=lambda n: -_in(here, n)), N_("Came both times, the largest")
    strange = sorted(n for n in {*here, *then} if n in found.strangers)
    scale = printer.scale(
        "mass", max(_in(of, n) for of in (here, then) for n in of), unit=board.mass.unit
    )
    to_date = board.now.period.to_date
    groups = [
        _group(printer.plain(Text(head, {"count": len(names)})), names, found, scale, board)
        for head, names in (
            (N_("New this time: {count}"), gained),
            (N_("Not seen yet: {count}") if to_date else N_("No longer: {count}"), lost),
            (N_("Not in the site's list of sources: {count}"), strange),
        )
        if names
    ]
    changed = _group(printer.plain(Text(came)), moved, found, scale, board)
    return Section(
        printer.plain(
            Text(N_("Who the material comes from")) if board.gaps_differ
            else _gained_and_lost(len(gained), len(lost), to_date)
        ),
        " ".join(
            (
                printer.plain(
                    Text(N_("Received by source, {unit}. Sources now: {now}; a year before: {then}."),
                         {"unit": printer.unit_in_full(scale.unit), "now": len(found.now),
                          "then": len(found.before)})
                ),
                days_compared(board),
            )
        ).strip(),
        None,
        _tables(groups, changed, board),
    )  # fmt: skip


def _tables(groups: list[Group], changed: Group, board: Board) -> tuple[Table, ...]:
    """Return two tables side by side: what came and went, and what changed; else one list in two."""
    if groups and changed.rows:
        return _table((changed,), board), _table(tuple(groups), board)
    if groups:
        return (_table(tuple(groups), board),)
    return tuple(_table((Group(changed.head, rows),), board) for rows in halves(changed.rows))


def _table(groups: tuple[Group, ...], board: Board) -> Table:
    say = board.printer.say
    heads = (say(Text(N_("A year before"))), say(Text(N_("Now"))))
    if len(groups) == 1:  # its heading says what the first column holds
        return Table("", groups[0].head, heads, (Group("", groups[0].rows),))
    return Table("", say(Text(N_("Source"))), heads, groups)


def _group(head: str, names: list[str], found: Sources, scale: Scale, board: Board) -> Group:
    """Return the first of the names with both figures each, and how many more there are."""
    printer = board.printer
    rows = []
    for name in names[:_MOST_SOURCES]:
        cells: list[Cell] = []
        for of, key in ((found.then, "before:by_source"), (found.here, "period:by_source")):
            if name not in of:
                cells.append("–")
                continue
            place, part = of[name]
            cells.append(printer.central(f"{key}[{place}].received", part.received, scale))
        rows.append(Row(shown_name(name, frozenset(), printer), tuple(cells)))
    if len(names) > _MOST_SOURCES:
        rows.append(more_row(len(names) - _MOST_SOURCES, 2, printer))
    return Group(head, tuple(rows))


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
        for name in ordered[: 2 * _MOST_SOURCES]
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
