"""Grant statements and board reports of every kind that must read properly."""

from __future__ import annotations

import copy
import dataclasses
import datetime as dt
import re
from pathlib import Path

import yards

from divert.core.findings import Finding
from divert.core.range import Range
from divert.core.words import Text
from divert.factors import load_factors
from divert.figures.as_json import to_json
from divert.figures.contract import Figures, Part
from divert.figures.history import History, Move, PreviouslyReported, Restatement, Withdrawn
from divert.figures.numbers.printed import Printer
from divert.report.board.figures import BoardFigures
from divert.report.board.page import board_frame, board_view
from divert.report.grant.columns import GrantFigures
from divert.report.grant.page import grant_frame, grant_view
from divert.report.paper.look import Look, look_of
from divert.report.paper.pages import render
from divert.site.model import Grant, Site

LONG = "The very long name of a foundation for soils and gardens that needs eighty characters"
FOLDER = Path(__file__).parent
SITE = yards.yard.site(FOLDER)
BANDS = load_factors(None).bands

FULL = GrantFigures(
    yards.between(15, 17, label="2025-Q2", kind="quarter"),
    yards.between(6, 17),
    yards.between(6, 14),
)
FIRST = GrantFigures(yards.between(6, 8, label="2024-Q3", kind="quarter"), yards.between(6, 8))


def reported_before(share: float) -> History:
    """Return a history whose last statement gave ``share`` of what the same days give now."""
    figures = copy.deepcopy(to_json(yards.between(6, 14)))
    now = figures["mass"]["diverted"]["central"]
    for part in ("received", "removed", "residue", "not_claimed", "diverted"):
        figures["mass"][part] = {k: v * share for k, v in figures["mass"][part].items()}
    for item in figures["by_material"]:
        item["diverted"]["central"] *= share
    was, issued = now * share, dt.date(2025, 4, 8)
    moves = (
        Move("rows added", (now - was) * 0.75, 12),
        Move("factors changed", (now - was) * 0.25),
    )
    return History(
        PreviouslyReported("2025-0003", issued, "2025-Q1", dt.date(2024, 7, 1),
                           dt.date(2025, 3, 31), figures),
        () if share == 1 else (
            Restatement("2025-0003", issued, "2025-Q1", "mass.diverted.central", was, now, moves),
        ),
        (Withdrawn("2025-0002", "2025-Q1", dt.date(2025, 4, 2), issued, "2025-0003"),),
    )  # fmt: skip


def to_date(figures: Figures) -> Figures:
    """Return the figures as of a day before the period's end."""
    return dataclasses.replace(figures, period=dataclasses.replace(figures.period, to_date=True))


def negative(figures: Figures) -> Figures:
    """Return figures whose net is below zero."""
    e = figures.emissions
    emissions = dataclasses.replace(
        e,
        landfill_avoided=e.landfill_avoided.times(0.1),
        net_avoided=Range(
            e.landfill_avoided.central * 0.1 - e.process.central - e.fuel.central, -9e3, -10.0
        ),
    )
    return dataclasses.replace(figures, emissions=emissions)


def with_sources(figures: Figures, count: int, name: str) -> Figures:
    """Return figures of as many sources, sharing the mass evenly."""
    mass = figures.mass
    share = Part(
        "", mass.received.times(1 / count), mass.diverted.times(1 / count),
        mass.not_claimed.times(1 / count),
        yards.yard.around((mass.removed.central + mass.residue.central) / count),
    )  # fmt: skip
    parts = tuple(dataclasses.replace(share, name=f"{name} {i + 1}") for i in range(count))
    return dataclasses.replace(figures, by_source=parts)


def long_named(figures: Figures) -> Figures:
    """Return figures whose materials have names of eighty characters."""
    parts = tuple(
        dataclasses.replace(p, name=f"{LONG[:70]} {i} {p.name}"[:82])
        for i, p in enumerate(figures.by_material)
    )
    return dataclasses.replace(figures, by_material=parts)


def without_source(figures: Figures, name: str) -> Figures:
    """Return figures in which one source brought nothing."""
    kept = tuple(part for part in figures.by_source if part.name != name)
    return dataclasses.replace(figures, by_source=kept)


def with_stranger(figures: Figures, name: str, what: str) -> Figures:
    """Return figures whose smallest source or material has a name that the site does not list."""
    parts = getattr(figures, f"by_{what}")
    renamed = (*parts[:-1], dataclasses.replace(parts[-1], name=name))
    asked = Finding("query", f"unknown {what}", Text("?"), name=name)
    return dataclasses.replace(
        figures, **{f"by_{what}": renamed}, findings=(*figures.findings, asked)
    )


YEAR = yards.between(12, 23, label="2025", kind="year")
BEFORE = without_source(yards.between(0, 11, label="2024", kind="year"), "Alder House Offices")


