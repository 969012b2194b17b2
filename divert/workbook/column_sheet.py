"""A worksheet that takes whole columns of plain cells at once: tens of thousands in a moment.

Nothing is kept of a cell but its column's values: cells are made row by row while the file is written.
Import it where a workbook is made: it brings XlsxWriter, which no other command should wait for.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from xlsxwriter.utility import xl_col_to_name
from xlsxwriter.worksheet import CellFormulaTuple, CellNumberTuple, CellStringTuple, Worksheet

_letters = cache(xl_col_to_name)


@dataclass(frozen=True, slots=True)
class _Block:
    """A stretch of a column: what gives each of its cells when its row is written."""

    first: int
    column: int
    count: int
    cell: Callable[[int], Any]


class ColumnSheet(Worksheet):  # type: ignore[misc]
    """XlsxWriter's worksheet with columns of texts, numbers and formulas written at one go.

    Cell by cell it asks of each all that a cell could be; here that is known of a whole column. It
    would also look in each formula for thirty functions newer than any used here, and would take a
    name such as "SORT(2)" inside quotes for one of them: formulas go into the file just as they are.
    """

    def __init__(self) -> None:
        super().__init__()
        self._styles: dict[Any, str] = {None: ""}
        self._blocks: list[_Block] = []

    def write_texts(self, first: int, column: int, texts: Sequence[str], style: Any) -> None:
        """Write texts from row ``first`` down; an empty one leaves its cell empty."""
        index = self.str_table._get_shared_string_index
        places = [index(text) if text else -1 for text in texts]

        def cell(place: int) -> Any:
            return CellStringTuple(places[place], style) if places[place] >= 0 else None

        self._put(first, column, len(texts), cell)

    def write_numbers(
        self, first: int, column: int, values: Sequence[float], style: Any = None,
        but: Container[int] = (),
    ) -> None:  # fmt: skip
        """Write numbers from row ``first`` down; NaN, and all ``but`` some places, stay empty."""

        def cell(place: int) -> Any:
            value = values[place]
            if place in but or not math.isfinite(value):
                return None
            return CellNumberTuple(value, style)

        self._put(first, column, len(values), cell)

    def write_formulas(
        self, first: int, column: int, formulas: Mapping[int, str], style: Any,
        values: Sequence[float],
    ) -> None:  # fmt: skip
        """Write formulas by their place below row ``first``, each with the value it has.

        Each is asked for when its row is written, and not kept.
        """

        def cell(place: int) -> Any:
            formula = formulas.get(place)
            if formula is None:
                return None
            value = float(values[place])
            return CellFormulaTuple(formula, style, value if math.isfinite(value) else 0.0)

        self._put(first, column, len(values), cell)

    def _put(self, first: int, column: int, count: int, cell: Callable[[int], Any]) -> None:
        self._blocks.append(_Block(first, column, count, cell))
        self._reaches(first, column, count)

    def _write_rows(self) -> None:
        """Write row after row; what stands in a column's block is made there and then."""
        self._calculate_spans()
        for row in range(self.dim_rowmin, self.dim_rowmax + 1):
            cells = dict(self.table[row]) if row in self.table else {}
            for block in self._blocks:
                if block.first <= row < block.first + block.count:
                    cell = block.cell(row - block.first)
                    if cell is not None:
                        cells[block.column] = cell
            if cells:
                self._write_row(row, None, self.row_info.get(row))
                for column in sorted(cells):
                    self._write_cell(row, column, cells[column])
                self._xml_end_tag("row")
            elif row in self.row_info:
                self._write_empty_row(row, None, self.row_info[row])

    def _reaches(self, first: int, column: int, count: int) -> None:
        if count:
            self._check_dimensions(first, column)
            self._check_dimensions(first + count - 1, column)

    def _prepare_formula(self, formula: str, _expand: bool = False) -> str:
        return formula.removeprefix("=")

    def _calculate_spans(self) -> None:
        self.row_spans: dict[int, str] = {}  # a hint which columns a row fills; none needs it

    def _write_cell(self, row: int, column: int, cell: Any) -> None:
        style = self._styles.get(cell.format)
        if style is None:
            style = f' s="{cell.format._get_xf_index()}"'
            self._styles[cell.format] = style
        begin = f'<c r="{_letters(column)}{row + 1}"{style}'
        kind = type(cell)
        if kind is CellStringTuple:
            self.fh.write(f'{begin} t="s"><v>{cell.string}</v></c>')
        elif kind is CellNumberTuple:
            self.fh.write(f"{begin}><v>{cell.number:.16G}</v></c>")
        elif kind is CellFormulaTuple:
            formula = self._escape_data(cell.formula)
            self.fh.write(f"{begin}><f>{formula}</f><v>{cell.value}</v></c>")
        else:
            super()._write_cell(row, column, cell)
