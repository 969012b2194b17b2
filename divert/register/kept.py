"""What is kept of the day of issue: ``issued/<number>/``, written whole, never rewritten.

A snapshot lies under another name until its line is in the register and on the disk. So a folder
that bears a number proves that the number was given away, whatever became of the register.
"""

from __future__ import annotations

import contextlib
import gzip
import hashlib
import os
import re
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.safe_files import write_whole
from divert.core.words import N_, Text
from divert.inventory.issued_folder import FOLDER
from divert.register.lines import sync_folder

REPORT = "report.pdf"
PAGE = "report.html.gz"
SITE_FILE = "site.toml"
PLANS = "reading.toml"  # how each sheet was read, where that was kept
SETTINGS = "settings.json.gz"  # site.toml as it was understood
FACTORS = "factors.json.gz"
FIGURES = "figures.json.gz"
NUMBER = re.compile(r"\d{4}-\d{4,}(?:-[a-z]{3})?")
UNFINISHED = ".unfinished-"
LEFT_OVER = ".left-over-"  # what earlier versions put aside


def fingerprints(files: Mapping[str, bytes]) -> dict[str, str]:
    """Return the SHA-256 of each file by its name."""
    return {name: hashlib.sha256(data).hexdigest() for name, data in sorted(files.items())}


def packed(data: bytes) -> bytes:
    """Return data compressed, the same bytes for the same data on any day."""
    return gzip.compress(data, compresslevel=6, mtime=0)


def prepare(site_folder: Path, number: str, files: Mapping[str, bytes]) -> None:
    """Put the files of one report on disk, not yet under its number; call it with the lock."""
    issued = site_folder / FOLDER
    unfinished = issued / f"{UNFINISHED}{number}"
    try:
        issued.mkdir(exist_ok=True)
        if unfinished.exists():
            shutil.rmtree(unfinished)
        unfinished.mkdir()
        for name, data in files.items():
            with (unfinished / name).open("xb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
        sync_folder(unfinished)
        sync_folder(issued)
    except OSError as error:
        with contextlib.suppress(OSError):
            shutil.rmtree(unfinished)
        raise CannotRun(
            Text(N_("I could not keep the issued report in {folder}: {reason}. "
                    "Nothing was issued."),
                 {"folder": str(issued / number), "reason": error.strerror or ""})
        ) from error  # fmt: skip


def settle(site_folder: Path, number: str) -> None:
    """Give a prepared snapshot its number, once its line is in the register.

    Where the name cannot be given now it is at the next issue; what is kept is found meanwhile.
    """
    issued = site_folder / FOLDER
    with contextlib.suppress(OSError):
        (issued / f"{UNFINISHED}{number}").rename(issued / number)
        sync_folder(issued)


def keep_withdrawal(site_folder: Path, number: str, line: bytes) -> None:
    """Keep the line of a withdrawal beside the report it takes back: the register has it already."""
    count = len(list((site_folder / FOLDER).glob(f"{number}.withdrawn*.json")))
    with contextlib.suppress(OSError, CannotRun):
        write_whole(site_folder / FOLDER / f"{number}.withdrawn-{count + 1}.json", line)


def kept_lines(site_folder: Path) -> Iterator[tuple[str, bytes]]:
    """Yield the register's lines that lie in ``issued/``, each with the number it is kept under."""
    issued = site_folder / FOLDER
    for folder in _named(site_folder, ""):
        number = folder.name  # not of an unfinished one: its line was never in the register
        if NUMBER.fullmatch(number):
            for path in sorted(folder.glob("line*.json")):
                with contextlib.suppress(OSError):
                    yield number, path.read_bytes()
    for path in sorted(issued.glob("*.withdrawn*.json")):
        with contextlib.suppress(OSError):
            yield path.name.split(".")[0], path.read_bytes()


def tidy(site_folder: Path, numbers: Mapping[str, object]) -> None:
    """Settle or clear away what killed runs left; ``numbers`` are the register's.

    Call it with the lock, and only where the register is whole.
    """
    for left in list(_named(site_folder, UNFINISHED)):
        number = left.name.removeprefix(UNFINISHED)
        if number in numbers:
            settle(site_folder, number)
        else:  # no line was ever written for it: nobody was given this report
            shutil.rmtree(left, ignore_errors=True)


def held_numbers(site_folder: Path) -> list[str]:
    """Return the numbers that folders in ``issued/`` bear, in order."""
    return sorted(p.name for p in _named(site_folder, "") if NUMBER.fullmatch(p.name))


def _named(site_folder: Path, beginning: str) -> Iterator[Path]:
    try:
        paths = sorted((site_folder / FOLDER).iterdir())
    except OSError:
        return
    for path in paths:
        if path.name.startswith(beginning) and path.is_dir() and not path.is_symlink():
            yield path


def left_over(site_folder: Path) -> list[str]:
    """Return the folders that no number names: what a killed run or an earlier version left."""
    return [p.name for p in _named(site_folder, ".") if p.name.startswith((UNFINISHED, LEFT_OVER))]


def kept(site_folder: Path, number: str, name: str, sha256: str) -> bytes:
    """Return one kept file, unpacked; raises CannotRun where it is gone or not as it was issued."""
    data = check(site_folder, number, name, sha256)
    return gzip.decompress(data) if name.endswith(".gz") else data


def check(site_folder: Path, number: str, name: str, sha256: str) -> bytes:
    """Return the bytes of one kept file. Raises CannotRun as :func:`kept` does.

    It is known by its fingerprint: a sync service may have put it beside another machine's file of
    the same name.
    """
    problem: OSError | None = None
    there = False
    for path in _places(site_folder / FOLDER, number, name):
        try:
            data = path.read_bytes()
        except OSError as error:
            problem = problem or error
            continue
        there = True
        if hashlib.sha256(data).hexdigest() == sha256:
            return data
    path = site_folder / FOLDER / number / name
    if there:
        raise CannotRun(
            Text(N_("{file} is not as it was when report {number} was issued. Restore it from a "
                    "backup."), {"file": str(path), "number": number})
        )  # fmt: skip
    raise CannotRun(
        Text(N_("{file} cannot be read: {reason}. The register needs it to compare with; "
                "restore it from a backup."),
             {"file": str(path), "reason": (problem.strerror if problem else None) or ""})
    ) from problem  # fmt: skip


def _places(issued: Path, number: str, name: str) -> Iterator[Path]:
    """Yield where a kept file may lie: its own place first."""
    yield issued / number / name
    yield issued / f"{UNFINISHED}{number}" / name
    stem, _, ending = name.partition(".")
    with contextlib.suppress(OSError):
        for folder in sorted(issued.iterdir()):
            if number in folder.name and folder.is_dir() and not folder.is_symlink():
                for path in sorted(folder.iterdir()):
                    if path.name.startswith(stem) and path.name.endswith(ending):
                        yield path
