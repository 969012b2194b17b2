"""For each reader what is due: made, looked at beside its figures, and sent under a number.

The register and what works figures out are imported where they are first asked for.
"""

from __future__ import annotations

import base64
import hashlib
import re
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from flask import Blueprint, Response, abort, redirect, request
from werkzeug.wrappers import Response as AnyResponse

from divert.core.findings import CannotRun
from divert.core.period import Period
from divert.core.words import N_, Text
from divert.page.desk import Seen
from divert.page.due import due, files_of, standing
from divert.page.house import house
from divert.page.making import Order
from divert.page.open_yard import needs_reading, the_desk
from divert.page.paper import page_count, picture_of
from divert.page.periods import period_from, periods_of
from divert.page.screen import screen

if TYPE_CHECKING:
    from divert.figures.contract import Figures
    from divert.register import Register

blueprint = Blueprint("reports", __name__)
_TYPES = {
    ".pdf": "application/pdf",
    ".html": "text/html; charset=utf-8",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".eml": "message/rfc822",
    ".csv": "text/csv; charset=utf-8",
}


@blueprint.get("/reports")
def reports() -> str:
    """Show what each reader is due."""
    seen = needs_reading()
    assert seen.workings is not None
    site = seen.workings.site
    register = _register(site.folder)
    dates = seen.workings.ledger["date"]
    first = dates.min().date() if len(dates) else site.started
    return screen(
        "reports.html", due=due(site, register.live, seen.today),
        periods=periods_of(site, first, seen.today), site=site,
    )  # fmt: skip


@blueprint.get("/reports/look")
def look() -> str:
    """Show one report beside its figures, as it will be printed."""
    seen = needs_reading()
    audience, name, period = _asked(seen)
    assert seen.workings is not None
    site = seen.workings.site
    order = _order(seen, audience, name, period)
    made = house().making.of(site.folder, order)
    files = files_of(site, audience, name, period)
    if made is None and ".pdf" not in files:
        house().making.begin(site.folder, order)
        made = house().making.of(site.folder, order)
    old = ".pdf" in files and files[".pdf"].stat().st_mtime < _newest(seen)
    register = _register(site.folder)
    pages = page_count(files[".pdf"]) if ".pdf" in files else 0
    return screen(
        "report.html", audience=audience, name=name, period=period, made=made,
        files=files, pages=pages, old=old, figures=_figures(seen, audience, name, period),
        sent=standing(register.live, audience, name, period),
        asked=urlencode({"audience": audience, "name": name, "period": period.label}),
    )  # fmt: skip


@blueprint.post("/reports/make")
def make() -> AnyResponse:
    """Make a report, or make it again."""
    seen = needs_reading()
    audience, name, period = _asked(seen)
    house().making.begin(the_desk().folder, _order(seen, audience, name, period))
    return _back(audience, name, period)


@blueprint.post("/reports/issue")
def issue() -> AnyResponse:
    """Remember a report as sent; one that stands for its reader and days is replaced or stays."""
    seen = needs_reading()
    audience, name, period = _asked(seen)
    register = _register(the_desk().folder)
    stands = standing(register.live, audience, name, period)
    extra: tuple[str, ...] = ("--issue",)
    if stands is not None:
        said = request.form.get("stands", "")
        if said not in (stands.number, "adds"):
            raise CannotRun(
                Text(N_("Report {number} stands for this reader and these days. Say whether the new "
                        "one replaces it."), {"number": stands.number})
            )  # fmt: skip
        extra = ("--issue", "--adds" if said == "adds" else f"--withdraws={said}")
    order = _order(seen, audience, name, period, extra)
    house().making.begin(the_desk().folder, order, the_desk().nudge)
    how = urlencode({"stands": request.form.get("stands", "")})
    return redirect(f"/reports/issued?{_query(audience, name, period)}&{how}")


