"""Bring files: each read, unreadable, a lock file, a copy; and what is to be done about it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from divert.convert.by_sheet import sheets_with_refusals
from divert.core.findings import Finding
from divert.core.words import N_, Text
from divert.ingest.found import find
from divert.page.house import house
from divert.page.left_out import left_by_sheet
from divert.page.open_yard import the_desk
from divert.page.questions import Question
from divert.page.screen import screen
from divert.page.uploads import Brought, take
from divert.page.waiting import FILE_CODES

if TYPE_CHECKING:
    from divert.convert import Workings

blueprint = Blueprint("files", __name__)
MOST_LINES = 60  # of what is new in a file that are laid out
_LOCKS = ("~$*", ".~lock*")


@dataclass(frozen=True, slots=True)
class FileShown:
    """One file of the folder as the view shows it; ``question`` is what must be said of it first."""

    name: str
    state: Text
    sheets: int = 0
    used: int = 0
    aside: int = 0
    finding: Finding | None = None
    question: Question | None = None

    @property
    def bad(self) -> bool:
        """Return whether nobody may simply go on past it."""
        return self.question is not None


@blueprint.get("/files")
def files() -> str:
    """Show every file of the folder and what became of it."""
    return _files(())


def _files(brought: tuple[Brought, ...]) -> str:
    desk = the_desk()
    shown = _shown()
    return screen(
        "files.html", files=shown, brought=brought, folder=str(desk.folder),
        open_ones=sum(one.bad for one in shown), problem=desk.seen.problem if desk.seen else None,
        has_site=desk.seen is not None and desk.seen.site is not None,
        new_yard=not (desk.folder / "site.toml").exists(),
        most=MOST_LINES, since=house().weighing.since(desk.seen) if desk.seen is not None else None,
    )  # fmt: skip


@blueprint.post("/files")
def bring() -> str | Response:
    """Take the files that were brought."""
    given = [(f.filename or "", f.stream) for f in request.files.getlist("files") if f.filename]
    replace = bool(request.form.get("replace"))
    brought = take(the_desk().folder, given, replace=replace)  # type: ignore[arg-type]
    the_desk().nudge()
    if brought and all(one.taken and not one.kept for one in brought):
        return redirect("/files")
    return _files(brought)


def _shown() -> list[FileShown]:
    desk = the_desk()
    seen = desk.seen
    workings = seen.workings if seen is not None else None
    try:
        there = find(desk.folder)
    except OSError:
        there = []
    findings: tuple[Finding, ...] = ()
    counts: dict[str, tuple[int, int, int]] = {}
    asked: dict[str, Question] = {}
    if seen is not None and workings is not None:
        findings = house().weighing.findings(seen)
        counts = _counts(workings)
        for question in house().weighing.questions(seen):
            if question.first.code in FILE_CODES:
                asked.setdefault(question.first.where.file or "", question)
    told = {f.where.file: f for f in reversed(findings) if f.code in FILE_CODES}
    out = []
    for one in there:
        read = workings is not None and any(i.file == one.file for i in workings.reading.inputs)
        state = _state(told.get(one.file), read, one.but, _ours(findings, one.file))
        out.append(
            FileShown(
                one.file, state, *counts.get(one.file, (0, 0, 0)), told.get(one.file),
                asked.get(one.file),
            )
        )  # fmt: skip
    names = {one.file for one in there}
    out += [
        FileShown(name, finding.message, finding=finding, question=asked.get(name))
        for name, finding in told.items()
        if name is not None and name not in names
    ]
    for pattern in _LOCKS:
        out += [
            FileShown(path.name, Text(N_("a lock file: its sheet is open in another program")))
            for path in sorted(desk.folder.glob(pattern))
        ]
    return out


def _counts(workings: Workings) -> dict[str, tuple[int, int, int]]:
    """Return of each file how many sheets were read, and how many lines count and do not yet."""
    refused = workings.set_aside.iloc[len(workings.reading.set_aside) :]
    sheets = sheets_with_refusals(workings.reading.sheets, refused)
    left: Counter[str] = Counter()
    for (file, _), lines in left_by_sheet(workings).items():
        left[file] += lines
    return {
        file: (
            len({s.sheet for s in mine}), sum(s.used for s in mine),
            sum(s.set_aside for s in mine) - left[file],
        )
        for file in {s.file for s in sheets}
        if (mine := [s for s in sheets if s.file == file])
    }  # fmt: skip


def _ours(findings: Iterable[Finding], file: str) -> bool:
    return any(f.where.file == file and f.code == "written by this tool" for f in findings)


def _state(told: Finding | None, read: bool, but: str, ours: bool) -> Text:
    if told is not None:
        return told.message
    if ours:
        return Text(N_("written by this tool, so not read"))
    if but:
        return Text(N_("not read"))
    return Text(N_("read")) if read else Text(N_("waiting to be read"))
