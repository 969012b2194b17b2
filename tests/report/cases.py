"""Sponsor reports that must read properly: every case the templates have to carry."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from pathlib import Path

import make_figures as made

from divert.core.range import Range
from divert.figures.contract import Figures, Mass, Month
from divert.figures.history import History
from divert.figures.numbers.printed import Printed, Printer
from divert.report.paper.look import Look, look_of
from divert.report.paper.pages import in_page_order, render
from divert.report.sponsor.page import SponsorView, sponsor_frame, sponsor_view

NOTHING = Range(0.0, 0.0, 0.0)
LONG = "The Association of Friends and Neighbours of the Lower Kestrel Water Meadows Ltd"


def supported() -> Figures:
    return made.figures(sponsor="Two Oaks Credit Union", funds=0.25)


def supplied() -> Figures:
    return made.figures(sponsor="Quillmarsh School", supplies="Quillmarsh School kitchen")


def both() -> Figures:
    return made.figures(sponsor="Tern Street Kitchen", supplies="Tern Street Kitchen", funds=0.1)


def nothing_this_quarter() -> Figures:
    figures = supplied()
    own = figures.supplied
    assert own is not None
    empty = Mass(NOTHING, NOTHING, NOTHING, NOTHING, NOTHING, NOTHING)
    quiet = tuple(replace(m, received=NOTHING, diverted=NOTHING) for m in own.by_month)
    return replace(
        figures,
        supplied=replace(
            own, share=0.0, received=NOTHING, diverted=NOTHING, net_avoided=NOTHING, mass=empty,
            by_material=(), by_source=(), by_month=quiet, not_claimed_by={}, basis={},
            history=(*own.history[:-3], *quiet),
        ),
    )  # fmt: skip


def first_period() -> Figures:
    figures = supported()

    def alone(months: tuple[Month, ...]) -> tuple[Month, ...]:
        return tuple(replace(m, same_month_last_year=None) for m in months)

    return replace(
        figures, previous=None, same_period_last_year=None, by_month=alone(figures.by_month),
        history=alone(figures.by_month),
    )  # fmt: skip


def to_date() -> Figures:
    figures = supported()
    period = replace(
        figures.period, to_date=True, end=dt.date(2025, 6, 12), last_entry=dt.date(2025, 6, 10)
    )
    *whole, last = figures.by_month
    return replace(
        figures, period=period, as_of=dt.date(2025, 6, 12),
        by_month=(*whole, replace(last, partial=True)),
    )  # fmt: skip


def long_names() -> Figures:
    figures = made.figures(sponsor=LONG, supplies="Quillmarsh School kitchen", funds=0.1)
    own = figures.supplied
    assert own is not None
    parts = tuple(
        replace(p, name=f"{p.name} as they come, sorted by hand at the back door of kitchen {i}")
        for i, p in enumerate(own.by_material)
    )
    return replace(
        figures,
        site=LONG.replace("Association", "Compost Yard"),
        supplied=replace(own, by_material=parts),
        harvest=tuple(replace(h, destination=f"given to {LONG}") for h in figures.harvest),
    )


def below_zero() -> Figures:
    figures = supplied()
    own = figures.supplied
    assert own is not None
    mass = Mass(made.around(40.0), made.around(20.0), made.around(55.0), NOTHING,
                Range(-35.0, -41.0, -29.0), made.around(75.0))  # fmt: skip
    first, second, third = own.by_month
    months = (
        replace(first, received=made.around(40.0), diverted=Range(20.0, 18.0, 23.0)),
        replace(second, received=NOTHING, diverted=Range(-55.0, -60.0, -50.0)),
        replace(third, received=NOTHING, diverted=NOTHING),
    )
    return replace(
        figures,
        supplied=replace(
            own, share=0.01, received=mass.received, diverted=mass.diverted,
            net_avoided=Range(-38.0, -60.0, -11.0), mass=mass,
            by_material=(made.part("Kitchen scraps", 40.0, 0.0, 75.0),), by_month=months,
            not_claimed_by={}, basis={"weighed": 1.0},
        ),
    )  # fmt: skip


def one_source() -> Figures:
    figures = supported()
    return replace(figures, by_source=figures.by_source[:1], by_material=figures.by_material[:1])


def two_hundred_sources() -> Figures:
    figures = supported()
    names = [f"Kitchen {i}" for i in range(200)]
    return replace(
        figures,
        by_source=tuple(replace(figures.by_source[0], name=name) for name in names),
        diverted_by_before={"landfill": figures.mass.diverted, "incinerator": made.around(100.0)},
    )


CASES = {
    f.__name__: f
    for f in (supported, supplied, both, nothing_this_quarter, first_period, to_date, long_names,
              below_zero, one_source, two_hundred_sources)
}  # fmt: skip


def plain(markup: object) -> str:
    """Return the words of a page or a part of it, without drawings."""
    text = re.sub(r"<(style|title|svg)\b.*?</\1>", " ", str(markup), flags=re.S)
    return " ".join(re.sub(r"<[^>]*>", "", text).split())


def look(**changes: object) -> Look:
    return look_of(made.site(Path("nowhere"), **changes))[0]


def view_of(figures: Figures, *, language: str = "en", units: str = "us") -> SponsorView:
    printer = Printer(language, units)  # type: ignore[arg-type]
    return sponsor_view(figures, History(), printer, look())


def page_of(
    figures: Figures, *, language: str = "en", units: str = "us", country: str = "US",
    screen: bool = False, shown: Look | None = None,
) -> tuple[str, tuple[Printed, ...]]:  # fmt: skip
    """Return a sponsor's page as HTML without style sheet, and the figures it prints."""
    printer = Printer(language, units, country=country)  # type: ignore[arg-type]
    shown = shown or look(country=country)
    view = sponsor_view(figures, History(), printer, shown, screen=screen)
    page = render("sponsor.html", sponsor_frame(figures, printer), view, printer, shown)
    return page, in_page_order(page, printer)
