"""Which files of a site folder are the crew's spreadsheets."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from divert.ingest.lexicon import bare

SUFFIXES = (".xlsx", ".xlsm", ".xlsb", ".xls", ".ods", ".csv", ".tsv")
# Spreadsheets of other kinds: not read, but said, so that nobody thinks they were.
OTHERS = (".numbers", ".gsheet", ".fods", ".xltx", ".xltm", ".ots", ".wk4", ".qpw")
_OUTPUTS = ("reports", "issued")
_LOCKS = ("~$", ".~lock")
_COPY = re.compile(
    r"(?i)(?<![a-z])(?:copy|copie|copia|backup|bak|old|ancien|sauvegarde|archive)(?![a-z])|\(\d+\)\.\w+$"
)


@dataclass(frozen=True, slots=True)
class Found:
    """A file to open: ``file`` is its name below the folder with forward slashes, fit to print.

    ``but`` is "" or why it is not to be opened: "other kind", "leads out", "leads nowhere" (links) or "no
    permission" (a folder that cannot be listed).
    """

    path: Path
    file: str
    but: str = ""


def find(folder: Path, named: Iterable[str] = (), read_before: Collection[str] = ()) -> list[Found]:
    """Return the spreadsheets under a folder, in an order that is the same on every machine.

    Files that are ``named`` in site.toml come first, then those ``read_before``, and those that are
    called copies last, so that of two equal files the one people mean is read.

    Left out: reports/ and issued/ at the top, factors.csv at the top, lock files, hidden files and
    folders, and links; a link that leads out of the folder is said, any other leads to a file that
    is found anyway. Raises OSError where the folder itself cannot be listed.
    """
    top = folder.resolve()
    found = [one for path, but in _paths(top) if (one := _taken(top, path, but))]
    meant = {bare(name) for name in named}

    def rank(one: Found) -> tuple[bool, bool, bool, str]:
        known = {bare(one.file), bare(one.path.name)} & meant
        new = one.file not in read_before
        return not known, new, _COPY.search(one.file) is not None, one.file

    return sorted(found, key=rank)


def _taken(top: Path, path: Path, but: str) -> Found | None:
    suffix = path.suffix.lower()
    name = _printable(path.relative_to(top).as_posix())
    if but:
        return Found(path, name, but)
    if path.is_symlink():
        return _linked(top, path, name)
    if suffix in OTHERS:
        return Found(path, name, "other kind")
    return Found(path, name) if suffix in SUFFIXES and name != "factors.csv" else None


def _linked(top: Path, path: Path, name: str) -> Found | None:
    """Return a link that leads out or nowhere; any other leads to a file that is found anyway."""
    wanted = path.suffix.lower() in SUFFIXES + OTHERS
    try:
        to = path.resolve(strict=True)
    except (OSError, RuntimeError):  # nothing is there, or the link leads to itself
        return Found(path, name, "leads nowhere") if wanted else None
    outside = not to.is_relative_to(top)
    return Found(path, name, "leads out") if outside and (wanted or to.is_dir()) else None


def _paths(top: Path) -> Iterator[tuple[Path, str]]:
    """Yield files, links and folders that cannot be listed, with what is in the way."""
    unlisted: list[str] = []

    def note(problem: OSError) -> None:
        if problem.filename == str(top):
            raise problem
        unlisted.append(str(problem.filename))

    for folder, folders, files in os.walk(top, onerror=note):
        here = Path(folder)
        folders[:] = [
            name
            for name in folders
            if not name.startswith(".") and not (here == top and name in _OUTPUTS)
        ]
        for name in files:
            if not name.startswith((".", *_LOCKS)):
                yield here / name, ""
        for name in folders:
            if (here / name).is_symlink():
                yield here / name, ""
    for name in unlisted:
        yield Path(name), "no permission"


def _printable(name: str) -> str:
    """Return a file's name as it can be printed anywhere: one spelling of accents, no controls."""
    text = unicodedata.normalize("NFC", os.fsencode(name).decode("utf-8", "replace"))
    return "".join(letter if letter.isprintable() else "\ufffd" for letter in text)
