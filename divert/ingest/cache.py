"""Cells read before, kept by the fingerprint of the bytes they came from.

They lie in the user's own cache folder and never in the site folder: a folder from a stranger must
not bring answers of its own. What is kept is the child's answer as it was, plain JSON under a
fingerprint of itself, so that anything broken off or altered is read anew; the name of an entry
holds the fingerprint of the file, of the code that read it and the version of calamine. Deleting the
folder costs nothing but time. ``DIVERT_CACHE=off`` does without; any other value is a folder to use.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import os
import sys
import time
from functools import cache
from pathlib import Path

from divert import sandbox
from divert.core.installed import installed
from divert.core.own_folder import own_bytes, private_folder
from divert.core.safe_files import write_quickly
from divert.sandbox import frames, limits
from divert.sandbox.frames import Frame

_HEAD = b"divert cells\n"
_KEPT_BYTES = 500_000_000
_KEPT_SECONDS = 90 * 86_400


def load(sha256: str, suffix: str) -> list[Frame] | None:
    """Return the frames kept for a file's fingerprint and extension, or None."""
    folder = folder_to_use()
    if folder is None:
        return None
    path = folder / _name(sha256, suffix)
    try:
        data = own_bytes(path, 2 * limits.ANSWER_BYTES)
        start = len(_HEAD) + 32
        if (
            data[: len(_HEAD)] != _HEAD
            or hashlib.sha256(data[start:]).digest() != data[len(_HEAD) : start]
        ):
            return None
        got = list(frames.frames(io.BytesIO(data[start:]), limits.ANSWER_BYTES * 2))
        with contextlib.suppress(OSError):
            os.utime(path)  # so that what is used is kept longest
    except (OSError, EOFError, ValueError):
        return None
    return got


def keep(sha256: str, suffix: str, answer: list[Frame]) -> None:
    """Keep a file's frames, if there is a place for them; says nothing where there is none."""
    folder = folder_to_use()
    if folder is None:
        return
    tidy(folder)
    body = b"".join(frames.packed(kind, part) for kind, part in answer)
    with contextlib.suppress(OSError):
        write_quickly(folder / _name(sha256, suffix), _HEAD + hashlib.sha256(body).digest() + body)


@cache
def tidy(folder: Path) -> None:
    """Remove, once a run, what was not used for ninety days and the oldest beyond 500 MB."""
    with contextlib.suppress(OSError):
        entries = sorted(
            ((entry.stat().st_mtime, entry.stat().st_size, entry) for entry in folder.iterdir()),
            reverse=True,
        )
        total = 0
        for used, size, entry in entries:
            total += size
            if total > _KEPT_BYTES or used < time.time() - _KEPT_SECONDS:
                with contextlib.suppress(OSError):
                    entry.unlink()


def _name(sha256: str, suffix: str) -> str:
    return f"{sha256}-{_reader()}{suffix}"


@cache
def _reader() -> str:
    """Return a fingerprint of what turns bytes into cells: the child's code and calamine."""
    code = hashlib.sha256(installed("python-calamine").encode())
    for path in sorted(Path(sandbox.__file__).parent.glob("*.py")):
        code.update(path.read_bytes())
    return code.hexdigest()[:16]


def folder_to_use() -> Path | None:
    """Return the folder to use, made if need be and open to nobody else; None to do without."""
    return private_folder(os.environ.get("DIVERT_CACHE", ""), _usual_folder)


def _usual_folder() -> Path:
    if sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Caches"
    else:
        base = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
    return base / "divert" / "cells"
