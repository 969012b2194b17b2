"""What tells a site apart from every other: an id written once into its folder, never its name.

A site's own errors (its scale, its fills, its measured densities) are drawn by this id, so that sites
of one name err apart and a site that is renamed keeps its ranges.
"""

from __future__ import annotations

import hashlib
import re
import secrets
from collections.abc import Callable, Iterable
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.safe_files import write_text

FILE = "site-id.txt"
_ID = re.compile(r"[0-9a-f]{16}")
_SAYS = """{id}

This number tells this site apart from all others, whatever it is called: its estimated ranges are
drawn by it. Keep it when the folder moves or the site is renamed. Where a folder was copied to
begin another site, delete this file in the copy.
"""


def site_id(folder: Path) -> str:
    """Return the id written in a site's folder, or "" where there is none."""
    try:
        with (folder / FILE).open(encoding="utf-8", errors="replace") as file:
            found = _ID.match(file.read(64))
    except OSError:
        return ""
    return found[0] if found else ""


def settle_id(folder: Path, contents: Callable[[], Iterable[str]]) -> str:
    """Return a site's id, writing it where there is none yet.

    ``contents`` gives the fingerprints of what the folder held when it was first read. The first id
    follows from them, so that whoever reads the same folder finds the same ranges, also where
    nothing can be written.
    """
    known = site_id(folder)
    if known:
        return known
    first = hashlib.sha256("\n".join(sorted(contents())).encode()).hexdigest()[:16]
    write_id(folder, first)
    return first


def new_id() -> str:
    """Return an id that no other site has, for a folder that is made just now."""
    return secrets.token_hex(8)


def write_id(folder: Path, which: str) -> None:
    """Write an id into a site's folder; a folder that cannot be written goes without."""
    try:
        write_text(folder / FILE, _SAYS.format(id=which))
    except CannotRun:
        return
