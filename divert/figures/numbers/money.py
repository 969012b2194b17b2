"""What was spent, earned and saved, as the lines of a table."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from divert.core.words import N_, Text
from divert.figures.contract import Figures, Money
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Kind, Scale
from divert.figures.numbers.tables import Row

_PER_TON = "spent_per_tonne"
# By the path within money: what the line is called, its kind, and where it is read.
_LINES: dict[str, tuple[str, Kind, Callable[[Money], float | None]]] = {
    "disposal_fee_avoided.central": (
        N_("Disposal fees the givers saved, at the stated fee"), "money",
        lambda m: None if m.disposal_fee_avoided is None else m.disposal_fee_avoided.central,
    ),
    "sales": (N_("Sales of product"), "money", lambda m: m.sales),
    "bags": (N_("Bags sold, count"), "count", lambda m: m.bags),
    "spent": (N_("Spent"), "money", lambda m: m.spent),
    _PER_TON: ("", "money", lambda m: m.spent_per_tonne),  # called by the ton that the page prints
}  # fmt: skip
# The message and unit for each system of units; the figure itself is always per tonne.
_BY_UNITS = {
    "us": ("money per short ton", N_("Spent per short ton (2,000 lb) diverted")),
    "metric": ("money", N_("Spent per tonne (1,000 kg) diverted")),
}


def money_rows(
    paths: Sequence[str], sets: Sequence[tuple[str, Figures]], printer: Printer
) -> tuple[Row, ...]:
    """Return a row for each path within money that some set has a value of, a cell for each set."""
    rows = []
    for path in paths:
        message, kind, read = _LINES[path]
        values = [read(figures.money) for _, figures in sets]
        known = [v for v in values if v is not None]
        if not known:
            continue
        largest = max(abs(v) for v in known)
        scale, head = printer.scale(kind, largest), Text(message)
        if path == _PER_TON:
            head, scale = cost_per_ton(printer)
        cells = tuple(
            "–" if value is None else printer.one(f"{name}:money.{path}", value, scale)
            for (name, _), value in zip(sets, values, strict=True)
        )
        rows.append(Row(printer.say(head), cells))
    return tuple(rows)


def cost_per_ton(printer: Printer) -> tuple[Text, Scale]:
    """Return what the line is called and the scale it prints on: whole units from 100 up."""
    unit, message = _BY_UNITS[printer.units]
    return Text(message), Scale(unit)
