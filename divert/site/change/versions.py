"""Earlier versions of site.toml, the last fifty, in a folder of ours beside it."""

from __future__ import annotations

import contextlib
import datetime as dt
import re
from dataclasses import dataclass
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.safe_files import inside, write_whole
from divert.core.words import N_, Text
from divert.site.document import read_text

FOLDER = ".divert/versions"  # hidden: nothing in it is ever taken for a sheet
MOST = 50
_NAME = re.compile(r"site-(\d{6})-(\d{8}T\d{6})Z\.toml")


@dataclass(frozen=True, slots=True)
class Version:
    """One earlier text of site.toml: its file name and when it was replaced (UTC)."""

    name: str
    number: int
    replaced: dt.datetime


def text_of(path: Path) -> str:
    """Return the exact text of a site.toml. Raises CannotRun where it cannot be read."""
    return read_text(path.parent, path)


def versions(folder: Path) -> tuple[Version, ...]:
    """Return the kept versions, the newest first."""
    found = []
    with contextlib.suppress(OSError):
        for path in (folder / FOLDER).iterdir():
            if match := _NAME.fullmatch(path.name):
                when = dt.datetime.strptime(match[2], "%Y%m%dT%H%M%S").replace(tzinfo=dt.UTC)
                found.append(Version(path.name, int(match[1]), when))
    return tuple(sorted(found, key=lambda v: v.number, reverse=True))


def version_text(folder: Path, name: str) -> str:
    """Return a kept version's text; raises CannotRun where there is none of that name."""
    if name not in {v.name for v in versions(folder)}:
        raise CannotRun(Text(N_("There is no earlier version “{name}”."), {"name": name}))
    return text_of(inside(folder, folder / FOLDER / name))


def keep(folder: Path, text: str, when: dt.datetime) -> None:
    """Keep a text that is about to be replaced, and let the oldest beyond fifty go."""
    have = versions(folder)
    number = have[0].number + 1 if have else 1
    name = f"site-{number:06d}-{when.astimezone(dt.UTC):%Y%m%dT%H%M%S}Z.toml"
    write_whole(inside(folder, folder / FOLDER / name), text.encode("utf-8"))
    for old in have[MOST - 1 :]:
        with contextlib.suppress(OSError):
            (folder / FOLDER / old.name).unlink()
