"""The proof line of every first page: walked back how, as of when, under which number, whom to ask."""

from __future__ import annotations

import datetime as dt

from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printer
from divert.site.model import Site


def proof_line(number: str, day: str, site: Site, printer: Printer) -> str:
    """Return the line; ``number`` is what the report is issued under, "" for a draft."""
    state = (
        Text(N_("Report {number}"), {"number": number}) if number else Text(N_("DRAFT, not issued"))
    )
    traced = (
        N_("Every pound can be walked back to its load: the workbook comes with this report.")
        if site.units == "us"
        else N_(
            "Every kilogram can be walked back to its load: the workbook comes with this report."
        )
    )
    said = [
        printer.plain(state),
        printer.plain(Text(N_("read {day}"), {"day": dt.date.fromisoformat(day)})),
        printer.plain(Text(traced)),
    ]
    if site.report.contact:
        said.append(printer.plain(Text(N_("Ask {contact}."), {"contact": site.report.contact})))
    return " · ".join(said)
