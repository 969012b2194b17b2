"""What an .ods file tells beyond calamine's values: merged cells, and this tool's mark."""

from __future__ import annotations

from io import BytesIO

from defusedxml import ElementTree

from divert.held import limits
from divert.held.package import Package
from divert.held.refusal import Refused
from divert.mark import MARK

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_CONTENT = "content.xml"
Merges = list[tuple[int, int, int, int]]


def is_ours(package: Package) -> bool:
    """Say whether a file carries this tool's mark, kept when a marked workbook is saved as .ods."""
    return f'name="{MARK}"'.encode() in package.read("meta.xml")


def merges(package: Package) -> dict[str, Merges]:
    """Return each table's merged cells as 1-based (first row, first column, last row, last column).

    Inflates the content once in any case, which finds a part that holds more than it announces.
    """
    if not any(package.holds(_CONTENT, [b"-spanned="])):
        return {}
    found: dict[str, Merges] = {}
    table: Merges = []
    row = column = 0
    content = BytesIO(b"".join(package.pieces(_CONTENT)))
    try:
        for event, element in ElementTree.iterparse(content, ("start", "end"), forbid_dtd=True):
            tag = element.tag
            if event == "start":
                if tag == f"{_TABLE}table":
                    table = found.setdefault(element.get(f"{_TABLE}name", ""), [])
                    row = 1
                elif tag == f"{_TABLE}table-row":
                    column = 1
                continue
            if tag == f"{_TABLE}table-row":
                row += _count(element, "number-rows-repeated")
            elif tag in (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell"):
                down = _count(element, "number-rows-spanned")
                across = _count(element, "number-columns-spanned")
                if (down > 1 or across > 1) and len(table) < limits.MERGES:
                    table.append((row, column, row + down - 1, column + across - 1))
                column += _count(element, "number-columns-repeated")
            element.clear()
    except Exception as problem:  # defusedxml and expat share no base class
        raise Refused("damaged") from problem
    return found


def _count(element: ElementTree.Element, name: str) -> int:
    text = element.get(f"{_TABLE}{name}", "1")
    return int(text) if text.isdecimal() and len(text) < 9 else 1
