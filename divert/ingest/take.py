"""From opened files to a Reading: each sheet's tables found, read, and checked against each other."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field, replace

import pandas as pd

from divert.core.checked import checked, tried
from divert.core.findings import Finding, Where
from divert.core.reading import SET_ASIDE_COLUMNS, SKIPPED_COLUMNS, InputFile, Reading, SheetTaken
from divert.core.words import N_, Text
from divert.ingest.cells.date import Order
from divert.ingest.checks.asked import asked
from divert.ingest.checks.contents import with_contents
from divert.ingest.checks.copies import without_copies
from divert.ingest.checks.corrections import corrections, text_of, uncorrected
from divert.ingest.checks.held_back import nothing_held, together
from divert.ingest.checks.ledger import queries, recount
from divert.ingest.checks.not_plain import without_doubtful
from divert.ingest.checks.products import products_received
from divert.ingest.coded import join
from divert.ingest.coverage.around import with_untold_titles
from divert.ingest.days.order import evidence
from divert.ingest.entries.doubted import read_doubted
from divert.ingest.entries.gathered import Counted, Gathered
from divert.ingest.entries.job import TableJob
from divert.ingest.entries.restated import loads_of, may_restate
from divert.ingest.grid import Opened
from divert.ingest.known import Known
from divert.ingest.one_sheet import left_out_if_it_fails
from divert.ingest.plan.sheet_plan import SheetPlan
from divert.ingest.plan.sheets import Kept, plan_sheets, sheet_plan
from divert.ingest.sheet import by_columns
from divert.ingest.sheets_held import SheetsHeld
from divert.ingest.tables.overrides import naming_nothing
from divert.ingest.turned.read import read_table
from divert.ingest.turned.told import taken_as
from divert.site.answers import settle


@dataclass
class Taken:
    """What the files read so far have given."""

    out: Gathered = field(default_factory=Gathered)
    sheets: list[SheetTaken] = field(default_factory=list)
    inputs: dict[InputFile, None] = field(default_factory=dict)  # in order
    findings: list[Finding] = field(default_factory=list)
    first_of: dict[str, str] = field(default_factory=dict)
    names: list[tuple[str, str]] = field(default_factory=list)
    later: list[tuple[int, TableJob]] = field(default_factory=list)  # its place among the sheets
    kept: Kept = field(default_factory=dict)
    held: SheetsHeld | None = None
    plans: list[SheetPlan] = field(default_factory=list)
    with_plans: bool = False  # whether somebody asks for them


def take_file(opened: Opened, known: Known, as_of: dt.date, taken: Taken) -> None:
    """Read one opened file's sheets."""
    taken.inputs[opened.input] = None  # named again where it changed after it was read
    taken.findings += opened.findings
    taken.names += [(g.file, g.sheet) for g in opened.grids] or [(opened.input.file, "")]
    if not opened.grids:
        return
    original = taken.first_of.setdefault(opened.input.sha256, opened.input.file)
    out = Gathered() if original != opened.input.file else taken.out
    sheets: list[SheetTaken] = []
    held = taken.held
    cells = [held.sheet(g) if held is not None else by_columns(g) for g in opened.grids]
    planned = plan_sheets(cells, taken.kept, known, as_of, out, sheets, held)
    order = _order_of(job for one in planned for job in one.jobs)
    for one in planned:
        one.jobs = [j if j.order == order else replace(j, order=order) for j in one.jobs]
    if out is taken.out and taken.with_plans:
        taken.plans += [plan for one in planned if (plan := sheet_plan(one, known)) is not None]
    for job in with_untold_titles([job for one in planned for job in one.jobs]):
        if out is taken.out and (job.doubted or may_restate(job)):
            taken.later.append((len(taken.sheets) + len(sheets), job))
            sheets.append(taken_as(job, Counted(0, 0, 0)))
            continue
        with left_out_if_it_fails(job.sheet.file, job.sheet.name, out, sheets):
            part, said = (held and held.read_of(job)) or _read(job, held)
            out.add(part)
            sheets.append(said)
    if out is not taken.out:
        _refuse_copy(opened, original, out, taken)
        sheets = [_as_copy(s) for s in sheets]
    taken.sheets += sheets


def _read(job: TableJob, held: SheetsHeld | None) -> tuple[Gathered, SheetTaken]:
    part = Gathered()
    said = taken_as(job, read_table(job, part))
    if held is not None:
        held.keep_read(job, part, said)
    return part, said


def _order_of(jobs: Iterable[TableJob]) -> Order | None:
    """Return the order that the date columns of one file show, where they all show one."""
    shown = {
        e.shown
        for j in jobs
        if j.parsed is not None and (e := evidence(j.parsed)).shown is not None
    }
    return shown.pop() if len(shown) == 1 else None


