"""Files that are written whole or not at all, under names that cannot lead anywhere else."""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import re
import tempfile
import time
import unicodedata
from collections.abc import Iterable, Sequence
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text

_LONGEST_SLUG = 60
_STALE_SECONDS = 600
# Device names that Windows gives every folder, whatever the extension (Microsoft, "Naming Files,
# Paths, and Namespaces").
_RESERVED = {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(10))}


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that its name holds either the old bytes or all of the new ones.

    The bytes go to a temporary file in the same folder, are flushed to the disk, and take the name
    in one step. Missing parent folders are made. Raises CannotRun with one sentence where the
    folder cannot be written, the disk is full, or the file is held open elsewhere; the old file
    then stays.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _clear_stale_parts(path)
        _take_name(path, data, lasting=True)
    except OSError as problem:
        raise CannotRun(_what_to_do(path, problem)) from problem


def write_quickly(path: Path, data: bytes) -> None:
    """Write a file whole, for its owner alone, but not through to the disk; raises OSError.

    For what can be made again: after a loss of power the file may be there with wrong bytes.
    """
    _take_name(path, data, lasting=False)


def _take_name(path: Path, data: bytes, *, lasting: bool) -> None:
    handle, name = tempfile.mkstemp(".part", f".{path.name[:80]}.", path.parent)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            if lasting:
                file.flush()
                os.fsync(file.fileno())
        if lasting:
            _give_usual_mode(part, path)
        part.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink()
        raise
    if lasting:
        _flush_folder(path.parent)


def write_text(path: Path, text: str) -> None:
    """Write text as UTF-8, its line ends as they are, as :func:`write_whole` does bytes."""
    write_whole(path, text.encode("utf-8"))


def slug(name: str) -> str:
    """Return a name reduced to lower-case ASCII letters, digits and single hyphens, never empty.

    The result is at most 60 characters, holds no separator or dot, and is no reserved device name.
    A name with nothing left to show for it ("Ферма", "...") becomes ``name-`` and eight characters
    of its own fingerprint.
    """
    letters = unicodedata.normalize("NFKD", name).lower()
    plain = "".join(letter for letter in letters if not unicodedata.combining(letter))
    short = re.sub(r"[^a-z0-9]+", "-", plain)[:_LONGEST_SLUG].strip("-")
    if not short:
        return f"name-{_fingerprint(name)}"
    return f"{short}-file" if short in _RESERVED else short


def slugs_apart(names: Iterable[str]) -> dict[str, str]:
    """Return a slug for each distinct name, no two alike.

    The first of several names that reduce alike keeps the plain slug, the others gain eight
    characters of their own fingerprint. Give it every name of the site in the order of site.toml,
    so that a name's slug does not depend on which reports are made.
    """
    out: dict[str, str] = {}
    taken: set[str] = set()
    distinct = list(dict.fromkeys(names))
    plain = {slug(name) for name in distinct}
    for name in distinct:
        choice = slug(name)
        if choice in taken:
            choice = f"{choice}-{_fingerprint(name)}"
            while choice in taken or choice in plain:
                choice += "-x"
        taken.add(choice)
        out[name] = choice
    return out


def inside(folder: Path, path: Path) -> Path:
    """Return ``path`` if it lies in ``folder`` once every link is followed; CannotRun if not."""
    if not path.resolve().is_relative_to(folder.resolve()):
        raise CannotRun(
            Text(
                N_("{path} lies outside {folder}; nothing was written"),
                {"path": str(path), "folder": str(folder)},
            )
        )
    return path


# What a spreadsheet takes for the start of a formula, with the full-width forms that some versions
# accept as well (common practice; the tab, CR and LF because leading white space is trimmed).
_FORMULA_STARTS = tuple("=+-@\t\r\n＝＋－＠")


def as_text_cell(value: str) -> str:
    """Return text that no spreadsheet takes for a formula when it opens a CSV file.

    Text that begins (after spaces and apostrophes) with ``= + - @``, a tab or a line end gains one
    leading apostrophe; all other text is unchanged. :func:`text_of_cell` undoes it exactly: a
    reader takes one apostrophe off where the text after all its leading apostrophes and spaces
    begins with one of those characters. Numbers are written as numbers and need no guard.
    """
    return f"'{value}" if _starts_formula(value) else value


def text_of_cell(cell: str) -> str:
    """Return the text that :func:`as_text_cell` was given."""
    return cell[1:] if cell.startswith("'") and _starts_formula(cell) else cell


def csv_text(heading: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Return a CSV table (comma, CRLF, UTF-8 when written) with every text cell guarded and quoted.

    None and NaN are empty cells; numbers are written so that they read back to the same float.
    """
    import csv
    import io

    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_NONNUMERIC)
    for row in (heading, *rows):
        writer.writerow([_csv_cell(value) for value in row])
    return out.getvalue()


def _csv_cell(value: object) -> object:
    if isinstance(value, str):
        return as_text_cell(value)
    return None if value is None or value != value else value


def _starts_formula(text: str) -> bool:
    return text.lstrip("' \u00a0\u3000").startswith(_FORMULA_STARTS)


def _fingerprint(name: str) -> str:
    return hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:8]


def _clear_stale_parts(path: Path) -> None:
    # A run that was killed leaves its temporary file; ten minutes is longer than any write takes.
    prefix = f".{path.name[:80]}."
    before = time.time() - _STALE_SECONDS
    for entry in path.parent.iterdir():
        if entry.name.startswith(prefix) and entry.name.endswith(".part"):
            with contextlib.suppress(OSError):
                if entry.lstat().st_mtime < before:
                    entry.unlink()


def _give_usual_mode(part: Path, path: Path) -> None:
    # mkstemp makes files only their owner can read; a report is as open as any other new file.
    try:
        mode = path.stat().st_mode & 0o777
    except OSError:
        umask = os.umask(0)
        os.umask(umask)
        mode = 0o666 & ~umask
    with contextlib.suppress(OSError):
        part.chmod(mode)


def _flush_folder(folder: Path) -> None:
    with contextlib.suppress(OSError, AttributeError):  # not every platform can flush a folder
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _what_to_do(path: Path, problem: OSError) -> Text:
    values = {"path": str(path), "why": problem.strerror or str(problem)}
    if problem.errno in (errno.ENOSPC, errno.EDQUOT):
        return Text(
            N_("the disk is full: {path} was not written and the old file, if any, is unchanged"),
            values,
        )
    if isinstance(problem, PermissionError):
        return Text(
            N_("{path} cannot be written: close it if it is open elsewhere, or check the folder"),
            values,
        )
    return Text(N_("{path} cannot be written ({why})"), values)
