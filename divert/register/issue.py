"""Issuing a report: a number first, then the finished report kept and one line added.

A run that issues holds the register from the first number it takes to the last report it keeps:

    with issuing(site.folder) as book:
        said = Said("sponsor", "Two Oaks Credit Union", as_of, {"period": figures})
        number = book.number_for(said, workings)
        if number.already is None:
            ...make the PDF with number.text in it...
            book.issue(number, said, workings, pdf, evidence, record)
        else:
            pdf = issued_report(site.folder, number.already)
"""

from __future__ import annotations

import datetime as dt
import json
import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from divert.core.findings import CannotRun
from divert.core.version import __version__
from divert.core.words import N_, Text
from divert.figures.as_json import to_json
from divert.inventory.issued_folder import LEDGER, LINE
from divert.register import kept
from divert.register.entries import Entry, Register, read_register, to_line, with_line
from divert.register.lines import Line, append_line, made_line
from divert.register.links import stay_inside
from divert.register.lock import locked
from divert.register.lost import what_is_lost
from divert.register.machine import machine, suffix
from divert.register.same import Said, said_fingerprint

if TYPE_CHECKING:
    from divert.convert import Workings

LOCK = ".register.lock"
_IN_BRIEF = (
    "site", "period", "as_of", "sponsor", "rows", "mass", "not_claimed", "basis", "by_material",
    "emissions", "emissions_within", "supplied", "supported", "cumulative",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class IssueNumber:
    """The number a report is issued under; ``already`` where just this was issued before."""

    text: str
    already: Entry | None = None


class Issuing:
    """The register held open for one run; made by :func:`issuing`."""

    def __init__(self, site_folder: Path) -> None:
        self.site_folder = site_folder
        self.register: Register = read_register(site_folder)
        lost = what_is_lost(site_folder, self.register)
        if lost is not None:
            raise CannotRun(lost)
        kept.tidy(site_folder, {entry.number: entry for entry in self.register.entries})
        self._machine = machine(site_folder)
        self._taken: dict[int, int] = {}
        self._packed: tuple[Workings, dict[str, bytes]] | None = None

    @property
    def head(self) -> str:
        """Return the SHA-256 of the register's last line."""
        return self.register.lines.last_hash

    def number_for(self, said: Said, workings: Workings) -> IssueNumber:
        """Return the number to print: a new one, or the old one where nothing has changed.

        Raises CannotRun where the report withdraws a number that was never issued or is gone.
        """
        if said.withdraws is not None:
            _can_withdraw(self.register, said.withdraws)
            reader = self.register.get(said.withdraws)
            if (reader.audience, reader.name) != (said.audience, said.name):
                raise CannotRun(
                    Text(N_("Report {number} was issued to another reader ({name}); only a report "
                            "to the same reader can withdraw it."),
                         {"number": said.withdraws, "name": reader.name or reader.audience})
                )  # fmt: skip
        else:
            already = _unchanged(self.register, said, workings)
            if already is not None:
                return IssueNumber(already.number, already)
        year = said.as_of.year
        last = max((e.order for e in self.register.entries if e.number[:4] == str(year)), default=0)
        self._taken[year] = max(last, self._taken.get(year, 0)) + 1
        return IssueNumber(f"{year}-{self._taken[year]:04d}{self._suffix()}")

    def _suffix(self) -> str:
        """Return what keeps another machine's numbers apart from those of the one that began."""
        first = next((e.machine for e in self.register.entries if e.machine), self._machine)
        return "" if first == self._machine else f"-{suffix(self._machine)}"

    def issue(
        self, number: IssueNumber, said: Said, workings: Workings,
        pdf: bytes, evidence: bytes, record: bytes, page: bytes = b"",
    ) -> Entry:  # fmt: skip
        """Keep a finished report and enter it; on disk when this returns.

        ``pdf`` is the report as sent, with evidence and record inside; ``page`` its HTML, if one was
        made. Raises CannotRun where it cannot be written; the register is then as it was.
        """
        figures = {name: to_json(one) for name, one in said.figure_sets.items()}
        files = {
            kept.REPORT: pdf,
            **self._of_the_day(workings),
            kept.FIGURES: kept.packed(json.dumps(figures, ensure_ascii=False).encode()),
        }
        if page:
            files[kept.PAGE] = kept.packed(page)
        prints = kept.fingerprints(files)
        prints |= kept.fingerprints({"evidence.xlsx": evidence, "record.json": record})
        prints["said"] = said_fingerprint(said, workings.site)
        entry = Entry(
            number=number.text,
            issued=said.as_of,
            written=_now(),
            audience=said.audience,
            name=said.name,
            figures={name: _in_brief(one) for name, one in figures.items()},
            fingerprints=prints,
            inputs={i.file: i.sha256 for i in workings.reading.inputs},
            tool=__version__,
            withdraws=said.withdraws,
            machine=self._machine,
        )
        line = made_line(to_line(entry), self.head)
        kept.prepare(self.site_folder, number.text, {**files, LINE: line.raw})
        self._append(line)
        kept.settle(self.site_folder, number.text)
        return self.register.entries[-1]

    def _append(self, line: Line) -> None:
        lines = append_line(self.site_folder, self.register.lines, line)
        self.register = with_line(self.register, line, lines)

    def _of_the_day(self, workings: Workings) -> Mapping[str, bytes]:
        """Return what all reports of a run keep alike, packed once."""
        if self._packed is None or self._packed[0] is not workings:
            from divert.core.ledger_file import ledger_csv
            from divert.register.snapshot import factors_json, settings_json

            files = {
                LEDGER: kept.packed(ledger_csv(workings.reading.entries)),
                kept.SITE_FILE: workings.site.toml.encode(),
                kept.SETTINGS: kept.packed(settings_json(workings.site)),
                kept.FACTORS: kept.packed(factors_json(workings.factors)),
            }
            if workings.reading.plans:
                files[kept.PLANS] = workings.reading.plans.encode()
            self._packed = (workings, files)
        return self._packed[1]

    def withdraw(self, number: str, on: dt.date, reason: str) -> None:
        """Take an issued report back without replacing it. Raises CannotRun."""
        _can_withdraw(self.register, number)
        line = made_line(
            {"what": "withdrawn", "number": number, "on": on.isoformat(), "written": _now(),
             "reason": reason, "tool": __version__, "machine": self._machine}, self.head,
        )  # fmt: skip
        self._append(line)
        kept.keep_withdrawal(self.site_folder, number, line.raw)


@contextmanager
def issuing(site_folder: Path, wait_s: float = 20.0) -> Iterator[Issuing]:
    """Hold a site's register for issuing; one process at a time. Raises CannotRun."""
    stay_inside(site_folder)
    with locked(site_folder / LOCK, wait_s):
        yield Issuing(site_folder)


def withdraw(site_folder: Path, number: str, on: dt.date, reason: str = "") -> None:
    """Take an issued report back without replacing it. Raises CannotRun for an unknown number."""
    with issuing(site_folder) as book:
        book.withdraw(number, on, reason)


def issued_report(site_folder: Path, entry: Entry) -> bytes:
    """Return the PDF just as it was issued. Raises CannotRun where it is gone or was changed."""
    return kept.kept(site_folder, entry.number, kept.REPORT, entry.fingerprints[kept.REPORT])


def issued_page(site_folder: Path, entry: Entry) -> bytes | None:
    """Return the HTML just as it was issued, None where none was made then. Raises CannotRun."""
    sha256 = entry.fingerprints.get(kept.PAGE)
    return None if sha256 is None else kept.kept(site_folder, entry.number, kept.PAGE, sha256)


def as_issued(site_folder: Path, entry: Entry) -> Mapping[str, Mapping[str, Any]]:
    """Return the figures as an issued report said them, by set, with findings and factors."""
    data = kept.kept(site_folder, entry.number, kept.FIGURES, entry.fingerprints[kept.FIGURES])
    figures: Mapping[str, Mapping[str, Any]] = json.loads(data)
    return figures


def _can_withdraw(register: Register, number: str) -> None:
    register.get(number)
    if sum(entry.number == number for entry in register.entries) > 1:
        raise CannotRun(
            Text(N_("Two machines issued a report under the number {number}: neither can be "
                    "withdrawn by its number alone."), {"number": number})
        )  # fmt: skip
    if number in register.withdrawals:
        raise CannotRun(
            Text(N_("Report {number} was withdrawn already, on {day}."),
                 {"number": number, "day": register.withdrawals[number].on})
        )  # fmt: skip


def _unchanged(register: Register, said: Said, workings: Workings) -> Entry | None:
    """Return the last live entry for the same reader and period if it says just this."""
    period = said.figure_sets["period"].period
    for entry in reversed(register.live):
        same_reader = (entry.audience, entry.name) == (said.audience, said.name)
        if same_reader and (entry.label, entry.start, entry.end) == (
            period.label, period.start, period.end
        ):  # fmt: skip
            same = entry.fingerprints["said"] == said_fingerprint(said, workings.site)
            return entry if same else None
    return None


def _in_brief(figures: Mapping[str, Any]) -> dict[str, Any]:
    """Return the figures that a line carries; the kept file holds all of them."""
    brief = {k: figures[k] for k in _IN_BRIEF}
    if figures["supplied"] is not None:
        keys = ("share", "received", "diverted", "net_avoided")
        brief["supplied"] = {k: figures["supplied"][k] for k in keys}
    return brief


def _now() -> str:
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    now = (
        dt.datetime.fromtimestamp(int(epoch), dt.UTC)
        if epoch and epoch.isdecimal()
        else dt.datetime.now(dt.UTC)
    )
    return now.isoformat(timespec="seconds")
