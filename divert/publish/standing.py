"""A report to a reader who has one of the same period already: it replaces that one, or both stand."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.publish.job import Job
from divert.register.entries import Entry, read_register
from divert.register.same import Said, said_fingerprint


def ask_what_becomes(
    jobs: Sequence[Job], workings: Workings, as_of: dt.date, *, adds: bool
) -> None:
    """Raise CannotRun where a reader has another report of the period and nobody says what of it.

    A report that says just what its last issue said keeps that number and asks nothing.
    """
    if adds:
        return
    live = read_register(workings.site.folder).live
    for job in jobs:
        standing = _standing(job, live)
        if standing is None or job.withdraws is not None:
            continue
        said = Said(job.audience, job.name, as_of, job.sets)
        if standing.fingerprints.get("said") == said_fingerprint(said, workings.site):
            continue
        raise CannotRun(_asked(job, standing))


def _standing(job: Job, live: Sequence[Entry]) -> Entry | None:
    """Return the last report to the same reader of the same period, None where there is none."""
    period = job.figures.period
    same = [
        e for e in live
        if (e.audience, e.name) == (job.audience, job.name)
        and (e.label == period.label or (e.start, e.end) == (period.start, period.end))
    ]  # fmt: skip
    return same[-1] if same else None


def _asked(job: Job, standing: Entry) -> Text:
    values: dict[str, object] = {
        "number": standing.number, "period": standing.label, "name": job.name,
        "day": standing.issued,
    }  # fmt: skip
    if not job.name:
        return Text(
            N_("Report {number} of {period} was issued on {day}, and says otherwise. Add "
               "--withdraws {number} if this one takes its place, or --adds if both stand."), values
        )  # fmt: skip
    return Text(
        N_("{name} has report {number} of {period}, issued on {day}, which says otherwise. Add "
           "--withdraws {number} if this one takes its place, or --adds if both stand."), values
    )  # fmt: skip


def issued_line(job: Job, workings: Workings) -> Text:
    """Return under which number a report was issued, and where it is remembered."""
    folder = workings.site.folder
    return Text(
        N_("{report}: issued as {number}; remembered in {register}, a copy kept in {copy}."),
        {"report": job.stem, "number": job.number, "register": str(folder / "register.jsonl"),
         "copy": str(folder / "issued")},
    )  # fmt: skip