def _refuse_copy(opened: Opened, original: str, out: Gathered, taken: Taken) -> None:
    """Set aside every entry of a file that is, byte for byte, one already read."""
    copied = join(out.parts)
    places = ("file", "sheet", "row", "column", "found")
    rows = list(zip(*(copied[name] for name in places), strict=True))
    code = "exact copy of a file"
    taken.out.set_aside += [
        (str(f), text_of(s), int(r), text_of(c), str(t), code) for f, s, r, c, t in rows
    ]
    taken.out.set_aside += [(*row[:5], code) for row in out.set_aside]
    taken.out.skipped += out.skipped
    taken.findings.append(Finding(
        "refused", code,
        Text(N_("This file is an exact copy of “{file}”; it is counted once."), {"file": original}),
        Where(opened.input.file), Text(N_("Delete one of the two.")), rows=len(rows) + len(out.set_aside),
        name=opened.input.file,
    ))  # fmt: skip


def _as_copy(sheet: SheetTaken) -> SheetTaken:
    return replace(sheet, used=0, set_aside=sheet.used + sheet.set_aside)


def _take_later(taken: Taken) -> None:
    """Read the tables that may only sum or repeat loads, now that those are known."""
    if not taken.later:
        return
    loads = loads_of(taken.out.parts)
    for place, job in taken.later:
        if job.doubted is None:
            with left_out_if_it_fails(job.sheet.file, job.sheet.name, taken.out):
                taken.sheets[place] = taken_as(job, read_table(job, taken.out, loads))
    for place, job in taken.later:
        if job.doubted is not None:
            with left_out_if_it_fails(job.sheet.file, job.sheet.name, taken.out):
                taken.sheets[place] = read_doubted(job, taken.out)


def finish(
    taken: Taken, known: Known, as_of: dt.date, read_before: Collection[str] = ()
) -> Reading:
    """Join what the files gave and check it as a whole; ``read_before`` as in read_folder."""
    out = taken.out
    _take_later(taken)
    failed: list[Finding] = []
    read = join(out.parts)
    doubtful = tried(
        "what it holds is not plain", lambda rows: without_doubtful(rows, taken.sheets, known),
        read, lambda: nothing_held(read), failed,
    )  # fmt: skip
    copies = tried(
        "near copy", lambda rows: without_copies(rows, known.site, read_before),
        doubtful.entries, lambda: nothing_held(doubtful.entries, by_order=True), failed,
    )  # fmt: skip
    held = together(doubtful, copies)
    entries, cancelled, unmatched, findings = tried(
        "correction", corrections, held.entries, lambda: uncorrected(held.entries), failed
    )
    set_aside = pd.DataFrame(
        [*out.set_aside, *held.set_aside, *unmatched], columns=list(SET_ASIDE_COLUMNS)
    )
    lines = [one if len(one) == 8 else (*one, 1) for one in (*out.skipped, *cancelled)]
    skipped = pd.DataFrame(lines, columns=list(SKIPPED_COLUMNS))
    skipped["date"] = pd.to_datetime(skipped["date"]).astype("datetime64[s]")
    sheets = recount(taken.sheets, entries, set_aside, skipped)
    every = [
        *taken.findings,
        *failed,
        *naming_nothing(known.site, taken.names),
        *out.findings,
        *held.findings,
        *findings,
        *checked(
            "source not recorded",
            lambda rows: [*_of_what_counts(asked(out, known.site), rows, held.held)],
            entries,
        ),
        *queries(entries, skipped, known.site),
        *checked("unknown material", lambda rows: products_received(rows, known), entries),
    ]
    told = with_contents(every, entries, set_aside)
    return Reading(
        entries, set_aside, skipped, settle(told, known.site.answers), tuple(sheets),
        tuple(taken.inputs), held.held,
        read_before=tuple(sorted(read_before)) if held.by_order else None,
    )  # fmt: skip


def _of_what_counts(
    findings: Iterable[Finding], entries: pd.DataFrame, held: pd.DataFrame
) -> Iterator[Finding]:
    """Yield the findings, but for those of sheets that wait for an answer and count for nothing."""
    if held.empty:
        yield from findings
        return
    waiting, counted = (
        set(zip(f["file"].astype(str), f["sheet"].astype(object).fillna(""), strict=True))
        for f in (held, entries)
    )
    for finding in findings:
        place = (finding.where.file or "", finding.where.sheet or "")
        if place not in waiting or place in counted:
            yield finding