@blueprint.get("/reports/issued")
def issued() -> str:
    """Show the number that a report was issued under, once it is."""
    seen = needs_reading()
    audience, name, period = _asked(seen)
    extra: tuple[str, ...] = ("--issue",)
    if stands := request.args.get("stands", ""):
        extra = ("--issue", "--adds" if stands == "adds" else f"--withdraws={stands}")
    made = house().making.of(the_desk().folder, _order(seen, audience, name, period, extra))
    register = _register(the_desk().folder)
    return screen(
        "issued.html", audience=audience, name=name, period=period, made=made,
        entry=standing(register.live, audience, name, period) if made is None or not made.busy else None,
        asked=_query(audience, name, period),
    )  # fmt: skip


@blueprint.get("/reports/file/<ending>")
def file(ending: str) -> AnyResponse:
    """Return one of a report's files as it lies in the folder."""
    seen = needs_reading()
    assert seen.workings is not None
    audience, name, period = _asked(seen)
    path = files_of(seen.workings.site, audience, name, period).get(f".{ending}")
    if path is None:
        abort(404)
    data = path.read_bytes()
    answer = Response(data, content_type=_TYPES[f".{ending}"])
    if ending == "html":
        answer.headers["Content-Security-Policy"] = policy_of(data)
    else:
        kind = "inline" if ending == "pdf" else "attachment"
        answer.headers["Content-Disposition"] = f'{kind}; filename="{path.name}"'
    return answer


def policy_of(page: bytes) -> str:
    """Return the policy of a report's own HTML: just its own style, and nothing that acts."""
    styles = re.findall(rb"<style>(.*?)</style>", page, re.S)
    hashes = " ".join(
        f"'sha256-{base64.b64encode(hashlib.sha256(s).digest()).decode()}'" for s in styles
    )
    return (
        f"default-src 'none'; style-src {hashes}; img-src data:; font-src data:; "
        "frame-ancestors 'none'; base-uri 'none'; form-action 'none'; sandbox"
    )


@blueprint.get("/reports/page/<int:number>")
def page(number: int) -> AnyResponse:
    """Return one page of a report's PDF as a picture."""
    seen = needs_reading()
    assert seen.workings is not None
    audience, name, period = _asked(seen)
    path = files_of(seen.workings.site, audience, name, period).get(".pdf")
    picture = picture_of(path, number) if path is not None else None
    if picture is None:
        abort(404)
    return Response(picture, content_type="image/png")


def _asked(seen: Seen) -> tuple[str, str, Period]:
    """Return audience, reader and period of a request, all of which must be known ones."""
    assert seen.site is not None
    said = request.values
    audience, name = said.get("audience", ""), said.get("name", "")
    known = {
        "sponsor": {s.name for s in seen.site.sponsors},
        "grant": {g.name for g in seen.site.grants},
        "board": {""},
    }
    if name not in known.get(audience, set()):
        abort(404)
    return audience, name, period_from(said.get("period", ""), seen.site, seen.today)


def _order(
    seen: Seen, audience: str, name: str, period: Period, extra: tuple[str, ...] = ()
) -> Order:
    return Order(audience, name, period.label, seen.today.isoformat(), extra)


def _register(folder: Path) -> Register:
    from divert.register import read_register

    return read_register(folder)


def _query(audience: str, name: str, period: Period) -> str:
    return urlencode({"audience": audience, "name": name, "period": period.label})


def _back(audience: str, name: str, period: Period) -> AnyResponse:
    return redirect(f"/reports/look?{_query(audience, name, period)}")


def _figures(seen: Seen, audience: str, name: str, period: Period) -> Figures:
    from divert.figures.compute import figures_for

    assert seen.workings is not None
    return figures_for(seen.workings, period, seen.today, name if audience == "sponsor" else None)


def _newest(seen: Seen) -> float:
    """Return when the newest of the sheets and settings was saved (s)."""
    every = (*seen.looks.sheets, *seen.looks.settings)
    return max((time for _, time, _ in every), default=0) / 1e9
