"""A workbook's sheets, by python-calamine: values only, never a formula, a macro or a link."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from typing import Any

import python_calamine as calamine

from divert.core.mark import MARK
from divert.sandbox import frames, gaps, kind, limits, ods, ooxml, struck, xlsb
from divert.sandbox.frames import Frame
from divert.sandbox.gaps import Gaps
from divert.sandbox.package import Package, look_through
from divert.sandbox.refusal import Refused

Merges = list[tuple[int, int, int, int]]


def read_workbook(data: bytes) -> Iterator[Frame]:
    """Yield the frames of a workbook's sheets, hidden ones too, in the workbook's order."""
    package = None
    if data.startswith(kind.ZIP):
        package = look_through(data)
        form = kind.of_package(package)
    else:
        form = "xls"
        if MARK.encode() in data:  # a custom property in the old format
            raise Refused("ours")
        if "EncryptedPackage".encode("utf-16-le") in data:
            raise Refused("password")
    aside = _looked_at_aside(form, package)
    try:
        book = calamine.CalamineWorkbook.from_filelike(io.BytesIO(aside.shut or data))
    except calamine.PasswordError as problem:
        raise Refused("password") from problem
    except (calamine.CalamineError, OSError) as problem:
        raise Refused("password" if "password" in str(problem).lower() else "damaged") from problem
    looked_at = 0
    for meta in book.sheets_metadata:
        if meta.typ in (calamine.SheetTypeEnum.MacroSheet, calamine.SheetTypeEnum.Vba):
            looked_at += 1
            yield b"F", frames.note([meta.name, "macro sheet"])
        elif meta.typ == calamine.SheetTypeEnum.WorkSheet:
            looked_at += 1
            yield from _sheet(book, meta, aside)
    if not looked_at:  # never pass over a file in silence
        raise Refused("no sheets")


class _Aside:
    """What calamine does not tell: cells it leaves blank, merges, what is struck through or hidden."""

    def __init__(self) -> None:
        self.cells: dict[str, dict[tuple[int, int], str]] = {}
        self.uncalculated: dict[str, int] = {}
        self.merges: dict[str, Merges] = {}
        self.struck: dict[str, list[int]] = {}
        self.hidden: dict[str, tuple[list[int], list[int]]] = {}  # rows and columns
        self.gaps: Mapping[str, Gaps] = {}
        self.shut = b""  # the workbook without them


def _looked_at_aside(form: str, package: Package | None) -> _Aside:
    aside = _Aside()
    if package is None:
        return aside
    if form == "xlsx":
        if ooxml.is_ours(package):
            raise Refused("ours")
        held = ooxml.looked_into(package)
        for name, cells, uncalculated in ooxml.cells_left_blank(package, held):
            aside.cells[name] = cells
            aside.uncalculated[name] = uncalculated
        aside.struck = struck.struck_rows(package)
        aside.hidden = ooxml.hidden_lines(package, held)
        sizes = {name: package.parts[name].file_size for name in held}
        if far := [n for n, s in held.items() if gaps.may_have(s.last_row, sizes[n])]:
            aside.shut, aside.gaps = gaps.closed_up(package, far)
    elif form == "xlsb":
        if ooxml.is_ours(package):
            raise Refused("ours")
        aside.merges, aside.cells = xlsb.merges(package), xlsb.errors(package)
    else:
        if ods.is_ours(package):
            raise Refused("ours")
        told = ods.beside_values(package)
        aside.merges, aside.cells = told.merges, told.errors
        aside.struck, aside.hidden = told.struck, told.hidden
    return aside


def _sheet(book: Any, meta: Any, aside: _Aside) -> Iterator[Frame]:
    try:
        sheet = book.get_sheet_by_name(meta.name)
    except (calamine.CalamineError, OSError):
        yield b"F", frames.note([meta.name, "damaged sheet"])
        return
    hidden = meta.visible != calamine.SheetVisibleEnum.Visible
    shut = aside.gaps.get(meta.name, gaps.NONE)
    end = sheet.end or (-1, -1)
    merged = sheet.merged_cell_ranges
    merges = (
        [(r1 + 1, c1 + 1, r2 + 1, c2 + 1) for (r1, c1), (r2, c2) in merged[: limits.MERGES]]
        if merged
        else aside.merges.get(meta.name, [])
    )
    blanks = aside.cells.get(meta.name, {})
    height = max(shut.opened(end[0]) + 1, *(row for row, _ in blanks), 0)
    width = max(end[1] + 1, *(column for _, column in blanks), 0)
    places, lined = list(_clipped(merges, height, width)), aside.struck.get(meta.name, [])
    unseen = aside.hidden.get(meta.name, ([], []))
    yield b"S", frames.note([meta.name, hidden, places, lined, *unseen])
    if shut.starts and width * height > limits.PLACES:
        raise Refused("memory")  # as calamine would take, and what reads the cells after it
    at = {(shut.closed(row - 1) + 1, column): text for (row, column), text in blanks.items()}
    rows = _filled(sheet, at, shut.closed(height - 1) + 1)
    yield from frames.row_frames(rows, zip(shut.starts, shut.missing, strict=True))
    if count := aside.uncalculated.get(meta.name):
        yield b"F", frames.note([meta.name, "formula", count])


def _clipped(merges: Merges, height: int, width: int) -> Iterator[tuple[int, int, int, int]]:
    # A merge may be declared over the whole sheet; nobody should have to walk a billion cells.
    for r1, c1, r2, c2 in merges:
        if r1 <= height and c1 <= width:
            yield r1, c1, min(r2, height), min(c2, width)


def _filled(sheet: Any, blanks: dict[tuple[int, int], str], height: int) -> Iterator[list[Any]]:
    """Return rows from the sheet's first, from column A, with what calamine left blank put back."""
    left = [""] * (sheet.start[1] if sheet.start else 0)
    rows: Iterator[list[Any]] = iter(sheet.iter_rows()) if sheet.start else iter(())
    if left:
        rows = (left + row for row in rows)
    return _put_back(rows, blanks, height) if blanks else rows


def _put_back(
    rows: Iterator[list[Any]], blanks: dict[tuple[int, int], str], height: int
) -> Iterator[list[Any]]:
    by_row: dict[int, list[tuple[int, str]]] = {}
    for (row, column), text in blanks.items():
        by_row.setdefault(row, []).append((column, text))
    for number in range(1, height + 1):
        cells = next(rows, [])
        for column, text in by_row.get(number, ()):
            cells.extend([""] * (column - len(cells)))
            if cells[column - 1] == "":
                cells[column - 1] = text
        yield cells
