"""The register as values: what was issued to whom, and what was taken back."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from divert.core.findings import CannotRun
from divert.core.words import N_, Text
from divert.register.as_written import check_line
from divert.register.lines import read_lines


@dataclass(frozen=True, slots=True)
class Entry:
    """One issued report.

    ``audience`` sponsor, grant or board; ``name`` the sponsor or grant, "" for the board;
    ``figures`` the main figures of each set it printed from, by the set's name ("period", "total"),
    as JSON; ``fingerprints`` the SHA-256 of each kept file, of the evidence, of the record and of
    all that was said; ``inputs`` those of the spreadsheets; ``issued`` the day it speaks from.
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
    """All entries in the order of issue, and the withdrawals by the number taken back."""

    entries: tuple[Entry, ...] = ()
    withdrawals: Mapping[str, Withdrawal] = field(default_factory=dict)
    torn: bool = False

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
    have = read_lines(site_folder)
    entries: list[Entry] = []
    withdrawals: dict[str, Withdrawal] = {}
    for place, line in enumerate(have.lines, start=1):
        try:
            if line["what"] == "issued":
                entry = _entry(line)
                entries.append(entry)
                if entry.withdraws:
                    withdrawals[entry.withdraws] = Withdrawal(
                        entry.withdraws, entry.issued, entry.number
                    )
            elif line["what"] == "withdrawn":
                on = dt.date.fromisoformat(line["on"])
                reason = str(line.get("reason", ""))
                withdrawals[line["number"]] = Withdrawal(line["number"], on, None, reason)
        except (AttributeError, LookupError, TypeError, ValueError) as error:
            raise CannotRun(
                Text(N_("{file}, line {line}, is not a line of a register. "
                        "Restore the file from a backup."),
                     {"file": str(site_folder / "register.jsonl"), "line": place})
            ) from error  # fmt: skip
    return Register(tuple(entries), withdrawals, have.torn)


def _entry(line: Mapping[str, Any]) -> Entry:
    if re.fullmatch(r"\d{4}-\d{4,}", line["number"]) is None:  # it names a folder
        raise ValueError(line["number"])
    check_line(line)
    return Entry(
        number=str(line["number"]),
        issued=dt.date.fromisoformat(line["issued"]),
        written=str(line["written"]),
        audience=str(line["audience"]),
        name=str(line["name"]),
        figures=dict(line["figures"]),
        fingerprints=dict(line["fingerprints"]),
        inputs=dict(line["inputs"]),
        tool=str(line["tool"]),
        withdraws=line.get("withdraws"),
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
        "withdraws": entry.withdraws,
    }
