"""What was read in a turned sheet, told of the places in the user's own."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from divert.core.findings import Finding, Where
from divert.ingest.coded import Part, of_texts
from divert.ingest.entries.gathered import AsideRow, Gathered, SkippedRow, SkippedRows
from divert.ingest.sheet import Origin, Sheet, as_text, column_of, letter

_LONGEST = 200  # characters of a row that is listed


def put_back(found: Gathered, turned: Sheet, out: Gathered) -> None:
    """Add what was gathered from a turned sheet to ``out``, each place that of the user's cell."""
    origin = turned.origin
    if origin is None:
        raise ValueError(turned.name)
    out.add(
        found.moved(
            lambda one: _part(one, origin),
            lambda one: _aside(one, origin),
            lambda one: _skipped(one, turned, origin),
            lambda one: _finding(one, origin),
            lambda one: _where(one, origin),
        )
    )


def _aside(one: AsideRow, origin: Origin) -> AsideRow:
    file, sheet, row, column, text, code = one
    r, c = _home(origin, row, column)
    return file, sheet, r + 1, letter(c), _text(origin, r, c) or text, code


def _skipped(one: SkippedRow | SkippedRows, turned: Sheet, origin: Origin) -> SkippedRow | None:
    """Return what was skipped by its place in the user's sheet; None for a line that is not there."""
    file, sheet, row, column, text, reason, day = one[:7]
    r, c = _home(origin, row, column)
    if column:
        return file, sheet, r + 1, letter(c), _text(origin, r, c) or text, reason, day
    places = _places(turned, origin, row - 1)
    if not places or (reason == "heading" and origin.heads != "apart"):
        return None  # a line between two tables, or a heading that is no row by itself
    said = " | ".join(_text(origin, *place) for place in places)[:_LONGEST]
    whole = len(places) == sum(cell is not None for cell in origin.sheet.row(r))
    return file, sheet, r + 1, "" if whole else letter(c), said, reason, day


def _home(origin: Origin, row: int, column: str | None) -> tuple[int, int]:
    """Return the place (from 0) of a turned cell: its row from 1, its letter or none for the row's."""
    c = min(column_of(column), origin.rows.shape[1] - 1) if column else 0
    return int(origin.rows[row - 1, c]), int(origin.columns[row - 1, c])


def _text(origin: Origin, row: int, column: int) -> str:
    return as_text(origin.sheet.columns[column].at(row))


def _places(turned: Sheet, origin: Origin, row: int) -> list[tuple[int, int]]:
    """Return where in the user's sheet the cells of one turned line stand."""
    return list(dict.fromkeys(
        (int(origin.rows[row, c]), int(origin.columns[row, c]))
        for c, column in enumerate(turned.columns) if column.at(row) is not None
    ))  # fmt: skip


def _where(where: Where, origin: Origin) -> Where:
    if where.row is None or not 1 <= where.row <= len(origin.rows):
        return where
    row, column = _home(origin, where.row, where.column)
    return replace(where, row=row + 1, column=letter(column))


def _finding(finding: Finding, origin: Origin) -> Finding:
    where = _where(finding.where, origin)
    if where is finding.where:
        return finding
    whole_column = f"{where.file}!{where.sheet}!{finding.where.column}"
    row, column = (where.row or 1) - 1, column_of(where.column or "A")
    return replace(
        finding,
        where=where,
        found=(_text(origin, row, column) or finding.found) if finding.found else "",
        name=str(where) if finding.name == whole_column else finding.name,
    )


def _part(part: Part, origin: Origin) -> Part:
    letters = part.texts["column"].texts()
    places = [_home(origin, int(r), str(c)) for r, c in zip(part.rows, letters, strict=True)]
    rows = np.array([r + 1 for r, _ in places], dtype=np.int64)
    columns = np.array([letter(c) for _, c in places], dtype=object)
    return replace(part, rows=rows, texts=part.texts | {"column": of_texts(columns)})
