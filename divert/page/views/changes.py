"""Earlier versions of site.toml, and bringing one back."""

from __future__ import annotations

from flask import Blueprint, request
from werkzeug.wrappers import Response

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.page.open_yard import the_desk
from divert.page.screen import screen
from divert.page.views.changing import change_to, refused
from divert.site.change import Change, Hunk, restore, versions
from divert.site.change.versions import text_of, version_text
from divert.site.document import FILE_NAME

blueprint = Blueprint("changes", __name__)
_LAID_OUT = 10  # of the last changes whose lines are shown


@blueprint.get("/changes")
def changes() -> str:
    """Show what was changed and when, the last first."""
    folder = the_desk().folder
    kept = versions(folder)
    try:
        after = text_of(folder / FILE_NAME)
    except CannotRun:
        after = ""
    shown: list[tuple[object, tuple[Hunk, ...]]] = []
    for number, version in enumerate(kept):
        hunks: tuple[Hunk, ...] = ()
        if number < _LAID_OUT:
            before = version_text(folder, version.name)
            hunks, after = Change(before, after).hunks, before
        shown.append((version, hunks))
    return screen("changes.html", shown=shown)


@blueprint.post("/changes")
def bring_back() -> str | Response:
    """Bring an earlier version back, its lines shown first."""
    try:
        planned = restore(the_desk().folder, request.form.get("version", ""))
    except CannotRun as problem:
        return refused(Text(N_("Bring back")), problem.message, "/changes")  # fmt: skip
    return change_to(planned, "/changes", Text(N_("Bring back what site.toml said then")))
