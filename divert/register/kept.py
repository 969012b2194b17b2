"""What is kept of the day of issue: ``issued/<number>/``, written whole, never rewritten."""

from __future__ import annotations

import gzip
import hashlib
import os
from collections.abc import Mapping
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.register.lines import sync_folder

FOLDER = "issued"
REPORT = "report.pdf"
PAGE = "report.html.gz"
LEDGER = "ledger.csv.gz"
SITE_FILE = "site.toml"
SETTINGS = "settings.json.gz"  # site.toml as it was understood
FACTORS = "factors.json.gz"
FIGURES = "figures.json.gz"
_UNFINISHED = ".unfinished-"
_LEFT_OVER = ".left-over-"


def fingerprints(files: Mapping[str, bytes]) -> dict[str, str]:
    """Return the SHA-256 of each file by its name."""
    return {name: hashlib.sha256(data).hexdigest() for name, data in sorted(files.items())}


def packed(data: bytes) -> bytes:
    """Return data compressed, the same bytes for the same data on any day."""
    return gzip.compress(data, compresslevel=6, mtime=0)


def keep(site_folder: Path, number: str, files: Mapping[str, bytes]) -> None:
    """Put the files of one issued report on disk; call it with the register locked.

    The folder takes its name in one step when every file in it is on disk. A folder of that name
    that no line of the register speaks of is what a crash left: it is put aside under another name.
    """
    issued = site_folder / FOLDER
    unfinished = issued / f"{_UNFINISHED}{number}"
    try:
        issued.mkdir(exist_ok=True)
        _put_aside(unfinished, issued)
        _put_aside(issued / number, issued)
        unfinished.mkdir()
        for name, data in files.items():
            with (unfinished / name).open("xb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
        sync_folder(unfinished)
        unfinished.rename(issued / number)
        sync_folder(issued)
    except OSError as error:
        raise CannotRun(
            Text(N_("I could not keep the issued report in {folder}: {reason}. "
                    "Nothing was issued."),
                 {"folder": str(issued / number), "reason": error.strerror or ""})
        ) from error  # fmt: skip


def _put_aside(folder: Path, issued: Path) -> None:
    if not folder.exists():
        return
    name = folder.name.removeprefix(_UNFINISHED)
    count = sum(1 for _ in issued.glob(f"{_LEFT_OVER}*"))
    folder.rename(issued / f"{_LEFT_OVER}{name}-{count + 1}")


def kept(site_folder: Path, number: str, name: str, sha256: str) -> bytes:
    """Return one kept file, unpacked; raises CannotRun where it is gone or not as it was issued."""
    path = site_folder / FOLDER / number / name
    try:
        data = path.read_bytes()
    except OSError as error:
        raise CannotRun(
            Text(N_("{file} cannot be read: {reason}. The register needs it to compare with; "
                    "restore it from a backup."),
                 {"file": str(path), "reason": error.strerror or ""})
        ) from error  # fmt: skip
    if hashlib.sha256(data).hexdigest() != sha256:
        raise CannotRun(
            Text(N_("{file} is not as it was when report {number} was issued. Restore it from a "
                    "backup."), {"file": str(path), "number": number})
        )  # fmt: skip
    return gzip.decompress(data) if name.endswith(".gz") else data
