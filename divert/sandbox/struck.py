"""Rows of an .xlsx sheet that somebody struck through, which values alone do not tell.

Looked at only where the workbook's style sheet strikes anything at all, so that others cost nothing.
"""

from __future__ import annotations

import re

from divert.sandbox.ooxml import parsed, sheet_titles
from divert.sandbox.package import Package

_STYLES = "xl/styles.xml"
_CELL = re.compile(rb"<c ([^<>]*[^<>/])>")  # a cell that holds something
_ROW = re.compile(rb'\br="[A-Z]{1,3}([0-9]{1,7})"')
_STYLE = re.compile(rb'\bs="([0-9]{1,6})"')
_OFF = ("0", "false", "off")


def struck_rows(package: Package) -> dict[str, list[int]]:
    """Return, by the names of sheets, the rows (from 1) of which at least half is struck through."""
    styles = package.read(_STYLES)
    struck = _struck_styles(styles) if b"strike" in styles else frozenset()
    if not struck:
        return {}
    found = {}
    for part, title in sheet_titles(package).items():
        if part in package.parts and (rows := _rows(b"".join(package.pieces(part)), struck)):
            found[title] = rows
    return found


def _struck_styles(styles: bytes) -> frozenset[int]:
    """Return the numbers of the cell styles whose letters are struck through."""
    root = parsed(styles)
    space = root.tag.rpartition("}")[0] + "}" if "}" in root.tag else ""
    fonts = root.findall(f"{space}fonts/{space}font")
    lined = {
        str(number)
        for number, font in enumerate(fonts)
        if (strike := font.find(f"{space}strike")) is not None
        and strike.get("val", "1").casefold() not in _OFF
    }
    cells = root.findall(f"{space}cellXfs/{space}xf")
    return frozenset(n for n, style in enumerate(cells) if style.get("fontId") in lined)


def _rows(sheet: bytes, struck: frozenset[int]) -> list[int]:
    filled: dict[int, list[bool]] = {}
    for cell in _CELL.finditer(sheet):
        row, style = _ROW.search(cell[1]), _STYLE.search(cell[1])
        if row is not None:
            lined = style is not None and int(style[1]) in struck
            filled.setdefault(int(row[1]), []).append(lined)
    return sorted(row for row, lined in filled.items() if 2 * sum(lined) >= len(lined))
