"""One report from a job: the page, its PDF with the evidence inside, HTML, workbook, mail draft."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from divert.convert import Workings
from divert.core.signing import fingerprint
from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printed, Printer
from divert.publish.beside import beside
from divert.publish.job import Job
from divert.report.paper.look import Look
from divert.report.paper.pages import Frame, in_page_order, render, self_contained
from divert.report.paper.proof import proof_line
from divert.report.sponsor.mail import Draft
from divert.report.wording.absent import absent_notices

FORMATS = ("pdf", "html", "xlsx")
MOST_PAGES = {"sponsor": 2, "grant": 4, "board": 6}
LEAST_PAGES = {"grant": 3, "board": 4}


@dataclass(frozen=True, slots=True)
class Page:
    """A page before it is set: its HTML without style sheet, and the figures on it in order.

    ``headline`` is the report's first sentence as plain text; ``tables`` further files that go
    with it, by ending.
    """

    html: str
    frame: Frame
    printed: tuple[Printed, ...]
    headline: str
    tables: Mapping[str, bytes]


@dataclass(frozen=True, slots=True)
class Made:
    """A finished report: its files by ending (".pdf", ".html" ...), and what is inside the PDF.

    ``pdf`` is None where this machine cannot make one; the HTML is then always among the files.
    ``mail`` is what the mail draft says, where there is one.
    """

    files: Mapping[str, bytes]
    pdf: bytes | None
    evidence: bytes
    record: bytes
    mail: Draft | None = None


def make(
    job: Job, workings: Workings, look: Look, formats: Sequence[str], *, alone: bool = False
) -> Made:
    """Make a report in the formats wanted; a sponsor's PDF brings its mail draft.

    ``alone``: no other report is being made, so that its evidence may take a second core.
    """
    from divert.report.paper.pdf import NoPango
    from divert.workbook.book import evidence_workbook

    page = page_for(job, workings, look, screen=False)

    def workbook() -> bytes:
        return evidence_workbook(
            workings, job.all_sets, job.audience, _for_sponsor(job), printed=page.printed
        )

    evidence = record = b""
    pdf = None
    if "pdf" in formats:
        try:
            pdf, evidence, record = _pdf(page, job, workings, look, workbook, alone=alone)
        except NoPango:
            formats = (*formats, "html")
    if "xlsx" in formats and not evidence:
        evidence = workbook()
    files: dict[str, bytes] = {}
    if pdf is not None:
        files[".pdf"] = pdf
    if "html" in formats:
        on_screen = page_for(job, workings, look, screen=True).html
        if job.signing is not None:
            on_screen = _with_evidence(on_screen, evidence or workbook())
        files[".html"] = self_contained(on_screen, look, workings.site.language).encode()
    if "xlsx" in formats:
        files[".xlsx"] = evidence
    files |= page.tables
    mail = None
    if pdf is not None and job.audience == "sponsor":
        mail = mail_of(page, job, workings)
        files[".eml"] = mail.carrying(pdf)
    return Made(files, pdf, evidence, record, mail)


def _pdf(
    page: Page, job: Job, workings: Workings, look: Look, workbook: Callable[[], bytes], *,
    alone: bool,
) -> tuple[bytes, bytes, bytes]:  # fmt: skip
    """Return a report's PDF, its evidence and its record; raise NoPango where none can be set."""
    from divert.evidence.attachments import attach
    from divert.evidence.record import record_of, sealed
    from divert.report.paper.pdf import write_pdf

    html, evidence = page.html, b""
    if job.signing is not None:  # what the foot says of the evidence must be known first
        evidence = workbook()
        html = _with_evidence(html, evidence)
    with beside(workbook, when=alone and not evidence) as finished:
        bare = write_pdf(
            html, look, workings.site.language, job.figures.as_of,
            most_pages=MOST_PAGES.get(job.audience),
            least_pages=LEAST_PAGES.get(job.audience),
        )  # fmt: skip
        said = record_of(
            bare, workings=workings, figure_sets=job.all_sets, printed=page.printed,
            audience=job.audience, name=job.name, sponsor=_for_sponsor(job),
            number=job.number or None, withdraws=job.withdraws,
        )  # fmt: skip
        evidence = evidence or finished()
    record = sealed(said, evidence, job.signing)
    return attach(bare, evidence, record, job.number), evidence, record


def _for_sponsor(job: Job) -> str | None:
    return job.name if job.audience == "sponsor" else None


_EVIDENCE_HERE = "@@evidence@@"  # in the foot, until the evidence is made


def _with_evidence(html: str, evidence: bytes) -> str:
    """Return a page whose foot says the first 16 digits of its evidence's SHA-256."""
    return html.replace(_EVIDENCE_HERE, hashlib.sha256(evidence).hexdigest()[:16])


