"""Tables as a page carries them: words and printed figures, no arithmetic."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from divert.core.words import N_, Text
from divert.figures.numbers.printed import Printed, PrintedRange, Printer
from divert.figures.numbers.rounding import steps
from divert.figures.numbers.scales import FACTOR, decimals

Cell = Markup | str | Printed | PrintedRange
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
    class of the style sheet; ``note`` stands beneath.
    """

    caption: Cell
    stub: Cell
    heads: tuple[Cell, ...]
    groups: tuple[Group, ...]
    words: frozenset[int] = frozenset()
    style: str = ""
    note: Cell = ""

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
    def set_groups(self) -> tuple[Group, ...]:
        """Return the groups as a page sets them: figures of a column stand on their decimal point."""
        return tuple(
            replace(group, rows=_on_points(group.rows, len(self.heads))) for group in self.groups
        )

    @property
    def has_rows(self) -> bool:
        """Return whether there is anything in it."""
        return any(group.rows for group in self.groups)


def _on_points(rows: tuple[Row, ...], columns: int) -> tuple[Row, ...]:
    set_cells = [list(row.cells) for row in rows]
    for j in range(columns):
        figures = [_figure(row.cells[j]) if j < len(row.cells) else None for row in rows]
        for i, cell in enumerate(on_the_point(figures)):
            if figures[i] is not None:
                set_cells[i][j] = cell
    return tuple(replace(row, cells=tuple(of)) for row, of in zip(rows, set_cells, strict=True))


def _figure(cell: Cell) -> Printed | None:
    return (
        cell.central
        if isinstance(cell, PrintedRange)
        else cell
        if isinstance(cell, Printed)
        else None
    )


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
    places = [None if f is None else decimals(f.quantum) if f.text != "0" else 0 for f in figures]
    most = max((d for d in places if d is not None), default=0)
    cells: list[Cell] = []
    for figure, own in zip(figures, places, strict=True):
        if figure is None or own is None:
            cells.append("")
        elif own == most:
            cells.append(marked(figure))
        else:
            room = f"pad-{most - own}{'-point' if own == 0 else ''}"
            cells.append(Markup('<span class="{}">{}</span>').format(room, figure))
    return cells


def parts_add_up(
    parts: Sequence[Printed], whole: Printed, signs: Sequence[int] | None = None
) -> bool:
    """Return whether parts as printed come to their total as printed.

    Each is rounded by itself: where they do not, the table says why. ``signs`` are -1 for what is
    taken off.
    """
    if not parts:
        return True
    finest = min(p.quantum for p in (*parts, whole))
    each = signs or [1] * len(parts)
    sum_of_parts = sum(sign * _as_printed(p) for sign, p in zip(each, parts, strict=True))
    return abs(sum_of_parts - _as_printed(whole)) < finest / 2


def _as_printed(figure: Printed) -> float:
    return steps(figure.value / FACTOR[figure.unit], figure.quantum) * figure.quantum


def rounding_note(printer: Printer, *adding: bool) -> Cell:
    """Return the sentence that a table of parts carries where as printed they do not add up."""
    return "" if all(adding) else printer.say(NOT_ADDING)


NOT_ADDING = Text(N_("Parts may not add, because of rounding."))
