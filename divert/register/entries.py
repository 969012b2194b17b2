"""The register as values: what was issued to whom, and what was taken back."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.register.as_written import check_line
from divert.register.forks import Fork, apart, forks, unwrapped
from divert.register.kept import NUMBER
from divert.register.lines import FILE, FIRST, MEND, Line, Lines, read_lines


@dataclass(frozen=True, slots=True)
class Entry:
    """One issued report.

    ``audience`` sponsor, grant or board; ``name`` the sponsor or grant, "" for the board;
    ``figures`` the main figures of each set it printed from, by the set's name ("period", "total"),
    as JSON; ``fingerprints`` the SHA-256 of each kept file, of the evidence, of the record and of
    all that was said; ``inputs`` those of the spreadsheets; ``issued`` the day it speaks from;
    ``machine`` which machine issued it (""  for an earlier version's); ``line`` the SHA-256 of its
    line.
    """

    number: str
    issued: dt.date
    written: str
    audience: str
    name: str
    figures: Mapping[str, Mapping[str, Any]]
    fingerprints: Mapping[str, str]
    inputs: Mapping[str, str]
    tool: str
    withdraws: str | None = None
    machine: str = ""
    line: str = ""

    @property
    def order(self) -> int:
        """Return the running number within the year."""
        return int(self.number.split("-")[1])

    @property
    def label(self) -> str:
        """Return the period's label."""
        return str(self.figures["period"]["period"]["label"])

    @property
    def start(self) -> dt.date:
        """Return the period's first day."""
        return dt.date.fromisoformat(self.figures["period"]["period"]["start"])

    @property
    def end(self) -> dt.date:
        """Return the period's last day."""
        return dt.date.fromisoformat(self.figures["period"]["period"]["end"])


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """A report taken back: on which day, why, and by which number where a report replaced it."""

    number: str
    on: dt.date
    replaced_by: str | None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Register:
    """All entries in the order of issue, and the withdrawals by the number taken back.

    ``lines`` are those of the file itself; ``forks`` the other copies that lie beside it, whose
    entries are among ``entries`` too.
    """

    entries: tuple[Entry, ...] = ()
    withdrawals: Mapping[str, Withdrawal] = field(default_factory=dict)
    lines: Lines = field(default_factory=lambda: Lines((), FIRST, 0))
    forks: tuple[Fork, ...] = ()

    @property
    def live(self) -> tuple[Entry, ...]:
        """Return the entries that were not taken back."""
        return tuple(e for e in self.entries if e.number not in self.withdrawals)

    def get(self, number: str) -> Entry:
        """Return an entry; raises CannotRun where the register has no such number."""
        for entry in self.entries:
            if entry.number == number:
                return entry
        raise CannotRun(
            Text(N_('No report was issued under the number "{number}". Issued so far: {known}.'),
                 {"number": number, "known": ", ".join(e.number for e in self.entries) or "—"})
        )  # fmt: skip


def read_register(site_folder: Path) -> Register:
    """Return the register of a site; empty where nothing was ever issued.

    Raises CannotRun where a line is damaged or was changed after it was written.
    """
    have, others = read_lines(site_folder), forks(site_folder)
    key = "" if others else f"{have.last_hash} {len(have.lines)}"
    if key in _KNOWN:
        return Register(*_KNOWN[key], have, others)
    all_lines = [unwrapped(line) for line in have.lines]
    other = [line for _, line in apart(have.lines, others)]
    if other or len({line.sha256 for line in all_lines}) < len(all_lines):
        all_lines = _by_time([*all_lines, *other])
    path = site_folder / FILE
    entries, withdrawals = _understood(all_lines, path)
    if key:
        _KNOWN.clear()
        _KNOWN[key] = entries, withdrawals
    return Register(entries, withdrawals, have, others)


# What the lines say that were read last, by the last one's fingerprint, which vouches for all before:
# a run that issues reads its register again and again, to be sure that nobody else wrote to it.
_KNOWN: dict[str, tuple[tuple[Entry, ...], dict[str, Withdrawal]]] = {}


def _by_time(lines: Iterable[Line]) -> list[Line]:
    """Return two histories as one, each line once, in the order in which they were written."""
    each = {line.sha256: line for line in lines}
    return sorted(each.values(), key=lambda line: str(line.says.get("written", "")))


def _understood(
    lines: Iterable[Line], path: Path
) -> tuple[tuple[Entry, ...], dict[str, Withdrawal]]:
    entries: list[Entry] = []
    withdrawals: dict[str, Withdrawal] = {}
    for place, line in enumerate(lines, start=1):
        try:
            entry, withdrawal = understood(line)
        except (AttributeError, LookupError, TypeError, ValueError) as error:
            raise CannotRun(
                Text(N_("{file}, line {line}, is not a line of a register. {mend}"),
                     {"file": str(path), "line": place,
                      "mend": Text(MEND, {"folder": str(path.parent)})})
            ) from error  # fmt: skip
        if entry is not None:
            entries.append(entry)
        if withdrawal is not None:
            withdrawals[withdrawal.number] = withdrawal
    return tuple(entries), withdrawals


def understood(line: Line) -> tuple[Entry | None, Withdrawal | None]:
    """Return what a line says: an issued report, a withdrawal, or both; of others, nothing.

    Raises AttributeError, LookupError, TypeError or ValueError where it is no line of a register.
    """
    says = line.says
    if says["what"] == "issued":
        entry = _entry(line)
        gone = entry.withdraws
        return entry, None if not gone else Withdrawal(gone, entry.issued, entry.number)
    if says["what"] == "withdrawn":
        on = dt.date.fromisoformat(says["on"])
        return None, Withdrawal(str(says["number"]), on, None, str(says.get("reason", "")))
    return None, None


def with_line(register: Register, line: Line, lines: Lines) -> Register:
    """Return a register with one line more; ``lines`` are those of the file with it."""
    entry, withdrawal = understood(line)
    entries = register.entries if entry is None else (*register.entries, entry)
    gone = dict(register.withdrawals)
    if withdrawal is not None:
        gone[withdrawal.number] = withdrawal
    return Register(entries, gone, lines, register.forks)


def _entry(line: Line) -> Entry:
    says = line.says
    if NUMBER.fullmatch(says["number"]) is None:  # it names a folder
        raise ValueError(says["number"])
    check_line(says)
    return Entry(
        number=str(says["number"]),
        issued=dt.date.fromisoformat(says["issued"]),
        written=str(says["written"]),
        audience=str(says["audience"]),
        name=str(says["name"]),
        figures=dict(says["figures"]),
        fingerprints=dict(says["fingerprints"]),
        inputs=dict(says["inputs"]),
        tool=str(says["tool"]),
        withdraws=says.get("withdraws"),
        machine=str(says.get("machine", "")),
        line=line.sha256,
    )


def to_line(entry: Entry) -> dict[str, Any]:
    """Return an entry as the JSON object of its line."""
    return {
        "what": "issued",
        "number": entry.number,
        "issued": entry.issued.isoformat(),
        "written": entry.written,
        "audience": entry.audience,
        "name": entry.name,
        "period": entry.figures["period"]["period"],
        "figures": entry.figures,
        "fingerprints": entry.fingerprints,
        "inputs": entry.inputs,
        "tool": entry.tool,
        "machine": entry.machine,
        "withdraws": entry.withdraws,
    }
