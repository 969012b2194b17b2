"""The board report: the year in four numbers, then one finding to a half page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.factors import Band
from divert.figures.contract import Figures
from divert.figures.history import History
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.tables import Table
from divert.report.board.data_quality import known_section, standing_section
from divert.report.board.figures import Board, BoardFigures
from divert.report.board.first import LeadNumber, four_numbers, headline
from divert.report.board.made import harvest_section, money_section
from divert.report.board.main_points import main_points
from divert.report.board.mix import mix_section
from divert.report.board.months import months_section, months_tables
from divert.report.board.problems import questions_section, wrong_section
from divert.report.board.quarters import cost_section, weighed_section
from divert.report.board.section import Section, in_rows
from divert.report.board.sources import sources_section
from divert.report.board.trends import target_section, years_section
from divert.report.board.yard import contamination_section, yard_section
from divert.report.board.year_before import days_compared
from divert.report.charts.drawn import Drawn, drawn, full_width_mm
from divert.report.charts.strip import Strip, strip
from divert.report.charts.strips import site_strip
from divert.report.grant.restated import restated_table
from divert.report.paper.look import Look
from divert.report.paper.pages import Frame
from divert.report.sponsor.scope import site_scope
from divert.report.wording import method_box
from divert.report.wording.assumed_fates import unstated
from divert.report.wording.conventions import next_report, signs
from divert.report.wording.dates import period_name, shown_days
from divert.report.wording.method_box import Note
from divert.site.model import Site


@dataclass(frozen=True, slots=True)
class BoardView:
    """Everything a board report says, in the order it says it."""

    headline: Markup
    numbers: tuple[LeadNumber, ...]
    strip: Drawn | None
    points: tuple[Markup, ...]
    first: Section | None
    rows: tuple[tuple[Section, ...], ...]
    restated: Table | None
    closing: tuple[Section, ...]
    months: tuple[Table, ...]
    months_note: str
    notes: tuple[Note, ...]
    cautions: Markup


def board_frame(figures: BoardFigures, printer: Printer) -> Frame:
    """Return what stands around a board report."""
    now = figures.period
    days = shown_days(now.period, printer)
    name = period_name(now.period, printer.language, printer.country)
    values = {"site": now.site, "period": name, "days": days}
    return Frame(
        title=printer.plain(Text(N_("{site}: report to the board, {period}"), values)),
        description=printer.plain(Text(N_("The year of {site} in figures, {days}"), values)),
        site=now.site,
        site_line=printer.plain(Text(N_("Report to the board"))),
        for_line=name,
        period_line=days if days != name else _as_of(now, printer),
        foot=printer.plain(Text(N_("{site} · {period}"), values)),
        day=now.as_of.isoformat(),
    )


def _as_of(figures: Figures, printer: Printer) -> str:
    return printer.plain(Text(N_("As of {day}"), {"day": figures.as_of}))


def board_view(
    figures: BoardFigures, history: History, site: Site, bands: Mapping[str, Band],
    printer: Printer, look: Look, *, screen: bool = False,
) -> BoardView:  # fmt: skip
    """Return the board's report; ``bands`` are those of the factor set, by key."""
    scope = site_scope(figures.period, printer)
    board = Board(figures, site, bands, printer, look, scope, screen)
    first, *others = [
        section
        for section in (
            months_section(board),
            target_section(board),
            years_section(board),
            mix_section(board),
            sources_section(board),
            cost_section(board),
            weighed_section(board),
            harvest_section(board),
            money_section(board),
            known_section(board),
            yard_section(board),
            contamination_section(board),
            standing_section(board),
        )
        if section is not None
    ]
    return BoardView(
        headline=headline(board),
        numbers=four_numbers(board),
        strip=_strip(board),
        points=main_points(board),
        first=first,
        rows=in_rows(others),
        restated=restated_table(history, board.mass, printer),
        closing=(wrong_section(board, history), questions_section(board)),
        months=months_tables(board),
        months_note=_months_note(board),
        notes=_notes(board),
        cautions=method_box.said_cautions(printer),
    )


def _months_note(board: Board) -> str:
    printer = board.printer
    unit = Text(N_("Diverted by month, {unit}."), {"unit": printer.unit_in_full(board.mass.unit)})
    return " ".join((printer.plain(unit), days_compared(board))).strip()


def _strip(board: Board) -> Drawn | None:
    data: Strip | None = site_strip(board.now, "period", board.mass, board.printer)
    if data is None:
        return None
    return drawn(lambda look: strip(data, look), full_width_mm(board.look), board.printer.language,
                 board.look, screen=board.screen)  # fmt: skip


def _notes(board: Board) -> tuple[Note, ...]:
    now, printer = board.now, board.printer
    notes = (
        method_box.how_we_know(now, now.basis, "basis", printer),
        method_box.not_claimed(now.not_claimed, "not_claimed", board.mass, printer,
                               unstated(now, now.by_material)),
        method_box.gases(now.emissions, now.emissions_within, printer),
        method_box.standing(now.factors, printer),
        method_box.range_means(printer),
        signs(printer),
        _next(board),
        method_box.sources(now.factors, printer),
    )  # fmt: skip
    return tuple(note for note in notes if note is not None)


def _next(board: Board) -> Note | None:
    """Return whether anything said before has moved, and when the next report comes."""
    said = next_report(board.now.period, board.site.year_starts, board.printer)
    return Note(board.printer.plain(Text(N_("Next."))), Markup("{}").format(said)) if said else None
