"""What is no view: the way in, the state for the script, fonts, colours, and closing."""

from __future__ import annotations

import threading
from contextlib import suppress

from flask import Blueprint, Response, jsonify, redirect, send_from_directory
from werkzeug.wrappers import Response as AnyResponse

from divert.core.findings import CannotRun
from divert.core.shipped import templates_folder
from divert.core.words import N_, Text
from divert.page.house import house
from divert.page.open_yard import first_view
from divert.page.screen import language_of, screen
from divert.report.paper.colour import colours_of
from divert.site.read import read_site

blueprint = Blueprint("plain", __name__)


@blueprint.get("/")
def home() -> AnyResponse:
    """Lead to the first view that needs the person."""
    return redirect(first_view())


@blueprint.get("/state")
def state() -> AnyResponse:
    """Say how far the reading is, for the script on a page that shows the reading of a number."""
    desk = house().desk
    if desk is None:
        return jsonify(reading=0, busy=False, old=False, said="", weighed=True)
    seen, progress = desk.seen, desk.progress
    site = seen.site if seen is not None else None
    said = ""
    if progress.busy and progress.of:
        said = Text(N_("{file} ({done} of {all})"),
                    {"file": progress.file, "done": min(progress.done + 1, progress.of),
                     "all": progress.of}).say(language_of(site))  # fmt: skip
    number = seen.number if seen is not None else 0
    return jsonify(
        reading=number, busy=progress.busy, said=said,
        old=seen is not None and not progress.busy and desk.is_old(seen),
        weighed=seen is None or house().weighed(desk, seen),
    )  # fmt: skip


@blueprint.get("/look.css")
def look() -> Response:
    """Return the site's own colour for the style sheet: the page holds no style of its own."""
    desk = house().desk
    site = desk.seen.site if desk is not None and desk.seen is not None else None
    if site is None and desk is not None:  # the style is asked for once, before the sheets are read
        with suppress(CannotRun):
            site = read_site(desk.folder)
    colours = colours_of(site.colour if site is not None else "#2f6b4f")
    return Response(f":root {{ --strong: {colours.strong}; }}\n", mimetype="text/css")


@blueprint.get("/fonts/<name>")
def font(name: str) -> Response:
    """Return one of the fonts that ship with the reports."""
    answer = send_from_directory(templates_folder() / "fonts", name, mimetype="font/woff2")
    answer.headers["Cache-Control"] = "private, max-age=86400"
    return answer


@blueprint.post("/close")
def close() -> str:
    """Close the server, once this answer is on its way."""
    page = screen("closed.html")
    threading.Timer(2.0, house().stop).start()  # style and fonts are still asked for
    return page
