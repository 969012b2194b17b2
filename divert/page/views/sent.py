"""Every issued report: what it said, what it would say now, and why that differs."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from flask import Blueprint, Response, redirect, request
from werkzeug.wrappers import Response as AnyResponse

from divert.core.findings import CannotRun
from divert.core.period import Period
from divert.core.safe_files import inside
from divert.core.words import N_, Text
from divert.figures.compute import figures_for
from divert.page.desk import Seen
from divert.page.open_yard import needs_reading, the_desk
from divert.page.screen import screen
from divert.recheck import recheck
from divert.register import Entry, issued_report, read_register, restatements, withdraw
from divert.sandbox import limits

if TYPE_CHECKING:
    from divert.figures.history import Restatement

blueprint = Blueprint("sent", __name__)
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
    return screen(
        "sent_one.html", entry=entry, moves=_moves(seen, entry), then=_then(entry),
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


def _then(entry: Entry) -> float:
    figures = entry.figures["period"]
    of_sponsor = figures.get("supplied")
    mass = of_sponsor if of_sponsor else figures["mass"]
    return float(mass["diverted"]["central"])


def _now(seen: Seen, entry: Entry) -> float | None:
    """Return the same figure as it comes out today; None where it cannot be worked out."""
    assert seen.workings is not None
    told = entry.figures["period"]["period"]
    period = Period(
        entry.label, told.get("kind", "range"), entry.start, entry.end, bool(told.get("to_date")),
        seen.workings.site.year_starts,
    )  # fmt: skip
    sponsor = entry.figures["period"].get("sponsor")
    try:
        figures = figures_for(seen.workings, period, min(entry.issued, seen.today), sponsor)
    except CannotRun:
        return None
    if entry.figures["period"].get("supplied") and figures.supplied is not None:
        return figures.supplied.diverted.central
    return figures.mass.diverted.central


def _moves(seen: Seen, entry: Entry) -> tuple[Restatement, ...]:
    """Return the issued figures that print differently today, with the parts of each move."""
    from divert.ingest import read_folder

    assert seen.workings is not None
    workings, day = seen.workings, seen.today
    cells = the_desk().cells
    return restatements(entry, workings, lambda site: read_folder(site, day, None, None, (), cells))
