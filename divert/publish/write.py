"""From workings to finished report files in the site's reports folder."""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.core.ours import never_over_others
from divert.core.period import Period, folder_name
from divert.core.safe_files import write_whole
from divert.core.words import N_, Text
from divert.evidence.sharing import Audience
from divert.figures.absent import touches
from divert.publish.issued import make_and_issue
from divert.publish.job import Job, jobs_for, with_history
from divert.publish.make import FORMATS, Made
from divert.publish.many import make_all
from divert.publish.standing import ask_what_becomes, issued_line
from divert.register.links import stay_inside
from divert.register.lost import not_in_the_register
from divert.report.paper.glyphs import no_glyphs
from divert.report.paper.look import look_of
from divert.report.paper.pdf import INSTEAD
from divert.report.wording.absent import refusal


def write_reports(
    workings: Workings,
    audience: Audience,
    period: Period,
    as_of: dt.date,
    *,
    names: Sequence[str] | None = None,
    formats: Sequence[str] = FORMATS,
    out: Path | None = None,
    issue: bool = False,
    withdraws: str | None = None,
    adds: bool = False,
    progress: Callable[[int, int, str], None] | None = None,
    say: Callable[[Text], None] | None = None,
) -> tuple[Path, ...]:
    """Make and write reports; return the paths written, report by report.

    ``names``: sponsors or grants (default: all). ``out``: the folder for the files (default:
    ``reports/<period>/`` in the site folder). ``issue`` enters each in the register under a number;
    ``withdraws`` takes an issued report back, ``adds`` lets another of the same reader and period
    stand beside the new one. A file that this tool did not write is never written over.
    ``progress`` hears after each how many are done, of how many, and its name; ``say`` hears what the
    user should know (default: standard error). Raises CannotRun.
    """
    say = say or (lambda text: print(text.say(workings.site.language), file=sys.stderr))
    site_folder = workings.site.folder
    stay_inside(site_folder)
    for told in not_in_the_register(site_folder, issuing=issue):
        say(told)
    jobs = _wanted(workings, audience, period, as_of, names, withdraws, issue=issue)
    look, problems = look_of(workings.site)
    for problem in problems:
        say(problem)
    folder = out or site_folder / "reports" / folder_name(period.label)
    for path in _paths(jobs, folder, formats):
        never_over_others(path)
    if issue:
        _nothing_is_missing(workings, period)
        ask_what_becomes(jobs, workings, as_of, adds=adds)
        made_all = make_and_issue(jobs, workings, as_of, look, formats)
    else:
        jobs = [with_history(job, workings) for job in jobs]
        made_all = make_all(jobs, workings, look, formats)
    written: list[Path] = []
    without_pdf = False
    for done, (job, made) in enumerate(made_all, start=1):
        without_pdf = without_pdf or ("pdf" in formats and made.pdf is None)
        written += _written(folder, job, made, site_folder)
        if issue:
            say(issued_line(job, workings))
        if progress is not None:
            progress(done, len(jobs), job.stem)
    if without_pdf:
        say(INSTEAD)
    elif "pdf" in formats and (boxes := no_glyphs(workings.site)) is not None:
        say(boxes)
    return tuple(written)


def _wanted(
    workings: Workings, audience: Audience, period: Period, as_of: dt.date,
    names: Sequence[str] | None, withdraws: str | None, *, issue: bool,
) -> list[Job]:  # fmt: skip
    """Return the reports to make; raise CannotRun where one cannot take an issued one's place."""
    if withdraws is not None and not issue:
        raise CannotRun(Text(N_("Withdrawing a report needs --issue: only an issued one can be.")))
    jobs = jobs_for(workings, audience, period, as_of, names)
    if withdraws is not None and len(jobs) != 1:
        raise CannotRun(
            Text(N_("Withdrawing needs the one report that takes its place: name the sponsor or "
                    "the grant."))
        )  # fmt: skip
    return [replace(job, withdraws=withdraws) for job in jobs]


def _paths(jobs: Sequence[Job], folder: Path, formats: Sequence[str]) -> list[Path]:
    """Return every path that may be written, so that a file in the way is found before any is."""
    endings = [f".{form}" for form in formats]
    out = [folder / f"{job.stem}{ending}" for job in jobs for ending in endings]
    for job in jobs:
        if job.audience == "sponsor" and "pdf" in formats:
            out.append(folder / f"{job.stem}.eml")
        if job.audience == "grant":
            out.append(folder / f"{job.stem}.csv")
    return out


def _nothing_is_missing(workings: Workings, period: Period) -> None:
    """Refuse to issue while input that a report may rest on is missing, unreadable or copied."""
    open_ones = [
        f for f in workings.findings
        if f.blocks and f.answer is None and touches(f, dt.date.min, period.end)
    ]  # fmt: skip
    if open_ones:
        raise CannotRun(refusal(open_ones))


def _written(folder: Path, job: Job, made: Made, site_folder: Path) -> list[Path]:
    paths = {folder / f"{job.stem}{ending}": data for ending, data in made.files.items()}
    for path, data in paths.items():
        try:
            never_over_others(path)
            write_whole(path, data)
        except CannotRun as not_written:
            raise _though_issued(not_written, job, site_folder) from not_written
    return list(paths)


def _though_issued(problem: CannotRun, job: Job, site_folder: Path) -> CannotRun:
    """Say of a file that could not be written whether its report was issued all the same."""
    if not job.number:
        return problem
    return CannotRun(
        Text(N_("{problem}. But report {number} was issued and is kept in {kept}: once the file "
                "can be written, the same command writes it under that number."),
             {"problem": problem.message, "number": job.number,
              "kept": str(site_folder / "issued" / job.number)})
    )  # fmt: skip
