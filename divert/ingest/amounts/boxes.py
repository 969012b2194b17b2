"""Which container a row counts: its container cell, its heading or its sheet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from divert.ingest.amounts.column import BLANK, PROBLEM, VALUE
from divert.ingest.amounts.measured import Measured, fill_gaps, without_dittos
from divert.ingest.arrays import Bools, Floats, Objects, blank_numbers, blank_texts, no_rows
from divert.ingest.cells import quantity as quantity_cell
from divert.ingest.cells.mark import read_cell
from divert.ingest.cells.problem import Problem
from divert.ingest.known import Known
from divert.ingest.lexicon import bare
from divert.ingest.sheet import as_text
from divert.ingest.tables.context import Context
from divert.ingest.tables.groups import Group
from divert.ingest.tables.layout import Layout


def container_of(text: str, known: Known) -> tuple[str, float, float, float]:
    """Return (name, count, fill, size in m³) of a container cell; the text as found where unknown."""
    own = known.containers.find(text)
    if own is not None:
        return own, np.nan, np.nan, np.nan
    read = quantity_cell.read_cell(text, known.trade)
    if isinstance(read, Problem):
        taken = known.containers.take(bare(text), 0)
        return (taken[0] if taken and taken[1] == len(bare(text)) else text), np.nan, np.nan, np.nan
    one = read[0]
    spoken = text[:1].isdigit() and " " in text and one.count not in (None, 1.0)
    fill = np.nan if one.fill is None else one.fill
    if one.container:
        counted = one.count if spoken and one.count is not None else np.nan
        return one.container, counted, fill, np.nan
    if one.volume_m3 is not None:
        fits = known.containers.of_size(one.volume_m3)
        return (fits or text), np.nan, fill, (np.nan if fits else one.volume_m3)
    return ("" if one.fill is not None else text), np.nan, fill, np.nan


@dataclass(frozen=True)
class Boxes:
    """Which container each row's count counts, and what its container cell says beside its name."""

    name: Objects
    count: Floats
    fill: Floats
    size_m3: Floats
    any_column: bool
    sized: bool


def read_boxes(group: Group, layout: Layout, context: Context, known: Known, rows: int) -> Boxes:
    """Return which container each row counts: its cell's, else its heading's or its sheet's."""
    column = layout.shared.get("container")
    name, count, fill, size = (
        blank_texts(rows),
        blank_numbers(rows),
        blank_numbers(rows),
        blank_numbers(rows),
    )
    if column is not None:
        cells = without_dittos(column.cells)
        read = [container_of(as_text(c), known) for c in cells.cells]
        marks = [quiet(as_text(c)) for c in cells.cells]
        table = [("", np.nan, np.nan, np.nan) if m else r for r, m in zip(read, marks, strict=True)]
        table.append(("", np.nan, np.nan, np.nan))
        name = np.array([t[0] for t in table], dtype=object)[cells.codes]
        count, fill, size = (
            np.array([t[k] for t in table], dtype=float)[cells.codes] for k in (1, 2, 3)
        )
    said = group.label.container or context.container
    if said:
        name = (
            np.where(name == "", said, name)
            if column is not None
            else np.full(rows, said, dtype=object)
        )
    if group.label.size_m3 is not None:
        size = np.full(rows, group.label.size_m3)
    sized = layout.column(group, "size") is not None
    return Boxes(name, count, fill, size, column is not None, sized)


def quiet(text: str) -> bool:
    """Return whether a cell is a mark that says nothing of its own column."""

    return read_cell(text) is not None


def put_boxes(out: Measured, boxes: Boxes, group: Group, layout: Layout) -> None:
    """Lay the containers into the rows that count some, and count one where a row names only one."""
    fill_gaps(out.count, boxes.count)
    fill_gaps(out.fill, boxes.fill)
    counted = set(group.columns) & {"count", "quantity", "weight", "gross", "volume"}
    filled = ~np.isnan(out.fill) & np.isnan(out.count)
    fill_column = layout.shared.get("fill")
    has_fill = fill_column is not None and (fill_column.cells.codes >= 0)
    alone = (
        np.isnan(out.count)
        & np.isnan(out.mass_kg)
        & np.isnan(out.volume_m3)
        & np.isnan(out.gross_kg)
        & (boxes.name != "")
    )
    one_each = alone & (
        filled
        | (has_fill if not counted else no_rows(len(alone)))
        | (not counted and boxes.any_column)
    )
    one_each |= _one_box(out, boxes, layout, counted)
    out.count[one_each] = 1.0
    out.state[one_each & (out.state != PROBLEM)] = VALUE
    told = (
        ~np.isnan(out.count) | ~np.isnan(out.gross_kg) | (boxes.any_column & ~np.isnan(out.mass_kg))
    )
    gap = (out.container == "") & told
    out.container[gap] = boxes.name[gap]
    counted_boxes = ~np.isnan(boxes.count) & (out.state == BLANK)
    out.state[counted_boxes] = VALUE


def _one_box(out: Measured, boxes: Boxes, layout: Layout, counted: set[str]) -> Bools:
    """Return the rows that weigh one container: its name and fill, or its gross weight, and no count."""
    fill = layout.shared.get("fill")
    told = (
        ~np.isnan(out.gross_kg)
        if fill is None
        else (fill.cells.codes >= 0) | ~np.isnan(out.gross_kg)
    )
    if not boxes.any_column or counted & {"count", "quantity"}:
        return no_rows(len(told))
    weighed = ~np.isnan(out.gross_kg) | ~np.isnan(out.mass_kg)
    return np.asarray(np.isnan(out.count) & weighed & told & (boxes.name != ""))
