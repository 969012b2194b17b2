"""What a site's folder looks like from outside, so that a saved file is noticed."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from divert.ingest.found import find

# What a reading stands on beside the spreadsheets themselves.
SETTINGS = ("site.toml", "reading.toml", "factors.csv")
REGISTER = "register.jsonl"

Look = tuple[tuple[str, int, int], ...]


@dataclass(frozen=True, slots=True)
class Looks:
    """Names, times (ns) and sizes of the files: of the sheets, the settings, and the register."""

    sheets: Look = ()
    settings: Look = ()
    register: Look = ()


def looks(folder: Path) -> Looks:
    """Return how a folder's files look now; what cannot be looked at looks like nothing."""
    try:
        found = [one.path for one in find(folder)]
    except OSError:
        found = []
    return Looks(
        tuple(sorted(_each(found))),
        tuple(_each([folder / name for name in SETTINGS])),
        tuple(_each([folder / REGISTER])),
    )


def _each(paths: list[Path]) -> list[tuple[str, int, int]]:
    out = []
    for path in paths:
        try:
            about = os.lstat(path)
        except OSError:
            out.append((str(path), 0, -1))
            continue
        out.append((str(path), about.st_mtime_ns, about.st_size))
    return out
