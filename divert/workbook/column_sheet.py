"""A worksheet that takes whole columns of plain cells at once: tens of thousands in a moment.

Nothing is kept of a cell but its column's values: cells are made while the file is written, some
hundred rows of a column at a time.
Import it where a workbook is made: it brings XlsxWriter, which no other command should wait for.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Protocol

import numpy as np
from xlsxwriter.utility import xl_col_to_name
from xlsxwriter.worksheet import CellFormulaTuple, CellNumberTuple, CellStringTuple, Worksheet

_AT_ONCE = 512  # rows whose cells are held as text at a time
_letters = cache(xl_col_to_name)


class Formulas(Protocol):
    """Formulas by the place of their line, "" for none; those of a stretch are made when asked for."""

    def __getitem__(self, stretch: slice, /) -> Sequence[str]:
        """Return the formulas of a stretch of lines."""


@dataclass(frozen=True, slots=True)
class _Block:
    """A stretch of a column: what gives some of its cells as they stand in the file, "" for none.

    ``cells`` is given the first of them, counted from the block's own first row, and the one after
    the last.
    """

    first: int
    column: int
    count: int
    cells: Callable[[int, int], list[str]]

    def between(self, start: int, stop: int) -> list[str]:
        """Return the cells of the sheet's rows from ``start`` to before ``stop``."""
        begin, end = max(start, self.first), min(stop, self.first + self.count)
        if begin >= end:
            return [""] * (stop - start)
        here = self.cells(begin - self.first, end - self.first)
        return [""] * (begin - start) + here + [""] * (stop - end)


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
        letters = _letters(column)

        def cells(start: int, stop: int) -> list[str]:
            middle = f'{self._style(style)} t="s"><v>'
            return [
                f'<c r="{letters}{row}"{middle}{place}</v></c>' if place >= 0 else ""
                for row, place in enumerate(places[start:stop], first + start + 1)
            ]

        self._put(first, column, len(texts), cells)

    def write_numbers(
        self, first: int, column: int, values: Sequence[float], style: Any = None
    ) -> None:
        """Write numbers from row ``first`` down; NaN stays empty."""

        def cells(start: int, stop: int) -> list[str]:
            return self._numbers(first + start, column, _plain(values[start:stop]), style)

        self._put(first, column, len(values), cells)

    def write_formulas(
        self, first: int, column: int, formulas: Formulas, style: Any, values: Sequence[float], *,
        rest: bool = False,
    ) -> None:  # fmt: skip
        """Write formulas from row ``first`` down, each with the value it has.

        Formulas are asked for when their rows are written, and not kept. A value without a formula is
        left out, or stands as a plain number where ``rest`` is true.
        """
        letters = _letters(column)

        def cells(start: int, stop: int) -> list[str]:
            made, here = formulas[start:stop], _plain(values[start:stop])
            numbers = self._numbers(first + start, column, here, None) if rest else [""] * len(here)
            if not any(made):
                return numbers
            shown, escaped = self._style(style), self._escape_data
            return [
                f'<c r="{letters}{row}"{shown}><f>{escaped(formula)}</f>'
                f"<v>{value if math.isfinite(value) else 0.0}</v></c>"
                if formula
                else number
                for row, (formula, value, number) in enumerate(
                    zip(made, here, numbers, strict=True), first + start + 1
                )
            ]

        self._put(first, column, len(values), cells)

    def _numbers(self, row: int, column: int, values: Sequence[float], style: Any) -> list[str]:
        letters, middle = _letters(column), f"{self._style(style)}><v>"
        return [
            f'<c r="{letters}{at}"{middle}{value:.16G}</v></c>' if math.isfinite(value) else ""
            for at, value in enumerate(values, row + 1)
        ]

    def _put(self, first: int, column: int, count: int, cells: Callable[[int, int], Any]) -> None:
        self._blocks.append(_Block(first, column, count, cells))
        self._reaches(first, column, count)

    def _write_rows(self) -> None:
        """Write row after row; what stands in columns' blocks is made for some hundred rows at a time."""
        self._calculate_spans()
        blocks = sorted(self._blocks, key=lambda block: block.column)
        end = self.dim_rowmax + 1
        begin = min((block.first for block in blocks), default=end)
        for row in range(self.dim_rowmin, begin):  # styles are numbered as they are met
            self._write_single(row, {})
        for start in range(begin, end, _AT_ONCE):
            stop = min(start + _AT_ONCE, end)
            columns = [block.between(start, stop) for block in blocks]
            for row, cells in enumerate(zip(*columns, strict=True), start):
                if row in self.table or not (line := "".join(cells)):
                    of_blocks = {b.column: c for b, c in zip(blocks, cells, strict=True) if c}
                    self._write_single(row, of_blocks)
                else:
                    self._write_row(row, None, self.row_info.get(row))
                    self.fh.write(line)
                    self._xml_end_tag("row")

    def _write_single(self, row: int, of_blocks: dict[int, str]) -> None:
        """Write a row of single cells, and those of blocks between them."""
        single = self.table.get(row, {})
        if single or of_blocks:
            self._write_row(row, None, self.row_info.get(row))
            for column in sorted({*single, *of_blocks}):
                if column in of_blocks:
                    self.fh.write(of_blocks[column])
                else:
                    self._write_cell(row, column, single[column])
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

    def _style(self, style: Any) -> str:
        """Return a cell's attribute for a style; each is numbered when the file is written."""
        found = self._styles.get(style)
        if found is None:
            found = self._styles[style] = f' s="{style._get_xf_index()}"'
        return found

    def _write_cell(self, row: int, column: int, cell: Any) -> None:
        begin = f'<c r="{_letters(column)}{row + 1}"{self._style(cell.format)}'
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


def _plain(values: Sequence[float]) -> Sequence[float]:
    """Return numbers as Python has them, which write themselves several times quicker than numpy's."""
    return values.tolist() if isinstance(values, np.ndarray) else values
