"""A report against the register of the site that issued it: is this the file that was sent?"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from divert.core.words import N_, Text
from divert.recheck.opening import Opened
from divert.register.entries import Entry, Register, read_register
from divert.register.forks import unwrapped
from divert.register.kept import REPORT
from divert.register.lines import FIRST


@dataclass(frozen=True, slots=True)
class RegisterCheck:
    """What the register says of a report; ``agrees`` where it is the very file that was issued."""

    agrees: bool
    said: tuple[Text, ...]
    withdrawn: bool = False


def compare_register(folder: Path, opened: Opened, number: str | None) -> RegisterCheck:
    """Return whether a report is byte for byte what a site issued under its number.

    Raises CannotRun where the register cannot be read.
    """
    register = read_register(folder)
    by_hash = [e for e in register.entries if e.fingerprints.get(REPORT) == opened.sha256]
    entry = next((e for e in register.entries if e.number == number), None)
    if by_hash:
        found = by_hash[0]
        said = [Text(N_("The register has this very file as {number}, issued {day}."),
                     {"number": found.number, "day": found.issued})]  # fmt: skip
        gone = register.withdrawals.get(found.number)
        if gone is not None:
            said.append(Text(N_("It was withdrawn on {day}."), {"day": gone.on}))
            if gone.replaced_by is not None:
                said.append(
                    Text(N_("Report {number} took its place."), {"number": gone.replaced_by})
                )
        if not _witnessed(register, opened):
            said.append(
                Text(N_("But the line that stood last in the register when it was made is there no "
                        "more: the register was replaced or written anew."))
            )  # fmt: skip
            return RegisterCheck(False, tuple(said), gone is not None)
        return RegisterCheck(True, tuple(said), gone is not None)
    if number is None:
        text = N_("The report carries no number, and the register knows no such file: it was not "
                  "issued, or it was changed.")  # fmt: skip
        return RegisterCheck(False, (Text(text),))
    if entry is None:
        text = N_("The register has no report under {number}.")
        return RegisterCheck(False, (Text(text, {"number": number}),))
    return RegisterCheck(False, _what_differs(entry, opened))


def _witnessed(register: Register, opened: Opened) -> bool:
    """Return whether the register still holds the line that a report bears witness to."""
    head = opened.record.get("head")
    if head is None or head == FIRST:
        return True
    lines = register.lines.lines
    every = {line.sha256 for line in lines} | {unwrapped(line).sha256 for line in lines}
    every |= {line.sha256 for fork in register.forks for line in fork.lines}
    return head in every


def _what_differs(entry: Entry, opened: Opened) -> tuple[Text, ...]:
    said = [
        Text(N_("This is not the file that was issued as {number} on {day}."),
             {"number": entry.number, "day": entry.issued})
    ]  # fmt: skip
    if entry.fingerprints.get("evidence.xlsx") != opened.evidence_sha256:
        said.append(Text(N_("Its evidence workbook is another one.")))
    if entry.fingerprints.get("record.json") != opened.record_sha256:
        said.append(Text(N_("Its record is another one.")))
    if len(said) == 1:
        said.append(
            Text(N_("Its evidence and record are those that were issued; the pages, or the file "
                    "around them, were changed or saved again."))
        )  # fmt: skip
    return tuple(said)
