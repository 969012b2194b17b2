"""Dressing a view: the language, the head and tabs that every view has, and how figures are said."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from flask import g, request

from divert.core.words import N_, Text, languages
from divert.figures.numbers.printed import Printer
from divert.page.amounts import Amounts
from divert.page.desk import Desk, Seen
from divert.page.house import house
from divert.report.paper.colour import colours_of
from divert.report.paper.pages import environment
from divert.report.wording.dates import period_name, span
from divert.site.model import Site

if TYPE_CHECKING:
    from divert.figures.contract import PeriodShown

_SAID = {
    400: N_("That request could not be understood."),
    403: N_("This page answers only the browser that opened it with the address that divert open "
            "printed. Open that address again."),
    404: N_("There is no such page."),
    405: N_("There is no such page."),
    413: N_("That is more than can be taken at once. Add large files one by one."),
    500: N_("Something went wrong that divert did not foresee. Nothing was lost; go back and try "
            "again."),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Tab:
    """One view in the head of the page; ``count`` is how much there waits for the person."""

    path: str
    name: Text
    count: int = 0


_VIEWS = (
    ("files", N_("Files")),
    ("yard", N_("Yard")),
    ("sheets", N_("Sheets")),
    ("names", N_("Names")),
    ("questions", N_("Questions")),
    ("numbers", N_("Figures")),
    ("reports", N_("Reports")),
    ("sent", N_("Sent")),
)


def said(code: int) -> Text:
    """Return the sentence for an HTTP status."""
    return Text(_SAID.get(code, _SAID[500]))


def language_of(site: Site | None) -> str:
    """Return the site's language, else the first of the browser's that there is a catalogue for."""
    if site is not None and site.language in languages():
        return site.language
    return request.accept_languages.best_match(languages()) or "en"


def printer_of(site: Site | None, language: str) -> Printer:
    """Return what writes figures and dates for a site."""
    if site is None:
        return Printer(language, "us")
    return Printer(
        language, site.units, country=site.country, currency=site.currency,
        own_names={m.name for m in site.materials},
    )  # fmt: skip


def screen(template: str, **values: Any) -> str:
    """Return a view as HTML; templates see ``page``, ``say`` and the values given."""
    desk = house().desk
    seen = desk.seen if desk is not None else None
    site = seen.site if seen is not None else None
    language = language_of(site)
    printer = printer_of(site, language)
    page = _page(desk, seen, site, language)
    return (
        environment(language)
        .get_template(f"page/{template}")
        .render(
            page=page,
            printer=printer,
            amounts=Amounts(printer),
            say=printer.say,
            plain_words=plain_words,
            period_name=PeriodWords(printer).name,
            period_said=PeriodWords(printer).said,
            days_said=PeriodWords(printer).days,
            language=language,
            **values,
        )
    )


@dataclass(frozen=True, slots=True)
class PeriodWords:
    """Says a period as the reports do, never by its label."""

    printer: Printer

    def name(self, period: PeriodShown) -> str:
        """Return a period's name as it stands alone: "First quarter 2026"."""
        return period_name(period, self.printer.language, self.printer.country)

    def said(self, period: PeriodShown) -> str:
        """Return a period's name inside a line: "first quarter 2026"; a month keeps its capital."""
        name = self.name(period)
        return name[:1].lower() + name[1:] if period.kind == "quarter" else name

    def days(self, start: dt.date, end: dt.date) -> str:
        """Return the days of a span in words: "January to March 2026"."""
        return span(start, end, self.printer.language, self.printer.country)


# Whoever reads the page types no command and writes no line of a settings file: there are buttons.
_FOR_OTHERS = re.compile(
    r"site\.toml|reading\.toml|\[\[|\[[a-z]+\]|\b[a-z]+_[a-z]+\b|--\w|\bdivert [a-z]| = "
)


def plain_words(hint: Text) -> bool:
    """Return whether a hint is one for the page: not one of commands and settings."""
    return _FOR_OTHERS.search(str(hint)) is None


@dataclass(frozen=True, slots=True)
class Page:
    """What every view shows of the yard that is open.

    ``answers``: it answers a form, so that it cannot simply be asked for again; ``view`` can.
    """

    language: str
    site: str
    folder: str
    form_token: str
    path: str
    view: str
    answers: bool
    reading: int
    read: str
    busy: bool
    old: bool
    weighed: bool
    tabs: tuple[Tab, ...]
    strong: str


def _page(desk: Desk | None, seen: Seen | None, site: Site | None, language: str) -> Page:
    busy = desk is not None and desk.progress.busy
    return Page(
        language=language,
        site=site.name if site is not None else "",
        folder=desk.folder.name if desk is not None else "",
        form_token=getattr(g, "form_token", ""),
        path=request.path,
        view=f"/{request.path.split('/')[1]}",
        answers=request.method == "POST",
        reading=seen.number if seen is not None else 0,
        read=_how_long_ago(seen.when, language) if seen is not None else "",
        busy=busy,
        old=desk is not None and seen is not None and (busy or desk.is_old(seen)),
        weighed=desk is None or seen is None or house().weighed(desk, seen),
        tabs=_tabs(desk, seen),
        strong=colours_of(site.colour if site is not None else "#2f6b4f").strong,
    )


def _tabs(desk: Desk | None, seen: Seen | None) -> tuple[Tab, ...]:
    if desk is None:
        return ()
    from divert.page.waiting import waiting

    counts = waiting(seen) if seen is not None else {}
    return tuple(Tab(f"/{name}", Text(words), counts.get(name, 0)) for name, words in _VIEWS)


def _how_long_ago(when: dt.datetime, language: str) -> str:
    from babel.dates import format_timedelta

    ago = when - dt.datetime.now()
    if ago > dt.timedelta(seconds=-5):
        return Text(N_("just now")).say(language)
    return str(format_timedelta(ago, add_direction=True, locale=language, threshold=1.2))
