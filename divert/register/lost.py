"""Reports that were given away under numbers which the register does not hold."""

from __future__ import annotations

import heapq
import os
import re
from pathlib import Path

from divert.core.words import N_, Text
from divert.evidence.attachments import NUMBER_IN_PDF
from divert.register import kept
from divert.register.entries import Register, read_register
from divert.register.forks import apart
from divert.register.lines import FILE, MEND
from divert.register.links import REPORTS

_NUMBER = re.compile(NUMBER_IN_PDF.encode() + rb"\s*\((\d{4}-[\da-z-]{4,20})\)")
_MOST = 300  # reports looked at: the newest bear the highest numbers


def what_is_lost(site_folder: Path, register: Register) -> Text | None:
    """Return the sentence that stops an issue, None where every number is accounted for."""
    held, printed = lost_numbers(site_folder, register)
    values: dict[str, object] = {
        "register": str(site_folder / FILE), "mend": Text(MEND, {"folder": str(site_folder)}),
    }  # fmt: skip
    if held:
        return Text(
            N_("{register} lacks reports that were issued and are kept in issued/: {numbers}. "
               "Nothing was issued, for their numbers would be given away twice. {mend}"),
            values | {"numbers": ", ".join(held)},
        )  # fmt: skip
    if printed:
        number, file = next(iter(printed.items()))
        return Text(
            N_("{register} does not know the number {number}, which {file} bears. Nothing was "
               "issued: restore the register and issued/ from a backup, or move that file away if "
               "it is not this site's. {mend}"),
            values | {"number": number, "file": file},
        )  # fmt: skip
    return None


def not_in_the_register(site_folder: Path, *, issuing: bool) -> list[Text]:
    """Return what whoever makes reports should hear: copies beside the register, reports it lacks.

    An issue is refused over the second, so only other reports are told. Raises CannotRun where the
    register is damaged.
    """
    register = read_register(site_folder)
    told = [
        Text(N_("{file} beside register.jsonl is read as well: it holds lines that register.jsonl "
                "lacks. {mend}"),
             {"file": file, "mend": Text(MEND, {"folder": str(site_folder)})})
        for file in dict.fromkeys(f for f, _ in apart(register.lines.lines, register.forks))
    ]  # fmt: skip
    known = {entry.number for entry in register.entries}
    held = [number for number in kept.held_numbers(site_folder) if number not in known]
    if held and not issuing:
        told.append(
            Text(N_("{register} lacks reports that were issued and are kept in issued/: {numbers}; "
                    "what is said of earlier reports leaves them out. {mend}"),
                 {"register": str(site_folder / FILE), "numbers": ", ".join(held),
                  "mend": Text(MEND, {"folder": str(site_folder)})})
        )  # fmt: skip
    return told


def lost_numbers(site_folder: Path, register: Register) -> tuple[list[str], dict[str, str]]:
    """Return the lost numbers that ``issued/`` holds, and those that reports bear, with the report."""
    known = {entry.number for entry in register.entries}
    held = [number for number in kept.held_numbers(site_folder) if number not in known]
    printed = {
        number: file
        for file, number in _on_reports(site_folder)
        if number not in known and number not in held
    }
    return held, printed


def _on_reports(site_folder: Path) -> list[tuple[str, str]]:
    """Return the newest reports of a site with the numbers they say they bear."""
    paths: list[tuple[float, str]] = []
    for folder, _, names in os.walk(site_folder / REPORTS):
        for name in names:
            path = os.path.join(folder, name)  # noqa: PTH118 - many of them
            if name.endswith(".pdf") and not os.path.islink(path):  # noqa: PTH114
                try:
                    paths.append((os.stat(path).st_mtime, path))  # noqa: PTH116
                except OSError:
                    continue
    found = []
    for _, path in heapq.nlargest(_MOST, paths):
        number = _number_on(Path(path))
        if number is not None:
            found.append((Path(path).relative_to(site_folder).as_posix(), number))
    return found


def _number_on(path: Path) -> str | None:
    """Return the number that the file inside a report names, by its bytes alone: nothing is opened."""
    try:
        if not path.is_file():
            return None
        found = re.search(_NUMBER, path.read_bytes())
    except OSError:
        return None
    number = found[1].decode() if found else ""
    return number if kept.NUMBER.fullmatch(number) else None
