"""The main table of a grant statement as a plain table for a clipboard or a portal's form."""

from __future__ import annotations

import csv
import io

from divert.mark import first_line
from divert.report.grant_columns import Column, Columns
from divert.report.printed import Printer
from divert.report.rounding import steps
from divert.report.scales import Scale
from divert.safe_files import as_text_cell
from divert.words import N_, Text

_LINES = (
    ("mass.received", N_("Received")),
    ("mass.removed", N_("Contamination picked out")),
    ("mass.residue", N_("Residue screened out")),
    ("mass.not_claimed", N_("Not claimed")),
    ("mass.diverted", N_("Diverted")),
)
_GASES = (
    ("emissions.landfill_avoided", N_("Landfill methane avoided")),
    ("emissions.process", N_("Gases of composting")),
    ("emissions.fuel", N_("Fuel burned")),
    ("emissions.net_avoided", N_("Net greenhouse gases avoided")),
)


def main_table_csv(columns: Columns, printer: Printer) -> bytes:
    """Return the table as UTF-8 CSV: one line a figure and end of its range, plain numbers.

    Numbers have a point and no thousands separators; the first line carries the tool's mark.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([first_line("grant")])
    heads = [printer.plain(c.head) for c in columns.all]
    writer.writerow(
        [as_text_cell(cell) for cell in (printer.plain(Text(N_("Figure"))), printer.plain(
            Text(N_("Unit"))), *heads)]
    )  # fmt: skip
    total = columns.total
    mass = printer.scale("mass", total.value("mass.received.central"))
    gases = printer.scale("co2e", max(abs(total.value(f"{p}.central")) for p, _ in _GASES))
    for lines, scale in ((_LINES, mass), (_GASES, gases)):
        for path, message in lines:
            name, unit = printer.plain(Text(message)), printer.unit_in_full(scale.unit)
            writer.writerow(
                [name, unit, *(_number(c, f"{path}.central", scale) for c in columns.all)]
            )
            for end, of_range in (
                ("low", N_("{figure}, low end of the 90 % range")),
                ("high", N_("{figure}, high end of the 90 % range")),
            ):
                row_name = printer.plain(Text(of_range, {"figure": name}))
                cells = [
                    _number(c, f"{path}.{end}", scale) if c.ranged else "" for c in columns.all
                ]
                writer.writerow([row_name, unit, *cells])
    share = printer.plain(Text(N_("Share of received mass that was weighed")))
    writer.writerow(
        [share, "%", *(_number(c, "basis.weighed", Scale("%", 1.0)) if c.ranged else ""
                       for c in columns.all)]
    )  # fmt: skip
    return b"\xef\xbb\xbf" + out.getvalue().encode("utf-8")


def _number(column: Column, path: str, scale: Scale) -> str:
    if column.empty:
        return ""
    count = steps(column.value(path) / scale.factor, scale.quantum)
    return f"{count * scale.quantum:.{scale.decimals}f}"
