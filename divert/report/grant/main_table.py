"""The main table of a grant statement: previously reported, this period, total."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printed, PrintedRange, Printer
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import Cell, Group, Row, Table, between, marked, settle
from divert.figures.numbers.two_way import add_up_both_ways, add_up_to
from divert.report.grant.columns import Column, Columns

# What received divides into, in the order printed; a minus sign marks what is taken off.
_MASS = (
    ("mass.removed.central", N_("less contamination picked out")),
    ("mass.residue.central", N_("less residue screened out")),
    ("mass.not_claimed.central", N_("less what would not have been thrown away")),
    ("mass.diverted.central", N_("Diverted from disposal")),
)
_GASES = (
    ("emissions.landfill_avoided.central", 1, N_("Landfill methane avoided, 100 years")),
    ("emissions.process.central", -1, N_("less gases of composting")),
    ("emissions.fuel.central", -1, N_("less fuel burned")),
)
_NOTHING = "–"


def main_table(columns: Columns, mass: Scale, printer: Printer) -> Table:
    """Return the table; masses add up down and along, and so do the gases."""
    gases = gas_scale(columns.total, printer)
    return Table(
        caption=printer.say(Text(N_("Previously reported, this period and total"))),
        stub="",
        heads=tuple(printer.say(c.head) for c in columns.all),
        groups=(
            Group(_in_unit(N_("Mass, {unit}"), mass, printer), _mass_rows(columns, mass, printer)),
            Group(
                _in_unit(N_("Greenhouse gases, {unit}"), gases, printer),
                _gas_rows(columns, gases, printer),
            ),
            Group(
                printer.say(Text(N_("How it is known"))),
                _known_rows(columns, printer),
            ),
        ),
    )


def _in_unit(message: str, scale: Scale, printer: Printer) -> Markup:
    return printer.say(Text(message, {"unit": printer.unit_in_full(scale.unit)}))


def mass_lines(columns: Columns, scale: Scale, printer: Printer) -> list[list[Printed]]:
    """Return received and what it divides into, in the order of the table."""
    paths = [path for path, _ in _MASS]
    whole, lead = "mass.received.central", ["mass.diverted.central"]
    return both_ways(columns, whole, paths, [1] * len(paths), lead, scale, printer, "mass")


def gas_lines(columns: Columns, scale: Scale, printer: Printer) -> list[list[Printed]]:
    """Return net avoided and what it is made of, in the order of the table."""
    paths, signs = [path for path, _, _ in _GASES], [sign for _, sign, _ in _GASES]
    whole, lead = "emissions.net_avoided.central", ["emissions.landfill_avoided.central"]
    return both_ways(columns, whole, paths, signs, lead, scale, printer, "emissions")


def gas_scale(total: Column, printer: Printer) -> Scale:
    """Return the scale of the gases: three digits of the largest of them."""
    return printer.scale("co2e", max(abs(total.value(path)) for path, _, _ in _GASES))


def _mass_rows(columns: Columns, scale: Scale, printer: Printer) -> tuple[Row, ...]:
    printed = mass_lines(columns, scale, printer)
    rows = [Row(printer.say(Text(N_("Received"))), _cells(columns, printed[0]))]
    for (path, message), line in zip(_MASS, printed[1:], strict=True):
        kind = "total" if path == "mass.diverted.central" else ""
        rows.append(Row(printer.say(Text(message)), _cells(columns, line), kind))
    rows.append(_range_row(columns, "mass.diverted", scale, printer))
    return tuple(rows)


def _gas_rows(columns: Columns, scale: Scale, printer: Printer) -> tuple[Row, ...]:
    printed = gas_lines(columns, scale, printer)
    rows = [
        Row(printer.say(Text(message)), _cells(columns, line))
        for (_, _, message), line in zip(_GASES, printed[1:], strict=True)
    ]
    rows.append(
        Row(printer.say(Text(N_("Net greenhouse gases avoided"))), _cells(columns, printed[0]),
            "total")
    )  # fmt: skip
    rows.append(_range_row(columns, "emissions.net_avoided", scale, printer))
    return tuple(rows)


def both_ways(
    columns: Columns, whole: str, parts: Sequence[str], signs: Sequence[int], pinned: Collection[str],
    scale: Scale, printer: Printer, group: str,
) -> list[list[Printed]]:  # fmt: skip
    """Print a whole and its parts for every filled column and the total, adding up both ways.

    The first line is the whole's. A part with sign -1 is taken off, and printed without its sign.
    The whole and the ``pinned`` parts, which other tables show too, are rounded on their own in
    the total; the other parts make up the difference.
    """
    filled, total = columns.filled, columns.total
    whole_steps, whole_along = _along(columns, whole, 1, scale)
    totals, lines = {}, {}
    for path, sign in zip(parts, signs, strict=True):
        if path in pinned:
            totals[path], lines[path] = _along(columns, path, sign, scale)
    rest = [(p, s) for p, s in zip(parts, signs, strict=True) if p not in pinned]
    left = whole_steps - sum(totals.values())
    down = add_up_to([s * total.value(p) / scale.factor for p, s in rest], left, scale.quantum)
    columns_left = [n - sum(line[j] for line in lines.values()) for j, n in enumerate(whole_along)]
    cells = [[s * c.value(p) / scale.factor for c in filled] for p, s in rest]
    inner = add_up_both_ways(cells, down, columns_left, scale.quantum)
    totals |= {p: n for (p, _), n in zip(rest, down, strict=True)}
    lines |= {p: line for (p, _), line in zip(rest, inner, strict=True)}
    every, paths = (*filled, total), [whole, *parts]
    counted = [[*whole_along, whole_steps]] + [
        [sign * n for n in (*lines[path], totals[path])]
        for path, sign in zip(parts, signs, strict=True)
    ]
    return settle(
        printer,
        [[c.key(path) for c in every] for path in paths],
        [[c.value(path) for c in every] for path in paths],
        counted,
        scale,
        group,
    )


def _along(columns: Columns, path: str, sign: int, scale: Scale) -> tuple[int, list[int]]:
    """Return a total rounded on its own, and the columns rounded to come to it."""
    total = steps(sign * columns.total.value(path) / scale.factor, scale.quantum)
    cells = [sign * c.value(path) / scale.factor for c in columns.filled]
    return total, add_up_to(cells, total, scale.quantum)


def _cells(columns: Columns, printed: Sequence[Printed]) -> tuple[Cell, ...]:
    waiting = iter(printed)
    return tuple(_NOTHING if c.empty else marked(next(waiting)) for c in columns.all)


def _range_row(columns: Columns, path: str, scale: Scale, printer: Printer) -> Row:
    cells: list[Cell] = []
    for column in columns.all:
        spread = None if column.empty else column.range(path)
        if spread is None:
            cells.append(_NOTHING if column.empty else "")
            continue
        low = printer.one(column.key(f"{path}.low"), spread.low, scale)
        high = printer.one(column.key(f"{path}.high"), spread.high, scale)
        cells.append(between(PrintedRange(low, low, high), printer))
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
