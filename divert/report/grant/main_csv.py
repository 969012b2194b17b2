"""The main table of a grant statement as a plain table for a clipboard or a portal's form."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from divert.core.mark import first_line
from divert.core.safe_files import as_text_cell
from divert.core.words import N_, Text
from divert.figures.history import History
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.written import MINUS
from divert.report.grant.columns import Columns, GrantFigures, StatementColumn, columns
from divert.report.grant.main_table import gas_lines, gas_scale, mass_lines
from divert.report.sponsor.scope import site_scope

# (path of the range, what it is called, its place among the lines of the table)
_MASS = (
    ("mass.received", N_("Received"), 0),
    ("mass.removed", N_("Contamination picked out"), 1),
    ("mass.residue", N_("Residue screened out"), 2),
    ("mass.not_claimed", N_("Not claimed"), 3),
    ("mass.diverted", N_("Diverted"), 4),
)
_GASES = (
    ("emissions.landfill_avoided", N_("Landfill methane avoided"), 1),
    ("emissions.process", N_("Gases of composting"), 2),
    ("emissions.fuel", N_("Fuel burned"), 3),
    ("emissions.net_avoided", N_("Net greenhouse gases avoided"), 0),
)

_RANGED = ("mass.diverted", "emissions.net_avoided")


def grant_csv(figures: GrantFigures, history: History, printer: Printer) -> bytes:
    """Return the main table as UTF-8 CSV, its numbers as printed but plain: "1234.5".

    One line a figure; diverted and net gases are followed by the ends of their ranges, as on the
    page. The first line carries the tool's mark, the second heads the columns.
    """
    shown = columns(figures, history.previously)
    mass = site_scope(figures.total, printer).scale
    gases = gas_scale(shown.total, printer)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([first_line("grant")])
    heads = (Text(N_("Figure")), Text(N_("Unit")), *(c.head for c in shown.all))
    writer.writerow([as_text_cell(printer.plain(head)) for head in heads])
    for lines, printed, scale in (
        (_MASS, mass_lines(shown, mass, printer), mass),
        (_GASES, gas_lines(shown, gases, printer), gases),
    ):
        for path, message, place in lines:
            for row in _figure(shown, path, message, printed[place], scale, printer):
                writer.writerow(row)
    for message, unit, path in (
        (N_("Share of received mass that was weighed"), "%", "basis.weighed"),
        (N_("Weeks with entries"), "", "weeks.logged"),
        (N_("Weeks in all"), "", "weeks.in_period"),
    ):
        cells = [_known(column, path, unit, printer) for column in shown.all]
        writer.writerow([printer.plain(Text(message)), unit, *cells])
    return b"\xef\xbb\xbf" + out.getvalue().encode("utf-8")


def _known(column: StatementColumn, path: str, unit: str, printer: Printer) -> str:
    """Return a share or a count of a column that is one set of figures; "" for the others."""
    if not column.ranged:
        return ""
    write = printer.share if unit else printer.count
    return _plain(write(column.key(path), column.value(path)), printer)


def _figure(
    shown: Columns, path: str, message: str, printed: Sequence[Printed], scale: Scale,
    printer: Printer,
) -> list[list[str]]:  # fmt: skip
    name, unit = printer.plain(Text(message)), printer.unit_in_full(scale.unit)
    waiting = iter(printed)
    rows = [[name, unit, *("" if c.empty else _plain(next(waiting), printer) for c in shown.all)]]
    if path not in _RANGED:
        return rows
    for end, of_range in (
        ("low", N_("{figure}: low end of the 90\u202f% range")),
        ("high", N_("{figure}: high end of the 90\u202f% range")),
    ):
        cells = []
        for column in shown.all:
            spread = None if column.empty else column.range(path)
            ranged = None if spread is None else printer.range(column.key(path), spread, scale)
            cells.append("" if ranged is None else _plain(getattr(ranged, end), printer))
        rows.append([printer.plain(Text(of_range, {"figure": name})), unit, *cells])
    return rows


def _plain(figure: Printed, printer: Printer) -> str:
    """Return a figure as it is printed, in the writing that programs read; "<1" where under one."""
    from babel.numbers import parse_decimal

    number = "".join(c for c in figure.text.replace(MINUS, "-") if not c.isalpha()).strip()
    sign = "" if number == figure.text.replace(MINUS, "-") or figure.value < 0 else "<"
    if figure.unit == "%" and figure.value > 0.5 and sign:
        sign = ">"
    return sign + str(parse_decimal(number, locale=printer.language))
