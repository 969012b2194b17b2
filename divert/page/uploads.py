"""Files that the browser brings: taken under the limits of files, and never over another one.

Where a person says that a file takes the place of the one of its name, the earlier one is kept.
"""

from __future__ import annotations

import hashlib
import os
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from divert.core.findings import CannotRun
from divert.core.safe_files import inside, write_whole
from divert.core.words import N_, Text
from divert.ingest.found import SUFFIXES
from divert.sandbox import limits

_REPLACED = Path(".divert") / "replaced"
_LONGEST = 120  # letters of a file's name
_RESERVED = re.compile(r"(?i)(?:con|prn|aux|nul|com\d|lpt\d)(?:\..*)?")


@dataclass(frozen=True, slots=True)
class Brought:
    """One file that was brought: where it lies now, or why it was not taken.

    ``kept``: where the file lies now whose place it took.
    """

    name: str
    taken: str = ""
    but: Text | None = None
    kept: str = ""


def take(
    folder: Path, files: Iterable[tuple[str, BinaryIO]], *, replace: bool = False
) -> tuple[Brought, ...]:
    """Put files into a site's folder; return what became of each.

    A name that is taken gets a number, or, with ``replace``, its file makes room and is kept.
    """
    return tuple(_take_one(folder, name, data, replace) for name, data in files)


def _take_one(folder: Path, given: str, data: BinaryIO, replace: bool) -> Brought:
    name = plain_name(given)
    if not name:
        return Brought(given, but=Text(N_("It has no name that a file can have.")))
    if Path(name).suffix.lower() not in SUFFIXES or name.startswith((".", "~$")):
        return Brought(
            name, but=Text(N_("This is no spreadsheet that is read: {endings}."),
                           {"endings": " ".join(SUFFIXES)})
        )  # fmt: skip
    content = data.read(limits.FILE_BYTES + 1)
    if len(content) > limits.FILE_BYTES:
        size = limits.FILE_BYTES // 1_000_000
        return Brought(name, but=Text(N_("It is larger than {size} MB."), {"size": size}))
    try:
        path = _free(folder, name, content)
        if path is None:
            return Brought(name, but=Text(N_("The very same file is in the folder already.")))
        there = folder / name
        if replace and path != there and there.is_file() and not there.is_symlink():
            kept = _made_room(folder, there)
            write_whole(inside(folder, there), content)
            return Brought(name, taken=name, kept=kept)
        write_whole(inside(folder, path), content)
    except CannotRun as problem:
        return Brought(name, but=problem.message)
    return Brought(name, taken=path.name)


def _made_room(folder: Path, there: Path) -> str:
    """Keep a copy of a file whose place another takes; return where, below the folder."""
    number = 1
    while os.path.lexists(kept := folder / _REPLACED / f"{there.stem} ({number}){there.suffix}"):
        number += 1
    write_whole(inside(folder, kept), there.read_bytes())
    return kept.relative_to(folder).as_posix()


def plain_name(given: str) -> str:
    """Return a file's own name without any folder, controls or what systems forbid; "" for none."""
    name = re.split(r"[/\\]", unicodedata.normalize("NFC", given))[-1]
    name = "".join(c for c in name if c.isprintable() and c not in '<>:"|?*').strip(" .")
    stem, suffix = Path(name).stem, Path(name).suffix
    name = f"{stem[: _LONGEST - len(suffix)]}{suffix}"
    return "" if not stem or _RESERVED.fullmatch(name) or name.startswith(".") else name


def _free(folder: Path, name: str, content: bytes) -> Path | None:
    """Return a path that nothing stands at, None where this very file stands there already."""
    stem, suffix = Path(name).stem, Path(name).suffix
    digest = hashlib.sha256(content).digest()
    for number in range(1, 1000):
        path = folder / (name if number == 1 else f"{stem} ({number}){suffix}")
        if not os.path.lexists(path):
            return path
        same = path.is_file() and not path.is_symlink()
        if same and hashlib.sha256(path.read_bytes()).digest() == digest:
            return None
    raise CannotRun(Text(N_("There are too many files of this name.")))
