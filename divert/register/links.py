"""What must lie in the site's own folder: a link that leads out of it is followed nowhere."""

from __future__ import annotations

from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.inventory.issued_folder import FOLDER
from divert.register.lines import FILE

REPORTS = "reports"


def stay_inside(site_folder: Path) -> None:
    """Raise CannotRun where the register, ``issued/`` or ``reports/`` leads out of the folder."""
    wrong = leading_out(site_folder)
    if wrong:
        raise CannotRun(wrong[0])


def leading_out(site_folder: Path) -> list[Text]:
    """Return a sentence for each of the three that is a link to somewhere else."""
    told = []
    for name in (FILE, FOLDER, REPORTS):
        path = site_folder / name
        try:
            out = path.is_symlink() and not path.resolve().is_relative_to(site_folder.resolve())
        except (OSError, RuntimeError):  # a link that leads to itself
            out = True
        if out:
            told.append(
                Text(N_("{path} is a link that leads out of the site's folder: nothing is read or "
                        "written through it. Put the real file or folder in its place."),
                     {"path": str(path)})
            )  # fmt: skip
    return told
