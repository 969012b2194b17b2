"""A reading held against the last one: what is missing is asked, the rest is remembered."""

from __future__ import annotations

import datetime as dt
import os
from dataclasses import dataclass, replace

from divert.convert import Workings
from divert.core.checked import DEBUG, not_made
from divert.core.findings import CannotRun, Finding, Where
from divert.core.words import N_, Text
from divert.inventory.compare import UNREADABLE, Loss, losses
from divert.inventory.file import read_inventory, write_inventory
from divert.inventory.findings import finding_again, finding_of, settled_of, with_unreadable
from divert.inventory.held import with_mass_held
from divert.inventory.issued import files_of
from divert.inventory.issued_folder import last_issued
from divert.inventory.model import FileKept, Inventory, Settled
from divert.inventory.names import NAME
from divert.inventory.record import files_now, waiting_of
from divert.site.answers import answer_to, settle
from divert.site.model import Answer


@dataclass(frozen=True, slots=True, eq=False)
class Compared:
    """Losses with the question each raises, and the inventory to keep from now on."""

    findings: tuple[Finding, ...]
    inventory: Inventory


def noticed(workings: Workings, as_of: dt.date, *, remember: bool) -> Workings:
    """Return the workings with questions about all that the folder does not say any more.

    ``remember``: keep what was read for the next time. An earlier ``as_of`` than the last reading's
    remembers nothing, for it reads less.
    """
    folder = workings.site.folder
    try:
        then = kept = read_inventory(folder)
    except CannotRun as problem:
        broken = Finding(
            "refused", UNREADABLE, problem.message, Where(NAME), name=NAME, blocks=True
        )
        (asked,) = settle([broken], workings.site.answers)
        return with_mass_held(replace(workings, findings=(asked, *workings.findings)))
    try:
        then = _or_issued(then, workings)
        compared = _compared(then or Inventory(as_of), workings, as_of)
    except Exception as problem:  # nothing is remembered over what could not be held against it
        if os.environ.get(DEBUG):
            raise
        failed = not_made("says less than before", problem, (), workings.reading.entries)
        said = settle(failed, workings.site.answers)
        return replace(workings, findings=(*said, *workings.findings))
    findings = list(workings.findings)
    if remember and (then is None or as_of >= then.as_of) and workings.reading.inputs:
        now = compared.inventory
        if (kept is None or now.says_more_than(kept)) and not write_inventory(folder, now):
            findings.append(_not_kept())
    told = with_unreadable(findings, compared.findings)
    known = {f.about for f in told}
    new = [f for f in compared.findings if f.about not in known and f.code != UNREADABLE]
    return with_mass_held(replace(workings, findings=(*new, *told)))


def _or_issued(then: Inventory | None, workings: Workings) -> Inventory | None:
    """Return the inventory, or what the last issue was made from where that is newer than it."""
    issue = last_issued(workings.site.folder)
    if issue is None or (then is not None and then.as_of >= issue.day):
        return then
    files = files_of(issue, workings)
    if not files:
        return then
    return Inventory(issue.day, files, () if then is None else then.settled)


def _compared(then: Inventory, workings: Workings, as_of: dt.date) -> Compared:
    site = workings.site
    now = files_now(workings, as_of)
    unreadable = {
        f.where.file or ""
        for f in workings.reading.findings
        if f.code == UNREADABLE and not f.where.sheet
    }
    found = losses(then, now, waiting_of(workings), unreadable, as_of)
    asked = settle([finding_of(loss, site.units) for loss in found], site.answers)
    again = settle([finding_again(s, site.units) for s in then.settled], site.answers)
    open_ones, settled = [], list(then.settled)
    for loss, finding in zip(found, asked, strict=True):
        if finding.level == "note" or not _is_settled(finding, site.answers):
            if finding.level != "note":
                open_ones.append(loss)
        else:
            settled.append(settled_of(finding, loss))
    waiting = workings.reading.held
    held = set() if waiting is None else set(waiting["file"].astype(str))
    files = _files(then, now, open_ones, unreadable | held)
    return Compared((*asked, *again), Inventory(as_of, files, _distinct(settled)))


def _is_settled(finding: Finding, answers: tuple[Answer, ...]) -> bool:
    return answer_to(finding, answers) is not None


def _distinct(settled: list[Settled]) -> tuple[Settled, ...]:
    return tuple({s.about: s for s in settled}.values())


def _files(
    then: Inventory, now: dict[str, FileKept], open_ones: list[Loss], kept_back: set[str]
) -> dict[str, FileKept]:
    """Return the files to remember: as they are now, or as they were where a question is open."""
    as_before = {loss.file for loss in open_ones} | kept_back
    under_new_names = {loss.now for loss in open_ones if loss.now}
    files = {}
    for name, kept in now.items():
        before = then.files.get(name)
        if name in as_before:
            if before is not None:
                files[name] = before
            continue
        if name in under_new_names:
            continue
        files[name] = before if before is not None and _same(before, kept) else kept
    for name, kept in then.files.items():
        if name not in now and name in as_before:
            files[name] = kept
    return files


def _same(before: FileKept, now: FileKept) -> bool:
    mine, new = before.held, now.held
    return (
        before.sha256 == now.sha256
        and before.sheets == now.sheets
        and len(mine) == len(new)
        and bool((mine.named == new.named).all())
    )


def _not_kept() -> Finding:
    message = Text(
        N_("What was read cannot be kept in {file}, so that a file which goes missing later will "
           "not be noticed."), {"file": NAME}
    )  # fmt: skip
    return Finding(
        "note", "note", message, Where(NAME),
        Text(N_("Make the folder writable, or run divert where it is.")),
    )  # fmt: skip
