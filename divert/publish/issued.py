"""Making reports that are remembered: numbers first, then each finished report into the register."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import replace

from divert.convert import Workings
from divert.core.signing import own_key
from divert.evidence.attachments import EVIDENCE, attached
from divert.evidence.record import Signing
from divert.publish.job import Job, with_history
from divert.publish.make import Made
from divert.publish.many import make_all
from divert.register.entries import Entry
from divert.register.issue import issued_page, issued_report, issuing
from divert.register.same import Said
from divert.report.paper.look import Look
from divert.report.paper.pdf import weasyprint


def make_and_issue(
    jobs: Sequence[Job], workings: Workings, as_of: dt.date, look: Look, formats: Sequence[str]
) -> Iterator[tuple[Job, Made]]:
    """Yield every report as it is entered in the register, in order.

    A report that says just what its last issue said keeps that number, and its files are the issued
    ones to the byte. Raises CannotRun, before anything is entered where PDFs cannot be made.
    """
    weasyprint()  # an issued report is a PDF: find out first
    folder = workings.site.folder
    with issuing(folder) as book:
        said = [Said(j.audience, j.name, as_of, j.sets, j.withdraws) for j in jobs]
        numbers = [book.number_for(one, workings) for one in said]
        key = own_key(folder)
        signing = None if key is None else Signing(key, book.head)
        numbered = [
            with_history(replace(job, number=number.text, signing=signing), workings)
            for job, number in zip(jobs, numbers, strict=True)
        ]
        made_all = make_all(numbered, workings, look, tuple(dict.fromkeys(("pdf", *formats))))
        for (job, made), one, number in zip(made_all, said, numbers, strict=True):
            if number.already is not None:
                yield job, _as_issued(job, made, workings, number.already)
                continue
            assert made.pdf is not None
            page = made.files.get(".html", b"")
            book.issue(number, one, workings, made.pdf, made.evidence, made.record, page)
            yield job, made


def _as_issued(job: Job, made: Made, workings: Workings, entry: Entry) -> Made:
    """Return the report with every file just as it was issued, the mail draft with that PDF."""
    folder = workings.site.folder
    pdf, page = issued_report(folder, entry), issued_page(folder, entry)
    files = {**made.files, ".pdf": pdf}
    if page is not None and ".html" in files:
        files[".html"] = page
    if ".xlsx" in files:
        files[".xlsx"] = attached(pdf).get(EVIDENCE, files[".xlsx"])
    if made.mail is not None:
        files[".eml"] = made.mail.carrying(pdf)
    return replace(made, pdf=pdf, files=files)
