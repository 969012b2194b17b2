"""Tables as a page carries them: words and printed figures, no arithmetic."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printed, PrintedRange, Printer
from divert.figures.numbers.scales import Scale

Cell = Markup | str
_FEW = 3
_HEADING_ROWS = 3


@dataclass(frozen=True, slots=True)
class Row:
    """A row: its heading, its cells, and how it is set ("", "total", "range")."""

    head: Cell
    cells: tuple[Cell, ...]
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Rows under one heading of their own ("Mass, short tons"); "" where there is none."""

    head: Cell
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table: ``stub`` heads the first column, ``heads`` the others; figures are set right.

    ``words`` are the places (from 0) of columns that hold words and are set left; ``style`` is a
    class of the style sheet.
    """

    caption: Cell
    stub: Cell
    heads: tuple[Cell, ...]
    groups: tuple[Group, ...]
    words: frozenset[int] = frozenset()
    style: str = ""

    @property
    def rows_have_heads(self) -> bool:
        """Return whether row headings are header cells: not where heads would outnumber the figures.

        So few figures are told by the heads of their columns, and a screen reader would otherwise
        say more headings than figures.
        """
        rows = sum(len(group.rows) for group in self.groups)
        heads = 1 + len(self.heads) + sum(bool(group.head) for group in self.groups if group.rows)
        return len(self.heads) > 1 and rows * len(self.heads) >= heads + rows

    @property
    def group_heads_span(self) -> bool:
        """Return whether a group's heading spans its row: with many of them an empty cell follows.

        A reader that meets many rows of nothing but headings takes them for one torn heading.
        """
        heads = sum(bool(group.head) for group in self.groups if group.rows)
        return heads + bool(self.stub) <= _HEADING_ROWS

    @property
    def has_rows(self) -> bool:
        """Return whether there is anything in it."""
        return any(group.rows for group in self.groups)


def halves(rows: Sequence[Row]) -> tuple[tuple[Row, ...], ...]:
    """Return a table's rows for two tables side by side; a few rows stay in one."""
    half = -(-len(rows) // 2) if len(rows) > _FEW else len(rows)
    return tuple(tuple(part) for part in (rows[:half], rows[half:]) if part)


def more_row(count: int, cells: int, printer: Printer) -> Row:
    """Return the row of a table that says how many more there are."""
    more = Text(N_("and {count} more"), {"count": count})
    return Row(printer.say(more), ("",) * cells, "range")


def between(printed: PrintedRange, printer: Printer) -> Markup:
    """Return a range as two marked figures: "1,190 to 1,500"."""
    if printed.low.text == printed.high.text:
        return Markup("{}").format(printed.low)
    return printer.say(Text(N_("{low} to {high}"), {"low": printed.low, "high": printed.high}))


def with_range(printed: PrintedRange, printer: Printer) -> Markup:
    """Return an amount with its unit and its range in brackets: "4,560 lb (between 4,420 and 4,690)"."""
    amount = printer.with_unit(printed)
    if printed.low.text == printed.high.text:
        return amount
    values = {"amount": amount, "low": printed.low, "high": printed.high}
    return printer.say(Text(N_("{amount} (between {low} and {high})"), values))


def marked(printed: Printed | PrintedRange) -> Markup:
    """Return a figure marked as one."""
    return printed.__html__()


def on_the_point(figures: Sequence[Printed | None]) -> list[Cell]:
    """Return a column of figures that differ in decimals, each with room for those it lacks.

    The classes name the room in digits ("pad-2"), with that of a decimal point ("pad-2-point").
    """
    decimals = [None if f is None else Scale(f.unit, f.quantum).decimals for f in figures]
    most = max((d for d in decimals if d is not None), default=0)
    cells: list[Cell] = []
    for figure, places in zip(figures, decimals, strict=True):
        if figure is None or places is None:
            cells.append("")
            continue
        point = "-point" if places == 0 and most else ""
        room = f"pad-{most - places}{point}"
        cells.append(Markup('<span class="{}">{}</span>').format(room, figure))
    return cells


def settle(
    printer: Printer,
    keys: Sequence[Sequence[str]],
    values: Sequence[Sequence[float]],
    steps: Sequence[Sequence[int]],
    scale: Scale,
    group: str,
) -> list[list[Printed]]:
    """Print a table's figures at rounding units worked out for the whole of it."""
    return [
        [printer.settled(k, v, n, scale, group) for k, v, n in zip(*row, strict=True)]
        for row in zip(keys, values, steps, strict=True)
    ]
