"""From workings to finished report files in the site's reports folder."""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Callable, Iterable, Sequence
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
from divert.publish.all_cores import can_share, left_as_it_is, on_all_cores
from divert.publish.issued import make_and_issue
from divert.publish.job import Job, jobs_for, with_history
from divert.publish.make import FORMATS, Made
from divert.publish.many import make_all
from divert.publish.standing import ask_what_becomes, issued_line
from divert.register.links import stay_inside
from divert.register.lost import not_in_the_register
from divert.report.paper.glyphs import no_glyphs
from divert.report.paper.look import Look, look_of
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
    say = say or _standard_error(workings)
    _look_round(workings, say, issue=issue)
    jobs = _wanted(workings, audience, period, as_of, names, withdraws, issue=issue)
    folders = [out or _folder(workings, period)] * len(jobs)
    look = _look(workings, say)
    _nothing_in_the_way(jobs, folders, formats)
    if issue:
        _nothing_is_missing(workings, period)
        ask_what_becomes(jobs, workings, as_of, adds=adds)
        made_all = make_and_issue(jobs, workings, as_of, look, formats)
    else:
        jobs = [with_history(job, workings) for job in jobs]
        made_all = make_all(jobs, workings, look, formats)
    told = (lambda job: say(issued_line(job, workings))) if issue else None
    return _write_all(made_all, folders, workings, formats, say, progress, told)


def write_several(
    workings: Workings, wanted: Sequence[tuple[Audience, Period]], as_of: dt.date,
    progress: Callable[[int, int, str], None] | None = None,
) -> tuple[Path, ...]:  # fmt: skip
    """Make and write the reports of several kinds and periods together, each core at its share of all.

    As :func:`write_reports` does without issuing; a report that takes long holds up none of the others.
    """
    say = _standard_error(workings)
    _look_round(workings, say, issue=False)
    jobs: list[Job] = []
    folders: list[Path] = []
    for (_, period), found in zip(wanted, _jobs_of_each(workings, wanted, as_of), strict=True):
        jobs += [with_history(job, workings) for job in found]
        folders += [_folder(workings, period)] * len(found)
    look = _look(workings, say)
    _nothing_in_the_way(jobs, folders, FORMATS)
    made_all = make_all(jobs, workings, look, FORMATS)
    return _write_all(made_all, folders, workings, FORMATS, say, progress, None)


def _jobs_of_each(
    workings: Workings, wanted: Sequence[tuple[Audience, Period]], as_of: dt.date
) -> list[list[Job]]:
    """Return the reports of each kind; the figures of their periods are worked out on all cores."""

    def of_one(at: int) -> list[Job]:
        audience, period = wanted[at]
        return jobs_for(workings, audience, period, as_of, None)

    if not can_share(len(wanted)):
        return [of_one(at) for at in range(len(wanted))]
    with left_as_it_is():
        return list(on_all_cores(of_one, range(len(wanted))))


Say = Callable[[Text], None]


def _standard_error(workings: Workings) -> Say:
    return lambda text: print(text.say(workings.site.language), file=sys.stderr)


def _look_round(workings: Workings, say: Say, *, issue: bool) -> None:
    stay_inside(workings.site.folder)
    for told in not_in_the_register(workings.site.folder, issuing=issue):
        say(told)


def _look(workings: Workings, say: Say) -> Look:
    look, problems = look_of(workings.site)
    for problem in problems:
        say(problem)
    return look


def _folder(workings: Workings, period: Period) -> Path:
    return workings.site.folder / "reports" / folder_name(period.label)


def _write_all(
    made_all: Iterable[tuple[Job, Made]], folders: Sequence[Path], workings: Workings,
    formats: Sequence[str], say: Say, progress: Callable[[int, int, str], None] | None,
    issued: Callable[[Job], None] | None,
) -> tuple[Path, ...]:  # fmt: skip
    """Write each report as it is made; return the paths of all."""
    written: list[Path] = []
    without_pdf = False
    for done, ((job, made), folder) in enumerate(zip(made_all, folders, strict=True), start=1):
        without_pdf = without_pdf or ("pdf" in formats and made.pdf is None)
        written += _written(folder, job, made, workings.site.folder)
        if issued is not None:
            issued(job)
        if progress is not None:
            progress(done, len(folders), job.stem)
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


def _nothing_in_the_way(
    jobs: Sequence[Job], folders: Sequence[Path], formats: Sequence[str]
) -> None:
    """Refuse to write over somebody's file: each that is in the way is found before any is written."""
    for job, folder in zip(jobs, folders, strict=True):
        endings = [f".{form}" for form in formats]
        if job.audience == "sponsor" and "pdf" in formats:
            endings.append(".eml")
        if job.audience == "grant":
            endings.append(".csv")
        for ending in endings:
            never_over_others(folder / f"{job.stem}{ending}")


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
