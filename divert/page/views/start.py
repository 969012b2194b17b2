"""Which yard: one opened before, a folder that is there, a new one, or the sample."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.page.house import house
from divert.page.screen import screen
from divert.page.yards import remember, remembered

blueprint = Blueprint("start", __name__)


@blueprint.get("/start")
def start() -> str:
    """Offer the yards opened before, a folder, a new yard, and the sample."""
    return _start()


def _start(problem: Text | None = None) -> str:
    return screen(
        "start.html", yards=[str(folder) for folder in remembered()], problem=problem,
        home=str(_home() / "compost yard"), sample=str(_home() / "kestrel-bend"),
    )  # fmt: skip


@blueprint.post("/start")
def open_one() -> str | Response:
    """Open a folder, made first where it is new; the sample is copied into it where asked for."""
    what = request.form.get("what", "open")
    typed = request.form.get("folder", "").strip()
    try:
        folder = _folder(typed, must_be_there=what == "open")
        if what == "sample":
            from divert.publish.demonstration import copy_sample

            copy_sample(folder)
        elif what == "new":
            _made(folder)
    except CannotRun as problem:
        return _start(problem.message)
    remember(folder)
    house().open(folder).wait_for(1, 0.5)
    return redirect("/")


def _folder(typed: str, *, must_be_there: bool) -> Path:
    folder = Path(typed).expanduser() if typed else Path()
    if not typed or not folder.is_absolute() or "\0" in typed:
        raise CannotRun(
            Text(N_("Write the whole path of the folder, such as {example}"),
                 {"example": str(_home() / "compost")})
        )  # fmt: skip
    if must_be_there and not folder.is_dir():
        raise CannotRun(Text(N_("There is no folder {folder}."), {"folder": str(folder)}))
    return folder.resolve()


def _made(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise CannotRun(
            Text(N_("I cannot write in {folder}: {reason}"),
                 {"folder": str(folder), "reason": problem.strerror or ""})
        ) from problem  # fmt: skip


def _home() -> Path:
    try:
        return Path.home()
    except RuntimeError:
        return Path("/")