def page_for(job: Job, workings: Workings, look: Look, *, screen: bool) -> Page:
    """Return the page of a job; ``screen`` adds what only a screen shows."""
    site = workings.site
    printer = Printer(
        site.language, site.units, country=site.country, currency=site.currency,
        own_names={material.name for material in site.materials},
    )  # fmt: skip
    template, frame, view, tables = _COMPOSE[job.audience](job, workings, printer, look, screen)
    if job.number:
        foot = Text(N_("{foot} · report {number}"), {"foot": frame.foot, "number": job.number})
        if job.signing is not None:
            foot = Text(
                N_("{foot} · key {key} · evidence {evidence}"),
                {"foot": foot, "key": fingerprint(job.signing.public), "evidence": _EVIDENCE_HERE},
            )
        frame = replace(frame, foot=printer.plain(foot))
    frame = replace(frame, notices=_notices(job, workings, printer))
    frame = replace(frame, proof=proof_line(job.number, frame.day, site, printer))
    html = render(template, frame, view, printer, look)
    headline = printer.plain_text(view.headline)
    return Page(html, frame, in_page_order(html, printer), headline, tables)


def _notices(job: Job, workings: Workings, printer: Printer) -> tuple[Markup, ...]:
    """Return what the report's sums do not hold; a sponsor is told no file's name."""
    absent = {one.about: one for figures in job.sets.values() for one in figures.absent}
    named = job.audience == "board" or (
        job.audience == "grant" and workings.site.report.name_sources
    )
    return absent_notices(absent.values(), printer, workings.site.units, named=named)


Composed = tuple[str, Frame, Any, Mapping[str, bytes]]


def _sponsor(job: Job, workings: Workings, printer: Printer, look: Look, screen: bool) -> Composed:
    from divert.evidence.sharing import sharing
    from divert.report.sponsor.page import sponsor_frame, sponsor_view

    kept_back = sharing(workings, "sponsor", job.name).destinations
    view = sponsor_view(job.figures, job.history, printer, look, screen=screen,
                        kept_back=kept_back, words=workings.site.report,
                        year_starts=workings.site.year_starts)  # fmt: skip
    return "sponsor.html", sponsor_frame(job.figures, printer), view, {}


def _grant(job: Job, workings: Workings, printer: Printer, look: Look, screen: bool) -> Composed:
    from divert.evidence.figures_shared import as_said
    from divert.evidence.sharing import sharing
    from divert.report.grant.columns import GrantFigures
    from divert.report.grant.main_csv import grant_csv
    from divert.report.grant.page import grant_frame, grant_view

    assert job.grant is not None
    rules = sharing(workings, "grant", None)
    sets = {name: as_said(one, rules) for name, one in job.sets.items()}
    figures = GrantFigures(sets["period"], sets["total"], sets.get("earlier"))
    view = grant_view(figures, job.history, workings.site, job.grant, printer, look, screen=screen)
    tables = {".csv": grant_csv(figures, job.history, printer)}
    return "grant.html", grant_frame(figures, job.grant, printer), view, tables


def _board(job: Job, workings: Workings, printer: Printer, look: Look, screen: bool) -> Composed:
    from divert.report.board.figures import BoardFigures
    from divert.report.board.page import board_frame, board_view

    figures = BoardFigures(job.figures, job.sets.get("before"), job.sets.get("alike"))
    bands = workings.factors.bands
    view = board_view(figures, job.history, workings.site, bands, printer, look, screen=screen)
    return "board.html", board_frame(figures, printer), view, {}


_COMPOSE = {"sponsor": _sponsor, "grant": _grant, "board": _board}


def mail_of(page: Page, job: Job, workings: Workings) -> Draft:
    """Return what the mail that carries a sponsor's PDF says: a greeting, the sentence, who sends it."""
    site = workings.site
    printer = Printer(site.language, site.units, country=site.country)
    to = next((s.email for s in site.sponsors if s.name == job.name and s.email), None)
    say = printer.plain
    opening = say(
        Text(N_("Attached is the report of {site} for {days}."),
             {"site": site.name, "days": page.frame.period_line})
    )  # fmt: skip
    sender = (site.report.prepared_by, site.name, site.report.contact)
    paragraphs = (
        say(Text(N_("Dear friends at {sponsor},"), {"sponsor": job.name})),
        f"{opening} {page.headline}",
        say(Text(N_("With thanks,"))),
        *(line for line in sender if line),
    )
    return Draft(to, page.frame.title, "\n".join(paragraphs), f"{job.stem}.pdf")
