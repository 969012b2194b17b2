"""Sheets of an .xlsx workbook with an enormous empty stretch, their rows closed up for calamine.

Calamine makes a cell of each place between a sheet's first cell and its last: a stray word in the last
row that a sheet can have is millions of them. Only the numbers of rows are changed, in a copy, and only
where every row and cell tells its own; any other sheet is left as it is.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from divert.sandbox import limits
from divert.sandbox.ooxml import sheet_titles
from divert.sandbox.package import Package

_LEAST = 10_000  # empty rows, below which it is not worth it
_MOST = 100_000  # rows that are written down: to go through more is no gain
_LAST = 1_048_576  # the last row that a sheet can have
_ROW = re.compile(rb"<row [^<>]*?\br=\"([0-9]{1,7})\"[^<>]*>")
_CELL = re.compile(rb"(<c (?:[^<>]*? )?r=\"[A-Z]{1,3})([0-9]{1,7})\"")
_BYTES_A_ROW = 20  # at least, of a row that is written down


class Gaps(NamedTuple):
    """What was left out of a sheet: ``missing[n]`` rows before its closed-up row ``starts[n]`` (from 0)."""

    starts: Sequence[int] = ()
    missing: Sequence[int] = ()

    def opened(self, row: int) -> int:
        """Return the number in the user's sheet of a closed-up row, both from 0."""
        pairs = zip(self.starts, self.missing, strict=True)
        return row + sum(missing for start, missing in pairs if start <= row)

    def closed(self, row: int) -> int:
        """Return the number in the closed-up sheet of a row of the user's that is written down."""
        for start, missing in zip(self.starts, self.missing, strict=True):
            row -= missing if row - missing >= start else 0
        return row


NONE = Gaps()


def may_have(last_row: int, size: int) -> bool:
    """Return whether a sheet whose last row and bytes of XML are told may have an enormous gap."""
    return _LEAST < last_row <= _LAST and size < _BYTES_A_ROW * last_row


def closed_up(package: Package, suspects: Sequence[str]) -> tuple[bytes, Mapping[str, Gaps]]:
    """Return a workbook with the rows of the suspected parts closed up, and the gaps by sheets' names;
    b"" where nothing was closed up.
    """
    if sum(part.file_size for part in package.parts.values()) > limits.UNQUESTIONED_BYTES:
        return b"", {}
    titles = sheet_titles(package)
    new = {
        part: found
        for part in suspects
        if part in titles and (found := _without_gaps(b"".join(package.pieces(part))))
    }
    if not new:
        return b"", {}
    copy = io.BytesIO()
    with zipfile.ZipFile(copy, "w") as archive:
        for name in package.names(lambda n: n.lower().endswith((".xml", ".rels"))):
            archive.writestr(name, new[name][0] if name in new else b"".join(package.pieces(name)))
    return copy.getvalue(), {titles[part]: gaps for part, (_, gaps) in new.items()}


def _without_gaps(sheet: bytes) -> tuple[bytes, Gaps] | None:
    if sheet.count(b"<row") > _MOST:
        return None
    rows = list(_ROW.finditer(sheet))
    numbers = [int(row[1]) for row in rows]
    steps = [after - before for before, after in zip([0, *numbers], numbers, strict=False)]
    plain = b"<!" not in sheet and sheet.count(b"<row") == len(rows)
    if not (plain and rows and min(steps) > 0 and max(steps) > _LEAST):
        return None
    pieces, starts, missing = [sheet[: rows[0].start()]], [], []
    gone = 0
    ends = [row.start() for row in rows[1:]] + [len(sheet)]
    for row, number, step, end in zip(rows, numbers, steps, ends, strict=True):
        if step > _LEAST:
            starts.append(number - gone - step)
            missing.append(step - 1)
            gone += step - 1
        piece = sheet[row.start() : end]
        cells = [int(cell[2]) for cell in _CELL.finditer(piece)]
        if piece.count(b"<c ") + piece.count(b"<c>") > len(cells) or set(cells) - {number}:
            return None
        pieces.append(_moved(piece, row, number - gone) if gone else piece)
    return b"".join(pieces), Gaps(starts, missing)


def _moved(piece: bytes, row: re.Match[bytes], number: int) -> bytes:
    start, end = (at - row.start() for at in row.span(1))
    cells = _CELL.sub(rb'\g<1>%d"' % number, piece[end:])
    return piece[:start] + b"%d" % number + cells
