"""Every issued report: what it said, what it would say now, and why that differs."""

from __future__ import annotations

import tempfile
import threading
from dataclasses import dataclass
from pathlib import Path

from flask import Blueprint, Response, redirect, request
from werkzeug.wrappers import Response as AnyResponse

from divert.core.findings import CannotRun
from divert.core.safe_files import inside
from divert.core.words import N_, Text
from divert.figures.figure_path import get
from divert.figures.history import Restatement
from divert.ingest import read_folder
from divert.page.desk import Seen
from divert.page.open_yard import needs_reading, the_desk
from divert.page.screen import screen
from divert.recheck import recheck
from divert.register import Entry, issued_report, read_register, restatements, withdraw
from divert.register.restate import central_values
from divert.sandbox import limits

blueprint = Blueprint("sent", __name__)
_MAIN = ("supplied.diverted", "supported.diverted")  # a sponsor's own, the first that there is
_MOVED = 0.5  # kg: less is not told as a move


@dataclass(frozen=True, slots=True)
class SentShown:
    """One issued report with its total then and now (kg); ``withdrawn`` how it was taken back."""

    entry: Entry
    then_kg: float
    now_kg: float | None
    withdrawn: object | None

    @property
    def moved(self) -> bool:
        """Return whether its total is another one today."""
        return self.now_kg is not None and abs(self.now_kg - self.then_kg) >= _MOVED


@blueprint.get("/sent")
def sent() -> str:
    """Show what was sent."""
    seen = needs_reading()
    register = read_register(the_desk().folder)
    shown = [
        SentShown(e, _then(e), _now(seen, e), register.withdrawals.get(e.number))
        for e in reversed(register.entries)
    ]
    return screen("sent.html", shown=shown, checked=None)


@blueprint.get("/sent/<number>")
def one(number: str) -> str:
    """Show one report: what moved since, by reason, and its files."""
    seen = needs_reading()
    register = read_register(the_desk().folder)
    entry = register.get(number)
    moves = _moves(seen, entry)
    return screen(
        "sent_one.html",
        entry=entry,
        moves=moves if not isinstance(moves, Text) else (),
        problem=moves if isinstance(moves, Text) else None,
        then=_then(entry),
        now=_now(seen, entry), withdrawn=register.withdrawals.get(number),
    )  # fmt: skip


@blueprint.get("/sent/<number>/report.pdf")
def pdf(number: str) -> AnyResponse:
    """Return the PDF just as it was issued."""
    folder = the_desk().folder
    entry = read_register(folder).get(number)
    answer = Response(issued_report(folder, entry), content_type="application/pdf")
    answer.headers["Content-Disposition"] = f'inline; filename="report-{entry.number}.pdf"'
    return answer


@blueprint.post("/sent/<number>/withdraw")
def take_back(number: str) -> AnyResponse:
    """Withdraw a report without replacing it."""
    reason = request.form.get("reason", "").strip()
    if not reason:
        raise CannotRun(Text(N_("Say in a few words why it is withdrawn.")))
    withdraw(the_desk().folder, number, the_desk().today, reason)
    return redirect(f"/sent/{number}")


@blueprint.post("/sent/recheck")
def check() -> str:
    """Recheck a PDF: one that was sent, or one that was dropped here."""
    folder = the_desk().folder
    if number := request.form.get("number", ""):
        data = issued_report(folder, read_register(folder).get(number))
        name = number
    else:
        given = request.files.get("pdf")
        data = given.stream.read(limits.FILE_BYTES) if given is not None else b""
        name = (given.filename or "") if given is not None else ""
    inside(folder, folder / ".divert").mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="recheck-", dir=folder / ".divert") as room:
        path = Path(room) / "report.pdf"
        path.write_bytes(data)
        try:
            found = recheck(path, folder)
        except CannotRun as problem:
            return screen("rechecked.html", name=name, found=None, problem=problem.message)
    return screen("rechecked.html", name=name, found=found, problem=None)


def _figure(entry: Entry) -> tuple[str, str]:
    """Return the set and the path of the figure that a report is remembered by."""
    set_name = "total" if "total" in entry.figures else "period"
    issued = entry.figures[set_name]
    found = (p for p in _MAIN if get(issued, f"{p}.central") is not None)
    return set_name, next(found, "mass.diverted")


def _then(entry: Entry) -> float:
    set_name, figure = _figure(entry)
    return float(get(entry.figures[set_name], f"{figure}.central"))


def _now(seen: Seen, entry: Entry) -> float | None:
    """Return the same figure as it comes out today; None where it cannot be worked out."""
    assert seen.workings is not None
    set_name, figure = _figure(entry)
    issued = entry.figures[set_name]
    try:
        made = central_values(seen.workings, issued, [figure], issued.get("sponsor"))
    except CannotRun:
        return None
    return made.get(figure)


_worked_out: dict[tuple[Path, int, str], tuple[Restatement, ...] | Text | None] = {}
_MOST_WORKED_OUT = 50


def _moves(seen: Seen, entry: Entry) -> tuple[Restatement, ...] | Text | None:
    """Return the issued figures that print differently today, with the parts of each move.

    They are worked out beside the page, for the sheets may have to be read as they were: None until
    they are there, a sentence where they cannot be.
    """
    key = (the_desk().folder, seen.number, entry.number)
    if key in _worked_out:
        return _worked_out[key]
    while len(_worked_out) > _MOST_WORKED_OUT:
        _worked_out.pop(next(iter(_worked_out)))
    _worked_out[key] = None
    cells = the_desk().cells

    def work() -> None:
        workings, day = seen.workings, seen.today
        assert workings is not None
        try:
            _worked_out[key] = restatements(
                entry, workings, lambda site: read_folder(site, day, None, None, (), cells)
            )
        except CannotRun as problem:
            _worked_out[key] = problem.message

    threading.Thread(target=work, name="moves", daemon=True).start()
    return None
