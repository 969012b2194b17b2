"""Merged cells and error cells of an .xlsb workbook, which calamine does not tell.

Record numbers and layouts are those of Microsoft's [MS-XLSB], from memory; LibreOffice reads the
files the tests build from them the same way.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator

from divert.sandbox import limits
from divert.sandbox.ooxml import links
from divert.sandbox.package import Package

_SHEET = 156  # BrtBundleSh
_BEGIN_MERGES = b"\xb1\x01\x04"  # BrtBeginMergeCells (177), a body of 4 bytes: how many
_MERGE = b"\xb0\x01\x10"  # BrtMergeCell (176), a body of 16 bytes
_MERGE_LENGTH = len(_MERGE) + 16
_ROW, _ERROR, _FORMULA_ERROR = 0, 3, 11  # BrtRowHdr, BrtCellError, BrtFmlaError
_ERRORS = {
    0x00: "#NULL!", 0x07: "#DIV/0!", 0x0F: "#VALUE!", 0x17: "#REF!", 0x1D: "#NAME?", 0x24: "#NUM!",
    0x2A: "#N/A",
}  # fmt: skip
# Such a record, wherever it stands: its number, its length, a column, a style and one of the errors.
_MAY_BE_ERROR = re.compile(
    rb"[\x03\x0b][\x09-\xff][\x00-\x7f]?..\x00\x00.{4}[\x00\x07\x0f\x17\x1d\x24\x2a]", re.S
)


def merges(package: Package) -> dict[str, list[tuple[int, int, int, int]]]:
    """Return each sheet's merged cells, 1-based (first row, first column, last row, column)."""
    parts = links(package, "xl/_rels/workbook.bin.rels")
    found = {}
    for link, title in _sheets(package.read("xl/workbook.bin")):
        part = parts.get(link, "")
        if part in package.parts and any(package.holds(part, [_BEGIN_MERGES])):
            found[title] = list(_in_sheet(b"".join(package.pieces(part))))
    return found


def errors(package: Package) -> dict[str, dict[tuple[int, int], str]]:
    """Return, by sheet, the text of error cells by their place (row, column), from 1."""
    parts = links(package, "xl/_rels/workbook.bin.rels")
    found = {}
    for link, title in _sheets(package.read("xl/workbook.bin")):
        part = parts.get(link, "")
        if part in package.parts:
            sheet = b"".join(package.pieces(part))
            if _MAY_BE_ERROR.search(sheet):
                found[title] = dict(_errors_in(sheet))
    return found


def _errors_in(sheet: bytes) -> Iterator[tuple[tuple[int, int], str]]:
    row = 0
    for number, body in _records(sheet):
        if number == _ROW and len(body) >= 4:
            row = int.from_bytes(body[:4], "little") + 1
        elif number in (_ERROR, _FORMULA_ERROR) and len(body) >= 9:
            column = int.from_bytes(body[:4], "little") + 1
            yield (row, column), _ERRORS.get(body[8], "#ERROR!")


def _in_sheet(sheet: bytes) -> Iterator[tuple[int, int, int, int]]:
    # They follow one another after all the cells, so that no cell need be walked to find them.
    at = sheet.rfind(_BEGIN_MERGES)
    (count,) = struct.unpack_from("<I", sheet.ljust(at + 7, b"\0"), at + 3)
    at += 7
    for _ in range(min(count, limits.MERGES)):
        record = sheet[at : at + _MERGE_LENGTH]
        if not record.startswith(_MERGE) or len(record) < _MERGE_LENGTH:
            return
        r1, r2, c1, c2 = struct.unpack_from("<4I", record, len(_MERGE))
        yield r1 + 1, c1 + 1, r2 + 1, c2 + 1
        at += _MERGE_LENGTH


def _sheets(workbook: bytes) -> Iterator[tuple[str, str]]:
    """Yield each sheet's relation and its name."""
    for number, body in _records(workbook):
        if number == _SHEET:
            link, rest = _text(body[8:])
            yield link, _text(rest)[0]


def _text(body: bytes) -> tuple[str, bytes]:
    end = 4 + 2 * int.from_bytes(body[:4], "little")
    return body[4:end].decode("utf-16-le", "replace"), body[end:]


def _records(part: bytes) -> Iterator[tuple[int, bytes]]:
    at = 0
    while at < len(part):
        number, at = _varying(part, at, 2)
        length, at = _varying(part, at, 4)
        yield number, part[at : at + length]
        at += length


def _varying(part: bytes, at: int, most: int) -> tuple[int, int]:
    # Seven bits a byte, least first; the eighth says that another byte follows.
    value = 0
    for index in range(most):
        byte = part[at + index] if at + index < len(part) else 0
        value |= (byte & 0x7F) << (7 * index)
        if not byte & 0x80:
            return value, at + index + 1
    return value, at + most
