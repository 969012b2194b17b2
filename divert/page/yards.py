"""The yards that were opened before, remembered in the user's own settings folder."""

from __future__ import annotations

import contextlib
import json
import os
import sys
from pathlib import Path

from divert.core.safe_files import write_quickly

MOST = 12


def remembered() -> list[Path]:
    """Return the folders opened before, the last one first; those that are gone are left out."""
    path = _file()
    if path is None:
        return []
    try:
        said = json.loads(path.read_text(encoding="utf-8"))
        folders = [Path(str(one)) for one in said]
    except (OSError, ValueError, TypeError):
        return []
    return [folder for folder in folders if folder.is_absolute() and folder.is_dir()][:MOST]


def remember(folder: Path) -> None:
    """Put a folder in front of those remembered; where that cannot be written, it is let be."""
    path = _file()
    if path is None:
        return
    folder = folder.resolve()
    others = [one for one in remembered() if one != folder]
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        said = json.dumps([str(one) for one in [folder, *others][:MOST]])
        write_quickly(path, said.encode("utf-8"))


def _file() -> Path | None:
    """Return where it is remembered; ``DIVERT_YARDS`` names another file, or "off"."""
    wish = os.environ.get("DIVERT_YARDS", "")
    if wish.lower() in ("off", "no", "0"):
        return None
    if wish:
        return Path(wish)
    try:
        home = Path.home()
    except RuntimeError:
        return None
    if sys.platform == "win32":
        base = Path(os.environ.get("APPDATA") or home / "AppData" / "Roaming")
    elif sys.platform == "darwin":
        base = home / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_CONFIG_HOME") or home / ".config")
    return base / "divert" / "yards.json"
