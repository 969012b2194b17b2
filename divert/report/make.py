"""One report from a job: the page, its PDF with the evidence inside, HTML, workbook, mail draft."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from divert.report.job import Job
from divert.report.look import Look
from divert.report.pages import Frame, in_page_order, render, self_contained
from divert.report.printed import Printed, Printer
from divert.site import Site
from divert.words import N_, Text


@dataclass(frozen=True, slots=True)
class Page:
    """A set page: its HTML without style sheet, and the figures on it in order."""

    html: str
    frame: Frame
    printed: tuple[Printed, ...]
    headline: str = ""


MOST_PAGES = {"sponsor": 2}


def page_for(job: Job, site: Site, look: Look, *, screen: bool) -> Page:
    """Return the page of a job; ``screen`` adds what only a screen shows."""
    printer = Printer(site.language, site.units, country=site.country, currency=site.currency)
    if job.audience == "sponsor":
        from divert.report.sponsor import sponsor_frame, sponsor_view

        view = sponsor_view(job.figures, job.history, printer, look, screen=screen)
        frame = sponsor_frame(job.figures, printer, job.number)
        html = render("sponsor.html", frame, view, printer, look)
        headline = printer.plain_text(view.headline)
        return Page(html, frame, in_page_order(html, printer), headline)
    raise NotImplementedError(job.audience)


def pdf_of(page: Page, job: Job, site: Site, look: Look, day: dt.date) -> bytes:
    """Return the page as PDF/UA-1. Raises NoPango where the machine cannot."""
    from divert.report.pdf import write_pdf

    return write_pdf(page.html, look, site.language, day, most_pages=MOST_PAGES.get(job.audience))


def html_of(page: Page, site: Site, look: Look) -> bytes:
    """Return the page as one file that needs nothing else."""
    return self_contained(page.html, look, site.language).encode("utf-8")


def mail_of(page: Page, job: Job, site: Site, pdf: bytes) -> bytes:
    """Return the mail draft that carries a sponsor's PDF."""
    from divert.report.mail import draft

    printer = Printer(site.language, site.units, country=site.country)
    to = next((s.email for s in site.sponsors if s.name == job.name and s.email), None)
    opening = printer.plain(
        Text(N_("Attached is the report of {site} for {days}."),
             {"site": site.name, "days": page.frame.period_line})
    )  # fmt: skip
    return draft(to, page.frame.title, f"{opening} {page.headline}", pdf, f"{job.stem}.pdf")
