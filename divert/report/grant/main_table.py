"""The main table of a grant statement: previously reported, this period, total."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import (
    Cell,
    Group,
    Row,
    Table,
    between,
    parts_add_up,
    rounding_note,
)
from divert.report.grant.columns import Columns, StatementColumn

# What received divides into, in the order printed; a minus sign marks what is taken off.
_MASS = (
    ("mass.removed", N_("less contamination picked out")),
    ("mass.residue", N_("less residue screened out")),
    ("mass.not_claimed", N_("less what would not have been thrown away")),
    ("mass.diverted", N_("Diverted from disposal")),
)
_NOT_TOLD = N_("less what is not claimed")
_GASES = (
    ("emissions.landfill_avoided", N_("Landfill methane avoided, 100 years")),
    ("emissions.process", N_("less gases of composting")),
    ("emissions.fuel", N_("less fuel burned")),
)
_WITHIN = {"mass.diverted": "mass.received"}
_NOTHING = "–"


def main_table(columns: Columns, mass: Scale, printer: Printer, *, all_told: bool = True) -> Table:
    """Return the table; each figure is rounded by itself.

    ``all_told``: whether somebody said where all that is not claimed went before.
    """
    gases = gas_scale(columns.total, printer)
    adding = _adds_up(
        mass_lines(columns, mass, printer), gas_lines(columns, gases, printer), columns
    )
    return Table(
        caption=printer.say(Text(N_("Previously reported, this period and total"))),
        stub="",
        heads=tuple(printer.say(c.head) for c in columns.all),
        groups=(
            Group(
                _in_unit(N_("Mass, {unit}"), mass, printer),
                _mass_rows(columns, mass, printer, all_told),
            ),
            Group(
                _in_unit(N_("Greenhouse gases, {unit}"), gases, printer),
                _gas_rows(columns, gases, printer),
            ),
            Group(
                printer.say(Text(N_("How it is known"))),
                _known_rows(columns, printer),
            ),
        ),
        note=rounding_note(printer, adding),
    )


def _adds_up(masses: list[list[Printed]], gases: list[list[Printed]], columns: Columns) -> bool:
    """Return whether, as printed, lines come to their sums and columns to their total."""
    down = all(
        parts_add_up([line[j] for line in lines[1:]], lines[0][j], signs)
        for lines, signs in ((masses, [1] * len(_MASS)), (gases, [1, -1, -1]))
        for j in range(len(columns.shown))
    )
    return down and all(parts_add_up(line[:-1], line[-1]) for line in (*masses, *gases))


def _in_unit(message: str, scale: Scale, printer: Printer) -> Markup:
    return printer.say(Text(message, {"unit": printer.unit_in_full(scale.unit)}))


def mass_lines(columns: Columns, scale: Scale, printer: Printer) -> list[list[Printed]]:
    """Return received and what it divides into, in the order of the table."""
    return [
        [c.printed(path, scale, printer, within=_WITHIN.get(path, "")) for c in columns.shown]
        for path in ("mass.received", *(path for path, _ in _MASS))
    ]


def gas_lines(columns: Columns, scale: Scale, printer: Printer) -> list[list[Printed]]:
    """Return net avoided and what it is made of, in the order of the table."""
    paths = ("emissions.net_avoided", *(path for path, _ in _GASES))
    return [[c.printed(path, scale, printer) for c in columns.shown] for path in paths]


def gas_scale(total: StatementColumn, printer: Printer) -> Scale:
    """Return the scale of the gases: three digits of the largest of them."""
    return printer.scale("co2e", max(abs(total.value(f"{path}.central")) for path, _ in _GASES))


def _mass_rows(columns: Columns, scale: Scale, printer: Printer, all_told: bool) -> tuple[Row, ...]:
    printed = mass_lines(columns, scale, printer)
    rows = [Row(printer.say(Text(N_("Received"))), _cells(columns, printed[0]))]
    for (path, message), line in zip(_MASS, printed[1:], strict=True):
        kind = "total" if path == "mass.diverted" else ""
        if path == "mass.not_claimed" and not all_told:
            message = _NOT_TOLD
        rows.append(Row(printer.say(Text(message)), _cells(columns, line), kind))
    rows.append(_range_row(columns, "mass.diverted", scale, printer))
    return tuple(rows)


def _gas_rows(columns: Columns, scale: Scale, printer: Printer) -> tuple[Row, ...]:
    printed = gas_lines(columns, scale, printer)
    rows = [
        Row(printer.say(Text(message)), _cells(columns, line))
        for (_, message), line in zip(_GASES, printed[1:], strict=True)
    ]
    rows.append(
        Row(printer.say(Text(N_("Net greenhouse gases avoided"))), _cells(columns, printed[0]),
            "total")
    )  # fmt: skip
    rows.append(_range_row(columns, "emissions.net_avoided", scale, printer))
    return tuple(rows)


def _cells(columns: Columns, printed: Sequence[Printed]) -> tuple[Cell, ...]:
    waiting = iter(printed)
    return tuple(_NOTHING if c.empty else next(waiting) for c in columns.all)


def _range_row(columns: Columns, path: str, scale: Scale, printer: Printer) -> Row:
    cells: list[Cell] = []
    for column in columns.all:
        spread = None if column.empty else column.range(path)
        if spread is None:
            cells.append(_NOTHING if column.empty else "")
            continue
        whole = column.range(_WITHIN[path]) if path in _WITHIN else None
        printed = printer.range(column.key(path), spread, scale, within=whole)
        cells.append(between(printed, printer))
    return Row(printer.say(Text(N_("90\u202f% range"))), tuple(cells), "range")


def _known_rows(columns: Columns, printer: Printer) -> tuple[Row, ...]:
    """Return the weighed share and the weeks with entries, for the columns that are one set."""
    weighed: list[Cell] = []
    logged: list[Cell] = []
    for column in columns.all:
        if not column.ranged:
            nothing = _NOTHING if column.empty else ""
            weighed.append(nothing)
            logged.append(nothing)
            continue
        share = printer.share(column.key("basis.weighed"), column.value("basis.weighed"))
        weighed.append(printer.with_unit(share))
        if column.value("weeks.in_period"):
            values = {
                name: printer.count(column.key(f"weeks.{name}"), column.value(f"weeks.{name}"))
                for name in ("logged", "in_period")
            }
            logged.append(printer.say(Text(N_("{logged} of {in_period}"), values)))
        else:
            logged.append("")
    return (
        Row(printer.say(Text(N_("Share of received mass that was weighed"))), tuple(weighed)),
        Row(printer.say(Text(N_("Weeks with entries"))), tuple(logged)),
    )
