"""Pictures that site.toml names: files inside the site folder, and nowhere else."""

from __future__ import annotations

from pathlib import PurePosixPath

from divert.core.words import N_, Text
from divert.site.table import Table

KINDS = (".svg", ".png", ".jpg", ".jpeg")


def picture(table: Table, key: str) -> str | None:
    """Return a picture's path below the site folder with "/" between its parts, or None.

    Raises CannotRun for a path (or a link) that leaves the folder, a file that is not there or one
    that is no picture.
    """
    said = table.maybe_text(key)
    if said is None:
        return None
    relative = PurePosixPath(said.replace("\\", "/"))
    if relative.suffix.casefold() not in KINDS:
        raise table.wrong(key, Text(N_("Name a picture: .svg, .png or .jpg.")))
    inside = Text(N_("Name a file inside the site folder."))
    if relative.is_absolute() or ".." in relative.parts or ":" in said:
        raise table.wrong(key, inside)
    folder = table.document.folder.resolve()
    path = (folder / relative).resolve()
    if not path.is_relative_to(folder):
        raise table.wrong(key, inside)
    if not path.is_file():
        raise table.wrong(key, Text(N_("There is no such file in the site folder.")))
    return str(relative)
