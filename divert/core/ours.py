"""Whether a file carries this tool's mark: what does not is the user's, and is never written over."""

from __future__ import annotations

import csv
import zipfile
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.mark import MARK, marked_rows
from divert.core.words import N_, Text

_HEAD_BYTES = 65_536
MAIL_HEADER = "X-Divert-Mark"


def never_over_others(path: Path) -> None:
    """Raise CannotRun where a file of this name is there already and this tool did not write it."""
    if path.is_symlink() or (path.exists() and not carries_mark(path)):
        raise CannotRun(
            Text(
                N_("{path} is there already and divert did not write it, so it is left as it is. "
                   "Choose another name or folder, or move it away."),
                {"path": str(path)},
            )
        )  # fmt: skip


def carries_mark(path: Path) -> bool:
    """Return whether this tool wrote a file, by what is in it; False where that cannot be read."""
    tests = {
        ".pdf": _pdf, ".html": _page, ".csv": _table, ".xlsx": _workbook, ".eml": _mail,
    }  # fmt: skip
    test = tests.get(path.suffix.lower())
    try:
        return test is not None and path.is_file() and test(path)
    except (OSError, ValueError, csv.Error, zipfile.BadZipFile, KeyError, RuntimeError):
        return False


def _pdf(path: Path) -> bool:
    data = path.read_bytes()
    return b"<xmp:CreatorTool>divert</xmp:CreatorTool>" in data and data.startswith(b"%PDF")


def _page(path: Path) -> bool:
    return b'<meta name="generator" content="divert">' in _head(path)


def _table(path: Path) -> bool:
    lines = _head(path).decode("utf-8-sig", "replace").splitlines()[:1]
    return marked_rows(csv.reader(lines))


def _workbook(path: Path) -> bool:
    with zipfile.ZipFile(path) as archive:
        part = archive.getinfo("docProps/custom.xml")
        if part.file_size > _HEAD_BYTES:
            return False
        return f'name="{MARK}"'.encode() in archive.read(part)


def _mail(path: Path) -> bool:
    head = _head(path)
    # The drafts of earlier versions had no mark but this.
    earlier = b"X-Unsent: 1" in head and b'filename="sponsor-' in head
    return earlier or MAIL_HEADER.encode() in head.partition(b"\n\n")[0]


def _head(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(_HEAD_BYTES)
