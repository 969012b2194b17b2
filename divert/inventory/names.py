"""The names of the files that were read the last time, without all that they held."""

from __future__ import annotations

import json
from pathlib import Path

NAME = "inventory.json"
MOST_BYTES = 400_000_000


def names_kept(folder: Path) -> frozenset[str]:
    """Return the names of the files read the last time; none where that cannot be known."""
    path = folder / NAME
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size > MOST_BYTES:
            return frozenset()
        value = json.loads(path.read_text(encoding="utf-8"))
        return frozenset(str(one["file"]) for one in value["files"])
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return frozenset()  # said where the inventory itself is read
