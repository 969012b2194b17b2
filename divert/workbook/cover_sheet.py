"""The cover: the report's figures in its own units and words, each a link to where it comes from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from divert.core.words import N_, Text
from divert.evidence.plan import SummaryLine
from divert.workbook.cells import (
    EVERY_FIGURE,
    FACTORS,
    FINDINGS,
    LEDGER,
    METHOD,
    SET_ASIDE,
    SUMMARY,
    Styles,
    put_text,
)
from divert.workbook.keys_sheet import VALUE_COLUMN, Opening

# What a figure is called on the cover, in the order told; what is not here stands on other sheets.
_FIGURES: tuple[tuple[str, str], ...] = (
    ("supplied.received", N_("Received from the sponsor's own sources")),
    ("supplied.diverted", N_("Diverted of the sponsor's own material")),
    ("supplied.net_avoided", N_("Greenhouse gases avoided with it, net")),
    ("supported.diverted", N_("Diverted through the sponsor's support")),
    ("supported.net_avoided", N_("Greenhouse gases avoided through it, net")),
    ("supported.share", N_("Share of the program that the sponsor pays for")),
    ("mass.received", N_("Received by the whole site")),
    ("mass.removed", N_("Contamination picked out")),
    ("mass.residue", N_("Residue screened out")),
    ("mass.not_claimed", N_("Received, not claimed")),
    ("mass.diverted", N_("Diverted from disposal by the whole site")),
    ("basis.weighed", N_("Share of received mass that was weighed")),
    ("emissions.landfill_avoided", N_("Landfill methane avoided, 100 years")),
    ("emissions.process", N_("Gases of composting")),
    ("emissions.fuel", N_("Fuel burned")),
    ("emissions.net_avoided", N_("Net greenhouse gases avoided")),
    ("cumulative.diverted", N_("Diverted since the site began")),
    ("same_period_last_year.diverted", N_("Diverted a year earlier")),
    ("diversion_rate.rate", N_("Diversion rate")),
    ("money.spent", N_("Spent")),
    ("money.sales", N_("Sales of product")),
    ("weeks.logged", N_("Weeks with entries")),
    ("rows.seen", N_("Entries seen in all files")),
    ("rows.set_aside", N_("Entries set aside")),
)
_SETS = {
    "period": N_("This period"),
    "total": N_("Total"),
    "earlier": N_("Before this period"),
    "before": N_("A year before"),
    "alike": N_("The same days as a year before"),
    "previous": N_("As reported before"),
}
_SHEETS: tuple[tuple[str, str], ...] = (
    (SUMMARY, N_("months, materials and sources in the report's own unit, and methane by year")),
    (LEDGER, N_("every load: its day, source and material, and how its mass was found")),
    (FACTORS, N_("densities and published numbers, each with its source")),
    (SET_ASIDE, N_("entries that could not be used, and why")),
    (FINDINGS, N_("questions about the records, and what was answered")),
    (METHOD, N_("how the figures are worked out, and the files they rest on")),
    (EVERY_FIGURE, N_("every figure with its formula, under the name that programs use")),
)
_FIRST = 1  # row of the opening lines


def write_cover(
    sheet: Any, opening: Opening, lines: Sequence[SummaryLine], rows: Mapping[tuple[str, str], int],
    look: Styles, language: str,
) -> None:  # fmt: skip
    """Write title, figures as printed with links to their formulas, and what each sheet holds.

    ``rows`` gives the row of each figure on the sheet of every figure, counted from 0.
    """

    def say(message: str) -> str:
        return Text(message).say(language)

    for place, width in enumerate((46, 20, 22, 24)):
        sheet.set_column(place, place, width)
    put_text(sheet, 0, 0, opening.title, look.title)
    for row, text in enumerate(opening.lines, start=_FIRST):
        put_text(sheet, row, 0, text)
    row = _FIRST + len(opening.lines) + 1
    for place, message in enumerate(
        (N_("Figure"), N_("Figures of"), N_("As printed"), N_("Where it comes from"))
    ):
        put_text(sheet, row, place, say(message), look.heading)
    heads = row
    by_key = {(line.set, line.path): line for line in lines}
    sets = list(dict.fromkeys(line.set for line in lines))
    for path, message in _FIGURES:
        for name in sets:
            line = by_key.get((name, path))
            if line is None or not line.printed:
                continue
            row += 1
            put_text(sheet, row, 0, say(message), look.wrapped)
            put_text(sheet, row, 1, say(_SETS.get(name, name)), look.text)
            put_text(sheet, row, 2, line.printed, look.wrapped)
            sheet.write_url(
                row,
                3,
                f"internal:'{EVERY_FIGURE}'!{VALUE_COLUMN}{rows[name, path] + 1}",
                string=say(N_("its formula")),
            )
    row += 2
    put_text(sheet, row, 0, say(N_("What the sheets hold")), look.heading)
    for name, message in _SHEETS:
        row += 1
        sheet.write_url(row, 0, f"internal:'{name}'!A1", string=name)
        put_text(sheet, row, 1, say(message), look.text)
    sheet.repeat_rows(heads)
