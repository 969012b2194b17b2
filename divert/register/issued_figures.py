"""What issued reports said of a period: for scripts and for the screen."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Any

from divert.core.findings import CannotRun
from divert.core.period import read_period
from divert.core.words import N_, Text
from divert.register.entries import Entry, Register, read_register
from divert.register.issue import as_issued
from divert.site.model import Site

if TYPE_CHECKING:
    from divert.figures.numbers.printed import PrintedRange

_READERS = {"sponsor": N_("sponsor"), "grant": N_("grant"), "board": N_("board")}
_TOLD = (
    ("mass.received", "mass", N_("Received: {value} {unit} ({low} to {high})")),
    ("mass.diverted", "mass", N_("Diverted: {value} {unit} ({low} to {high})")),
    ("supplied.diverted", "mass", N_("Supplied, diverted: {value} {unit} ({low} to {high})")),
    ("supported.diverted", "mass", N_("Supported, diverted: {value} {unit} ({low} to {high})")),
    ("emissions.net_avoided", "co2e", N_("Net avoided: {value} {unit} ({low} to {high})")),
    ("supplied.net_avoided", "co2e", N_("Supplied, net avoided: {value} {unit} ({low} to {high})")),
    (
        "supported.net_avoided",
        "co2e",
        N_("Supported, net avoided: {value} {unit} ({low} to {high})"),
    ),
)


def as_issued_json(site: Site, period: str, sponsor: str | None = None) -> dict[str, Any]:
    """Return every issued report of a period with its figures, oldest first.

    Raises CannotRun where none was issued.
    """
    register = read_register(site.folder)
    found = _of_period(register, site, period, sponsor)
    gone = register.withdrawals
    return {
        "site": site.name,
        "issued": [
            {
                "number": entry.number,
                "issued": entry.issued.isoformat(),
                "audience": entry.audience,
                "name": entry.name,
                "label": entry.label,
                "start": entry.start.isoformat(),
                "end": entry.end.isoformat(),
                "withdrawn": gone[entry.number].on.isoformat() if entry.number in gone else None,
                "replaced_by": gone[entry.number].replaced_by if entry.number in gone else None,
                "figures": as_issued(site.folder, entry),
            }
            for entry in found
        ],
    }


def as_issued_lines(site: Site, period: str, sponsor: str | None = None) -> list[Text]:
    """Return the main figures of every issued report of a period, as sentences.

    Raises CannotRun where none was issued.
    """
    register = read_register(site.folder)
    gone = register.withdrawals
    out = []
    for entry in _of_period(register, site, period, sponsor):
        values: dict[str, object] = {
            "number": entry.number, "day": entry.issued, "label": entry.label,
            "reader": Text(_READERS[entry.audience]), "name": entry.name,
            "start": entry.start, "end": entry.end,
        }  # fmt: skip
        issued = (
            N_("{number}, {reader} {name}, {label} ({start} to {end}): issued {day}")
            if entry.name
            else N_("{number}, {reader}, {label} ({start} to {end}): issued {day}")
        )  # fmt: skip
        out.append(Text(issued, values))
        if entry.number in gone:
            day, instead = gone[entry.number].on, gone[entry.number].replaced_by
            withdrawn = (
                N_("  Withdrawn on {day}; {number} took its place")
                if instead
                else N_("  Withdrawn on {day}")
            )
            out.append(Text(withdrawn, {"day": day, "number": instead or ""}))
        out += [Text("  {line}", {"line": line}) for line in _figures(entry, site)]
    return out


def _of_period(register: Register, site: Site, period: str, sponsor: str | None) -> list[Entry]:
    asked = [e for e in register.entries if sponsor is None or e.name == sponsor]
    # By its days and not by its label: 2025-Q1 is another quarter once the year begins elsewhere.
    days = read_period(period, as_of=dt.date.max, started=site.started,
                       year_starts=site.year_starts)  # fmt: skip
    # A period that had not ended was issued up to the day it was issued.
    found = [
        e for e in asked if e.start == days.start and e.end in (days.end, min(days.end, e.issued))
    ]
    if not found:
        known = ", ".join(dict.fromkeys(f"{e.label} ({e.start}/{e.end})" for e in asked)) or "—"
        raise CannotRun(
            Text(N_("No report of {period} was issued. Issued so far: {known}."),
                 {"period": period, "known": known})
        )  # fmt: skip
    return found


def _figures(entry: Entry, site: Site) -> list[Text]:
    from divert.core.range import Range
    from divert.figures.figure_path import get
    from divert.figures.numbers.printed import Printer

    printer = Printer(site.language, site.units, country=site.country)
    issued = as_issued(site.folder, entry)["period"]
    total = float(issued["mass"]["received"]["central"])
    lines = []
    for path, kind, message in _TOLD:
        found = get(issued, path)
        if found is None:
            continue
        whole = total if kind == "mass" else found["central"]
        printed: PrintedRange = printer.range(
            path, Range(**found), printer.scale(kind, whole)  # type: ignore[arg-type]
        )  # fmt: skip
        lines.append(
            Text(message, {"value": printed.central.text, "low": printed.low.text,
                           "high": printed.high.text,
                           "unit": printer.unit_in_full(printed.central.unit)})
        )  # fmt: skip
    return lines
