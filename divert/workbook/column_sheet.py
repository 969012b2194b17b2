"""A worksheet that takes whole columns of plain cells at once: tens of thousands in a moment."""

from __future__ import annotations

import math
from collections.abc import Container, Mapping, Sequence
from functools import cache
from typing import Any


@cache
def sheet_class() -> Any:
    """Return XlsxWriter's worksheet with columns of texts, numbers and formulas written at one go.

    Cell by cell it asks of each all that a cell could be; here that is known of a whole column. It
    would also look in each formula for thirty functions newer than any used here, and would take a
    name such as "SORT(2)" inside quotes for one of them: formulas go into the file just as they are.
    """
    from xlsxwriter.utility import xl_col_to_name
    from xlsxwriter.worksheet import (
        CellFormulaTuple,
        CellNumberTuple,
        CellStringTuple,
        Worksheet,
    )

    letters = cache(xl_col_to_name)

    class ColumnSheet(Worksheet):  # type: ignore[misc]
        def __init__(self) -> None:
            super().__init__()
            self._styles: dict[Any, str] = {None: ""}

        def write_texts(self, first: int, column: int, texts: Sequence[str], style: Any) -> None:
            """Write texts from row ``first`` down; an empty one leaves its cell empty."""
            index = self.str_table._get_shared_string_index
            for row, text in enumerate(texts, start=first):
                if text:
                    self.table[row][column] = CellStringTuple(index(text), style)
            self._reaches(first, column, len(texts))

        def write_numbers(
            self, first: int, column: int, values: Sequence[float], style: Any = None,
            but: Container[int] = (),
        ) -> None:  # fmt: skip
            """Write numbers from row ``first`` down; NaN, and all ``but`` some places, stay empty."""
            for place, value in enumerate(values):
                if math.isfinite(value) and place not in but:
                    self.table[first + place][column] = CellNumberTuple(value, style)
            self._reaches(first, column, len(values))

        def write_formulas(
            self, first: int, column: int, formulas: Mapping[int, str], style: Any,
            values: Sequence[float],
        ) -> None:  # fmt: skip
            """Write formulas by their place below row ``first``, each with the value it has."""
            for place, formula in formulas.items():
                value = values[place] if math.isfinite(values[place]) else 0.0
                self.table[first + place][column] = CellFormulaTuple(formula, style, value)
            self._reaches(first, column, len(values))

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
            begin = f'<c r="{letters(column)}{row + 1}"{style}'
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

    return ColumnSheet
