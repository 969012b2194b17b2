"""Logs on sheets whose name says that they hold none: "Summary", "Instructions", "Template".

Such a sheet is read only where it is plainly an ordinary log, and where none of what it tells is
logged elsewhere: it may sum or repeat other sheets, or show by examples how to fill them in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from divert.core.findings import Finding, Where
from divert.core.reading import SheetTaken
from divert.core.words import N_, Text
from divert.ingest.coded import Part
from divert.ingest.coverage.not_read import say_not_read
from divert.ingest.entries.gathered import Counted, Gathered
from divert.ingest.entries.job import TableJob
from divert.ingest.sheet import Sheet
from divert.ingest.turned.read import read_table
from divert.ingest.turned.told import taken_as

_LEAST = 5  # loads; fewer may be examples
_MOST_ASIDE = 0.2  # of the loads may be set aside


def plain_logs(jobs: Sequence[TableJob], found: Gathered) -> list[TableJob]:
    """Return the one table of a sheet, marked as doubted, where it is plainly a log; else none.

    ``found``: what planning the sheet has found, kept until it is settled whether it counts.
    """
    if len(jobs) != 1:
        return []
    job = jobs[0]
    shared = job.layout.shared
    if job.kind != "intake" or not {"date", "source", "material"} <= set(shared):
        return []
    known = shared["source"].content.sources > 0.5 and shared["material"].content.materials > 0.5
    dated = shared["date"].content.dates > 0.8
    return [replace(job, doubted=found)] if known and dated else []


def read_doubted(job: TableJob, out: Gathered) -> SheetTaken:
    """Read a doubted log into what is gathered, or say that its sheet is not read."""
    trial = job.doubted or Gathered()
    parts = len(trial.parts)
    counted = read_table(job, trial)
    if _logs_anew(trial.parts[parts:], counted, out.parts):
        out.add(trial)
        out.findings.append(Finding(
            "note", "note",
            Text(N_("The name of this sheet says that it holds no loads, but it is kept as a log; "
                    "I read it.")),
            Where(job.sheet.file, job.sheet.name),
            Text(N_('If it should not count, write holds = "nothing" for it under [[sheet]].')),
            rows=counted.used,
        ))  # fmt: skip
        return taken_as(job, counted)
    taken: list[SheetTaken] = []
    say_not_read(_own(job.sheet), job.known, out, taken, by_rule=False)
    return taken[0]


def _own(sheet: Sheet) -> Sheet:
    return sheet if sheet.origin is None else sheet.origin.sheet


def _logs_anew(parts: Sequence[Part], counted: Counted, others: Sequence[Part]) -> bool:
    if counted.used < _LEAST or counted.set_aside > _MOST_ASIDE * counted.used:
        return False
    return _loads(parts).isdisjoint(_loads(others))


def _loads(parts: Sequence[Part]) -> set[tuple[object, str, str]]:
    """Return what came from whom on which day."""
    return {
        load
        for part in parts
        if "source" in part.texts and "material" in part.texts
        for load in zip(
            part.days.astype("datetime64[D]").tolist(),
            part.texts["source"].texts().tolist(),
            part.texts["material"].texts().tolist(),
            strict=True,
        )
    }
