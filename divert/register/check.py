"""Whether all that was issued is still there and whole, said in sentences."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.inventory.issued_folder import FOLDER
from divert.register import kept
from divert.register.entries import Register, read_register
from divert.register.forks import apart, forks
from divert.register.issue import LOCK
from divert.register.lines import FILE, data_of, split, what_is_wrong
from divert.register.links import leading_out, stay_inside
from divert.register.lock import locked
from divert.register.lost import lost_numbers
from divert.register.mend import Mended, mend, mended


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check found: how many reports the register holds, and what is wrong with it.

    ``notes`` need nothing done; ``mendable``: :func:`mend_register` would put something right.
    """

    issued: int
    wrong: tuple[Text, ...]
    notes: tuple[Text, ...] = ()
    mendable: bool = False


def check_register(site_folder: Path) -> Checked:
    """Return what is wrong with a site's register and what it keeps; nothing is written.

    Raises CannotRun where the register is a link or a device.
    """
    wrong = leading_out(site_folder)
    if wrong:
        return Checked(0, tuple(wrong))
    read = split(data_of(site_folder / FILE))
    notes: list[Text] = []
    if read.wrong is not None:
        wrong.append(what_is_wrong(site_folder / FILE, *read.wrong))
    elif read.lines.torn:
        notes.append(
            Text(N_("The last {bytes} bytes of {file} are no whole line: a run was ended while it "
                    "wrote them, or the file was cut."),
                 {"bytes": len(read.lines.torn), "file": FILE})
        )  # fmt: skip
    other = apart(read.lines.lines, forks(site_folder))
    wrong += _of_forks(site_folder, other)
    better = mended(site_folder)
    try:
        register = read_register(site_folder)
    except CannotRun as damaged:
        if read.wrong is None:
            wrong.append(damaged.message)
        return Checked(0, tuple(wrong), tuple(notes), better.changes)
    wrong += _of_numbers(site_folder, register)
    wrong += _of_snapshots(site_folder, register)
    notes += _twice(register)
    notes += [
        Text(N_("{folder} was left by a run that was ended, or by an earlier version; nothing "
                "speaks of it."), {"folder": f"{FOLDER}/{name}"})
        for name in kept.left_over(site_folder)
    ]  # fmt: skip
    return Checked(len(register.entries), tuple(wrong), tuple(notes), _helps(better, wrong))


def mend_register(site_folder: Path) -> Mended:
    """Make a site's register whole from what is left of it; return what came back.

    The register as it was is kept in ``issued/.registers/``. Raises CannotRun.
    """
    stay_inside(site_folder)
    with locked(site_folder / LOCK):
        better = mended(site_folder)
        if better.changes:
            mend(site_folder, better)
    return better


def _helps(better: Mended, wrong: list[Text]) -> bool:
    return bool(wrong) and better.changes


def _of_forks(site_folder: Path, other: tuple[tuple[str, object], ...]) -> list[Text]:
    told = []
    for fork in forks(site_folder):
        count = sum(file == fork.file for file, _ in other)
        if count:
            told.append(
                Text(N_("{file} holds lines that register.jsonl lacks: {count}. Both are read; "
                        "--mend takes them into one register."),
                     {"file": fork.file, "count": count})
            )  # fmt: skip
        if fork.damaged:
            told.append(
                Text(N_("{file} cannot be read to its end; what can be read of it is."),
                     {"file": fork.file})
            )  # fmt: skip
    return told


def _of_numbers(site_folder: Path, register: Register) -> list[Text]:
    held, printed = lost_numbers(site_folder, register)
    told = [
        Text(N_("Report {number} is kept in issued/, but the register does not hold it."),
             {"number": number})
        for number in held
    ]  # fmt: skip
    told += [
        Text(N_("{file} bears the number {number}, which the register does not hold."),
             {"file": file, "number": number})
        for number, file in printed.items()
    ]  # fmt: skip
    return told


def _twice(register: Register) -> list[Text]:
    twice = sorted({e.number for e in register.entries
                    if sum(o.number == e.number for o in register.entries) > 1})  # fmt: skip
    return [
        Text(N_("Two machines issued a report under the number {number}; both are kept, and told "
                "apart by what they are."), {"number": number})
        for number in twice
    ]  # fmt: skip


def _of_snapshots(site_folder: Path, register: Register) -> list[Text]:
    """Return what is missing or changed of what was kept, a sentence for each file."""
    told = []
    for entry in register.entries:
        for name, sha256 in entry.fingerprints.items():
            if name in _NOT_KEPT:
                continue
            try:
                kept.check(site_folder, entry.number, name, sha256)
            except CannotRun as missing:
                told.append(missing.message)
    return told


_NOT_KEPT = ("evidence.xlsx", "record.json", "said")
