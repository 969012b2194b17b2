"""The main table of a grant statement as a plain table for a clipboard or a portal's form."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from divert.mark import first_line
from divert.report.grant_columns import Columns, GrantFigures, columns
from divert.report.grant_table import gas_lines, gas_scale, mass_lines
from divert.report.history import History
from divert.report.printed import MINUS, Printed, Printer
from divert.report.scales import Scale
from divert.report.scope import site_scope
from divert.safe_files import as_text_cell
from divert.words import N_, Text

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


def grant_csv(figures: GrantFigures, history: History, printer: Printer) -> bytes:
    """Return the main table as UTF-8 CSV, its numbers as printed but plain: "1234.5".

    One line a figure, then the ends of its range; the first line carries the tool's mark.
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
    name = printer.plain(Text(N_("Share of received mass that was weighed")))
    weighed = [
        _plain(printer.share(c.key("basis.weighed"), c.value("basis.weighed")), printer)
        if c.ranged else ""
        for c in shown.all
    ]  # fmt: skip
    writer.writerow([name, "%", *weighed])
    return b"\xef\xbb\xbf" + out.getvalue().encode("utf-8")


def _figure(
    shown: Columns, path: str, message: str, printed: Sequence[Printed], scale: Scale,
    printer: Printer,
) -> list[list[str]]:  # fmt: skip
    name, unit = printer.plain(Text(message)), printer.unit_in_full(scale.unit)
    waiting = iter(printed)
    rows = [[name, unit, *("" if c.empty else _plain(next(waiting), printer) for c in shown.all)]]
    for end, of_range in (
        ("low", N_("{figure}: low end of the 90\u202f% range")),
        ("high", N_("{figure}: high end of the 90\u202f% range")),
    ):
        cells = []
        for column in shown.all:
            spread = None if column.empty else column.range(path)
            figure = None if spread is None else printer.one(
                column.key(f"{path}.{end}"), getattr(spread, end), scale
            )  # fmt: skip
            cells.append("" if figure is None else _plain(figure, printer))
        rows.append([printer.plain(Text(of_range, {"figure": name})), unit, *cells])
    return rows


def _plain(figure: Printed, printer: Printer) -> str:
    """Return a figure as it is printed, in the writing that programs read."""
    from babel.numbers import parse_decimal

    return str(parse_decimal(figure.text.replace(MINUS, "-"), locale=printer.language))
