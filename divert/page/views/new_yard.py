"""A yard that has no site.toml yet: its first text, shown whole before it is written."""

from __future__ import annotations

from collections.abc import Iterable

from flask import redirect, request
from werkzeug.wrappers import Response

from divert.core.findings import CannotRun
from divert.core.safe_files import inside, write_text
from divert.core.words import N_, Text
from divert.page.open_yard import the_desk
from divert.page.screen import language_of, screen
from divert.page.views.changing import carried, refused
from divert.site.begin.start import starter_toml
from divert.site.change import Drop, Edit
from divert.site.change.apply import edited
from divert.site.read import read_site

# The starter's examples say something of a yard that nobody said: a new yard begins without them.
_EXAMPLES: tuple[Edit, ...] = tuple(Drop(t, {}) for t in ("container", "material", "source"))


def look_at_new(edits: Iterable[Edit]) -> str:
    """Show the site.toml that would be written."""
    title = Text(N_("A new yard"))
    try:
        text = _text(edits)
    except CannotRun as mistake:
        return refused(title, mistake.message, "/yard")
    return screen("new_yard_look.html", title=title, text=text, again=carried())


def begun() -> str | Response:
    """Write the site.toml that was looked at, where there is still none."""
    desk = the_desk()
    path = inside(desk.folder, desk.folder / "site.toml")
    text = request.form.get("text", "").replace("\r\n", "\n")
    try:
        read_site(desk.folder, text)
        if path.exists():
            raise CannotRun(
                Text(N_("There is a site.toml in the folder by now; it was not written over."))
            )
        write_text(path, text)
    except CannotRun as mistake:
        return refused(Text(N_("A new yard")), mistake.message, "/yard")  # fmt: skip
    number = desk.seen.number if desk.seen is not None else 0
    desk.nudge()
    desk.wait_for(number + 1, 1.0)
    return redirect("/")


def _text(edits: Iterable[Edit]) -> str:
    folder = the_desk().folder
    language = request.form.get("language") or language_of(None)
    text = edited(starter_toml(folder, the_desk().today, language), [*_EXAMPLES, *edits])
    read_site(folder, text)
    return text