def many_materials(count: int) -> GrantFigures:
    """Return a first statement whose mass is shared by as many materials."""

    def shared(figures: Figures) -> Figures:
        parts = figures.by_material
        of = count // len(parts)
        many = tuple(
            dataclasses.replace(
                p, name=f"{p.name} {i}", received=p.received.times(1 / of),
                diverted=p.diverted.times(1 / of), not_claimed=p.not_claimed.times(1 / of),
                thrown_away=p.thrown_away.times(1 / of),
            )
            for p in parts for i in range(of)
        )  # fmt: skip
        assert len(many) == count
        return dataclasses.replace(figures, by_material=many)

    return GrantFigures(shared(FIRST.period), shared(FIRST.total))


GRANTS: dict[str, tuple[GrantFigures, History]] = {
    "nothing issued": (FULL, History()),
    "restated": (FULL, reported_before(0.97)),
    "unchanged": (FULL, reported_before(1)),
    "first period": (FIRST, History()),
    "to date": (GrantFigures(to_date(FULL.period), to_date(FULL.total), FULL.earlier), History()),
    "negative net": (
        GrantFigures(negative(FULL.period), negative(FULL.total), negative(yards.between(6, 14))),
        History(),
    ),
    "many materials": (many_materials(60), History()),
    "long names": (
        GrantFigures(long_named(FIRST.period), long_named(FIRST.total)), History(),
    ),
}  # fmt: skip
BOARDS: dict[str, BoardFigures] = {
    "a whole year": BoardFigures(YEAR, BEFORE),
    "first year": BoardFigures(BEFORE),
    "to date": BoardFigures(to_date(yards.between(12, 20, label="2025", kind="year")),
                            yards.between(0, 8, label="2024", kind="year")),
    "one source": BoardFigures(with_sources(YEAR, 1, "The only kitchen")),
    "a misspelt source": BoardFigures(
        with_stranger(YEAR, "Nroth kitchen", "source"), BEFORE
    ),
    "two hundred sources": BoardFigures(with_sources(YEAR, 200, "Kitchen"), BEFORE),
    "long names": BoardFigures(long_named(with_sources(YEAR, 9, LONG)), BEFORE),
    "negative net": BoardFigures(negative(YEAR), negative(BEFORE)),
    "nothing but mass": BoardFigures(
        dataclasses.replace(
            YEAR, harvest=(), yield_=None, beds=(), activities=(), densities=(), factors=(),
            money=dataclasses.replace(YEAR.money, disposal_fee_avoided=None, sales=None, bags=None,
                                      spent=None, spent_per_tonne=None),
        )
    ),
}  # fmt: skip


def printer_of(site: Site) -> Printer:
    """Return a site's printer."""
    return Printer(site.language, site.units, country=site.country, currency=site.currency)


def look(site: Site = SITE) -> Look:
    """Return a site's look."""
    return look_of(site)[0]


def statement(
    figures: GrantFigures, history: History, site: Site = SITE, grant: Grant | None = None,
    printer: Printer | None = None, screen: bool = False,
) -> str:  # fmt: skip
    """Return the HTML of a statement of any figures."""
    grant, printer = grant or site.grants[0], printer or printer_of(site)
    view = grant_view(figures, history, site, grant, printer, look(site), screen=screen)
    return render("grant.html", grant_frame(figures, grant, printer), view, printer, look(site))


def grant_page(case: str, site: Site = SITE, screen: bool = False) -> tuple[str, Printer]:
    """Return a statement's HTML and the printer that printed it."""
    figures, history = GRANTS[case]
    grant = site.grants[0]
    if case == "long names":
        grant = dataclasses.replace(grant, name=LONG, share=None)
    printer = printer_of(site)
    return statement(figures, history, site, grant, printer, screen), printer


def board_page(case: str, site: Site = SITE, screen: bool = False) -> tuple[str, Printer]:
    """Return a board report's HTML and the printer that printed it."""
    figures, printer = BOARDS[case], printer_of(site)
    return board_report(figures, site, printer, screen), printer


def board_report(
    figures: BoardFigures, site: Site = SITE, printer: Printer | None = None, screen: bool = False
) -> str:
    """Return the HTML of a board report of any figures."""
    printer = printer or printer_of(site)
    view = board_view(figures, History(), site, BANDS, printer, look(site), screen=screen)
    return render("board.html", board_frame(figures, printer), view, printer, look(site))


def not_mostly_headings(page: str) -> None:
    """Assert that no table of a page has more headings than figures."""
    for table in re.findall(r"<table.*?</table>", page, re.S):
        heads, cells = (len(re.findall(f"<{tag}[ >]", table)) for tag in ("th", "td"))
        assert heads <= cells or heads + cells < 6, table
        rows = re.findall(r"<tr.*?</tr>", table, re.S)
        assert sum("<td" not in row for row in rows) <= 3, table  # rows of nothing but headings
