"""One way for every view to change site.toml: shown first, then written as it was shown."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from flask import redirect, request
from werkzeug.wrappers import Response

from divert.core.findings import CannotRun
from divert.core.words import Text
from divert.page.house import house
from divert.page.open_yard import the_desk
from divert.page.screen import screen
from divert.site.change import Change, ChangedMeanwhile, Edit, write

_OWN = ("form_token", "stamp", "write")
_A_BLINK = 0.6  # seconds that an answer waits for the new reading, where that is quick


def change(edits: Callable[[], Iterable[Edit]], back: str, title: Text) -> str | Response:
    """Answer a form that changes site.toml: its lines to look at, or, looked at, the way back.

    ``edits`` are worked out from the form; a mistake in it is said over the form.
    """
    try:
        planned = house().plans.of(the_desk().folder, edits())
    except CannotRun as mistake:
        return refused(title, mistake.message, back)
    return change_to(planned, back, title)


def change_to(planned: Change, back: str, title: Text) -> str | Response:
    """Answer a form whose change is worked out already."""
    if request.form.get("write") and request.form.get("stamp") == planned.stamp:
        try:
            written(planned)
        except ChangedMeanwhile as refused:
            return _look(planned, back, title, refused)
        return redirect(back)
    if request.form.get("write"):
        # It was shown over another text of site.toml than the one that stands there now.
        since = ChangedMeanwhile(Change(_shown(request.form.get("stamp", "")), planned.was))
        return _look(planned, back, title, since)
    return _look(planned, back, title)


def refused(title: Text, why: Text, back: str) -> str:
    """Return the view that says why nothing can be written."""
    return screen(
        "change.html", title=title, problem=why, back=back, planned=None, since=(), again=()
    )


def written(planned: Change) -> None:
    """Write a change and let the folder be read again; wait the moment that a quick one takes."""
    desk = the_desk()
    number = desk.seen.number if desk.seen is not None else 0
    write(desk.folder, planned)
    desk.nudge()
    desk.wait_for(number + 1, _A_BLINK)


_texts: dict[str, str] = {}  # what site.toml said when a change was last shown, by its stamp
_MOST_TEXTS = 20


def remember(planned: Change) -> None:
    """Remember the text that a change is shown over, to say what was done to it meanwhile."""
    _texts.pop(planned.stamp, None)
    _texts[planned.stamp] = planned.was
    while len(_texts) > _MOST_TEXTS:
        _texts.pop(next(iter(_texts)))


def _shown(stamp: str) -> str:
    return _texts.get(stamp, "")


def _look(planned: Change, back: str, title: Text, refused: ChangedMeanwhile | None = None) -> str:
    remember(planned)
    known = refused is not None and bool(refused.since.was)
    return screen(
        "change.html", title=title, planned=planned, back=back, again=carried(),
        problem=refused.message if refused is not None else None,
        since=refused.since.hunks if refused is not None and known else (),
    )  # fmt: skip


def carried() -> list[tuple[str, str]]:
    """Return what the form said, to be said again when its lines were looked at."""
    form: Mapping[str, list[str]] = request.form.to_dict(flat=False)
    return [(name, value) for name, values in form.items() if name not in _OWN for value in values]
