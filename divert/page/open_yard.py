"""The yard that a request is about, and which view of it comes first."""

from __future__ import annotations

from flask import abort, redirect

from divert.page.desk import Desk, Seen
from divert.page.house import house
from divert.page.waiting import waiting


def the_desk() -> Desk:
    """Return the open yard; where none is, lead to the start."""
    desk = house().desk
    if desk is None:
        abort(redirect("/start"))
    return desk


def the_reading() -> Seen | None:
    """Return the last finished reading of the open yard, None before the first."""
    return the_desk().seen


def needs_reading() -> Seen:
    """Return a reading that has entries, or lead to the view that says why there is none."""
    seen = the_reading()
    if seen is None or seen.workings is None:
        abort(redirect("/files"))
    return seen


def first_view() -> str:
    """Return the address of the first view that needs the person."""
    desk = house().desk
    if desk is None:
        return "/start"
    seen = desk.seen
    if seen is None or seen.workings is None:
        has_toml = (desk.folder / "site.toml").exists()
        return "/files" if has_toml or not _any_sheet(desk) else "/yard"
    counts = waiting(seen)
    return next(
        (f"/{name}" for name in ("files", "names", "questions") if counts.get(name)), "/numbers"
    )


def _any_sheet(desk: Desk) -> bool:
    from divert.ingest.found import find

    try:
        return bool(find(desk.folder))
    except OSError:
        return False
