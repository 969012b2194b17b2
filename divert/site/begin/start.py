"""Begin a site folder without touching anything that is there already."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.safe_files import write_text, write_whole
from divert.core.words import N_, Text
from divert.site.begin.workbook import starter_workbook
from divert.site.identity import new_id, site_id, write_id
from divert.site.read import read_site

HERE = Path(__file__).parent
WORKBOOK_NAME = "log.xlsx"


def begin_site(folder: Path, today: dt.date, language: str = "en") -> tuple[Path, ...]:
    """Write what a site folder lacks - site.toml, then log.xlsx made from it - and return the paths.

    ``today`` becomes the day the site started, for the user to correct; ``language`` is the one that
    site.toml explains itself in, and the reports' until the user says otherwise. Raises CannotRun
    where both files are there, site.toml holds a mistake, or the folder cannot be written.
    """
    toml, book = folder / "site.toml", folder / WORKBOOK_NAME
    if toml.exists() and book.exists():
        raise CannotRun(
            Text(
                N_("{folder} already has a site.toml and a {book}; nothing was changed. "
                   "Take {book} away for a new one with the names now in site.toml."),
                {"folder": str(folder), "book": WORKBOOK_NAME},
            )
        )  # fmt: skip
    if folder.exists() and not folder.is_dir():
        raise CannotRun(
            Text(N_("{folder} is a file. Name a new or empty folder."), {"folder": str(folder)})
        )
    made: list[Path] = []
    if not toml.exists():
        write_text(toml, starter_toml(folder, today, language))
        # Two sites begun alike hold the same files: only chance tells them apart.
        write_id(folder, site_id(folder) or new_id())
        made.append(toml)
    site = read_site(folder)
    if not book.exists():
        write_whole(book, starter_workbook(site, today))
        made.append(book)
    return tuple(made)


def starter_toml(folder: Path, today: dt.date, language: str = "en") -> str:
    """Return the text of a new site.toml: every key with its default, named after the folder.

    A language without a starter of its own gets the English one, with its reports in English.
    """
    nameless = Text(N_("Our compost site")).say(language)
    words = folder.resolve().name.replace("-", " ").replace("_", " ").split()
    name = "".join(c for c in " ".join(words) if c.isprintable())[:200] or nameless
    quoted = json.dumps(name[0].upper() + name[1:], ensure_ascii=False)
    own = HERE / f"starter.{language}.toml"
    text = (own if own.exists() else HERE / "starter.toml").read_text(encoding="utf-8")
    return text.replace("@NAME@", quoted).replace("@STARTED@", today.isoformat())
