"""Every issued report: what it said, what it would say now, and why that differs.

The register and what rechecks a report are imported where they are first asked for: the first view
waits for none of it.
"""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

from flask import Blueprint, Response, redirect, request
from werkzeug.wrappers import Response as AnyResponse

from divert.core.findings import CannotRun
from divert.core.safe_files import inside
from divert.core.words import Text
from divert.page.amounts import Amounts
from divert.page.open_yard import needs_reading, the_desk
from divert.page.screen import language_of, printer_of, screen
from divert.sandbox import limits

blueprint = Blueprint("sent", __name__)


@blueprint.get("/sent")
def sent() -> str:
    """Show what was sent."""
    from divert.page.moved import sent_shown
    from divert.register import read_register

    seen = needs_reading()
    register = read_register(the_desk().folder)
    amounts = Amounts(printer_of(seen.site, language_of(seen.site)))
    shown = [sent_shown(seen, register, e, amounts) for e in reversed(register.entries)]
    return screen("sent.html", shown=shown)


@blueprint.get("/sent/<number>")
def one(number: str) -> str:
    """Show one report: what moved since, by reason, and its files."""
    from divert.page.moved import move_shown, moves, sent_shown
    from divert.register import read_register

    seen, desk = needs_reading(), the_desk()
    register = read_register(desk.folder)
    amounts = Amounts(printer_of(seen.site, language_of(seen.site)))
    shown = sent_shown(seen, register, register.get(number), amounts)
    found = moves(desk.folder, seen, shown.entry, desk.cells)
    problem = found if isinstance(found, Text) else None
    told = () if found is None or isinstance(found, Text) else found
    return screen("sent_one.html", sent=shown, moves=[move_shown(m, amounts) for m in told],
                  waits=found is None, problem=problem)  # fmt: skip


@blueprint.get("/sent/<number>/report.pdf")
def pdf(number: str) -> AnyResponse:
    """Return the PDF just as it was issued."""
    from divert.register import issued_report, read_register

    folder = the_desk().folder
    entry = read_register(folder).get(number)
    answer = Response(issued_report(folder, entry), content_type="application/pdf")
    answer.headers["Content-Disposition"] = f'inline; filename="report-{entry.number}.pdf"'
    return answer


@blueprint.post("/sent/<number>/withdraw")
def take_back(number: str) -> AnyResponse:
    """Withdraw a report without replacing it."""
    from divert.publish.taken_back import take_back as taken

    taken(the_desk().folder, number, the_desk().today, request.form.get("reason", ""))
    return redirect(f"/sent/{number}")


@blueprint.post("/sent/recheck")
def check() -> str:
    """Recheck a PDF: one that was sent, or one that was dropped here."""
    from divert.recheck import recheck
    from divert.register import issued_report, read_register

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
            # Nobody has seen the copy that was rechecked: it is called by the name it was dropped under.
            said = problem.message
            values = {k: name if str(v) == str(path) else v for k, v in said.values.items()}
            told = replace(said, values=values)
            return screen("rechecked.html", name=name, found=None, problem=told)
    return screen("rechecked.html", name=name, found=found, problem=None)
