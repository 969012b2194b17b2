"""The folder of what is this user's own on this machine, and never in a folder that is shared."""

from __future__ import annotations

import errno
import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path


def own_folder(away_from: Path | None = None) -> Path | None:
    """Return the folder of what lasts, such as a key; None where there is none.

    ``DIVERT_HOME`` names another, or is ``off``. ``away_from``: a site's folder; a folder that lies
    in it is none of one's own, since it is shared with the site.
    """
    return private_folder(os.environ.get("DIVERT_HOME", ""), _usual, away_from)


def private_folder(
    wish: str, usual: Callable[[], Path], away_from: Path | None = None
) -> Path | None:
    """Return a folder, made if need be and open to nobody else; None to do without.

    ``wish``: the folder that the user named, "" for the usual one, or "off".
    """
    if wish.lower() in ("off", "no", "0"):
        return None
    try:
        folder = Path(wish) if wish else usual()
        if away_from is not None and folder.resolve().is_relative_to(away_from.resolve()):
            return None
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        about = folder.stat()
    except (OSError, RuntimeError):  # RuntimeError: no home folder
        return None
    if hasattr(os, "getuid") and (about.st_uid != os.getuid() or about.st_mode & 0o022):
        return None
    return folder


def own_bytes(path: Path, at_most: int) -> bytes:
    """Return the bytes of a file that this user alone can have written; OSError otherwise.

    Never follows a link nor waits on a pipe: what lies in a private folder may have been put there
    while it, or a folder above it, was open to others.
    """
    flags = os.O_RDONLY
    for name in ("O_BINARY", "O_NOFOLLOW", "O_NONBLOCK", "O_CLOEXEC"):
        flags |= getattr(os, name, 0)
    with os.fdopen(os.open(path, flags), "rb") as file:
        about = os.fstat(file.fileno())
        others = hasattr(os, "getuid") and (about.st_uid != os.getuid() or about.st_mode & 0o022)
        if others or not stat.S_ISREG(about.st_mode) or about.st_size > at_most:
            raise OSError(errno.EPERM, os.strerror(errno.EPERM), str(path))
        return file.read(at_most)


def _usual() -> Path:
    if sys.platform == "win32":
        base = Path(os.environ.get("APPDATA") or Path.home() / "AppData" / "Roaming")
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_CONFIG_HOME") or Path.home() / ".config")
    return base / "divert"
