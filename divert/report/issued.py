"""Making reports that are remembered: numbers first, then each finished report into the register."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import replace

from divert.convert import Workings
from divert.report.job import Job, with_history
from divert.report.look import Look
from divert.report.make import Made
from divert.report.many import make_all
from divert.report.pdf import weasyprint


def make_and_issue(
    jobs: Sequence[Job], workings: Workings, as_of: dt.date, look: Look, formats: Sequence[str]
) -> Iterator[tuple[Job, Made]]:
    """Yield every report as it is entered in the register, in order.

    A report that says just what its last issue said keeps that number, and its PDF is the issued
    one to the byte. Raises CannotRun, before anything is entered where PDFs cannot be made.
    """
    from divert.register.issue import Said, issued_report, issuing

    weasyprint()  # an issued report is a PDF: find out first
    folder = workings.site.folder
    with issuing(folder) as book:
        said = [Said(j.audience, j.name, as_of, j.sets, j.withdraws) for j in jobs]
        numbers = [book.number_for(one, workings) for one in said]
        numbered = [
            with_history(replace(job, number=number.text), workings)
            for job, number in zip(jobs, numbers, strict=True)
        ]
        made_all = make_all(numbered, workings, look, tuple(dict.fromkeys(("pdf", *formats))))
        for (job, made), one, number in zip(made_all, said, numbers, strict=True):
            if number.already is not None:
                pdf = issued_report(folder, number.already)
                yield job, replace(made, pdf=pdf, files={**made.files, ".pdf": pdf})
                continue
            assert made.pdf is not None
            book.issue(number, one, workings, made.pdf, made.evidence, made.record)
            yield job, made
