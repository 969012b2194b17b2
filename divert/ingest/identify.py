"""A site's id where its folder has none yet: settled by what the folder holds when it is first read."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path

from divert.ingest.found import find
from divert.site.identity import settle_id
from divert.site.model import Site


def identified(site: Site) -> Site:
    """Return the site with its id, which is written into its folder where there is none yet."""
    return site if site.id else replace(site, id=identify(site.folder))


def identify(folder: Path) -> str:
    """Return the id of the site in a folder, written there now where there is none yet."""
    return settle_id(folder, lambda: [_fingerprint(folder / "site.toml"), *_sheets(folder)])


def _sheets(folder: Path) -> list[str]:
    try:
        found = find(folder)
    except OSError:
        return []
    return [f"{one.file} {_fingerprint(one.path)}" for one in found if not one.but]


def _fingerprint(path: Path) -> str:
    if not path.is_file():  # nothing here may wait on a pipe
        return ""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""
