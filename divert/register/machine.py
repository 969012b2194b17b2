"""Which machine issues: so that two that share a folder can never give away the same number."""

from __future__ import annotations

import contextlib
import hashlib
import os
import platform
import secrets
from pathlib import Path

from divert.core.own_folder import own_folder

_LETTERS = "bcdfghjkmnpqrstvwxz"  # no vowels, so that no word comes out
_FILE = "machine"


def machine(site_folder: Path) -> str:
    """Return 16 hex digits of this user's own on this machine; they name neither."""
    own = own_folder(site_folder)
    words = [platform.node(), str(os.getuid() if hasattr(os, "getuid") else "")]
    if own is not None:
        words.append(_drawn(own / _FILE))
    return hashlib.sha256("\n".join(words).encode()).hexdigest()[:16]


def suffix(machine_id: str) -> str:
    """Return three letters for a machine, the same ones always."""
    number = int.from_bytes(hashlib.sha256(machine_id.encode()).digest()[:8], "big")
    out = ""
    for _ in range(3):
        number, place = divmod(number, len(_LETTERS))
        out += _LETTERS[place]
    return out


def _drawn(path: Path) -> str:
    """Return what was drawn by chance once and is kept; "" where it cannot be."""
    with contextlib.suppress(OSError):
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w") as file:
            file.write(secrets.token_hex(16))
    with contextlib.suppress(OSError, UnicodeDecodeError):
        return path.read_text(encoding="ascii").strip()
    return ""
