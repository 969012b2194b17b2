"""The demo: the sample site copied out, and every report it can make."""

from __future__ import annotations

import datetime as dt
import shutil
from collections.abc import Callable
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.shipped import sample_folder
from divert.core.words import N_, Text
from divert.evidence.sharing import Audience
from divert.inventory.open_site import open_site, period_of
from divert.publish.write import write_several
from divert.site.identity import FILE as ID_FILE

REPORTS: tuple[tuple[Audience, str], ...] = (
    ("sponsor", "2026-Q1"),
    ("grant", "2026-Q2"),
    ("board", "2025"),
)
SITE_FILES = {".toml", ".xlsx", ".csv", ".svg", ".jpg", ".png"}


def make_demo(
    folder: Path, as_of: dt.date, progress: Callable[[int, int, str], None] | None = None
) -> tuple[Path, ...]:
    """Copy the sample site into a folder and make its reports; return their paths.

    A folder that holds another site is left alone: CannotRun.
    """
    copy_sample(folder)
    workings = open_site(folder, as_of=as_of)
    wanted = [(audience, period_of(workings, label, as_of)) for audience, label in REPORTS]
    return write_several(workings, wanted, as_of, progress)


def copy_sample(folder: Path) -> None:
    """Copy the sample site's own files; those that are there already are kept as they are."""
    sample = sample_folder()
    theirs = folder / "site.toml"
    if theirs.exists() and theirs.read_bytes() != (sample / "site.toml").read_bytes():
        raise CannotRun(
            Text(N_("{folder} holds a site already; give the demo a new or empty folder."),
                 {"folder": str(folder)})
        )  # fmt: skip
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path in sorted(sample.iterdir()):
            if (path.suffix in SITE_FILES or path.name == ID_FILE) and not (
                folder / path.name
            ).exists():
                shutil.copyfile(path, folder / path.name)
    except OSError as problem:
        raise CannotRun(
            Text(N_("I cannot write the demo into {folder}: {why}. Give it a folder of your own."),
                 {"folder": str(folder), "why": problem.strerror or str(problem)})
        ) from problem  # fmt: skip
