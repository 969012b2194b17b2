"""What an .ods file tells beyond calamine's values: merged cells, error cells, this tool's mark."""

from __future__ import annotations

from io import BytesIO

from defusedxml import ElementTree

from divert.core.mark import MARK
from divert.sandbox import limits
from divert.sandbox.package import Package
from divert.sandbox.refusal import Refused

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_ERROR = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}value-type"
_CONTENT = "content.xml"
Merges = list[tuple[int, int, int, int]]
Cells = dict[tuple[int, int], str]


def is_ours(package: Package) -> bool:
    """Say whether a file carries this tool's mark, kept when a marked workbook is saved as .ods."""
    return f'name="{MARK}"'.encode() in package.read("meta.xml")


def merges_and_errors(package: Package) -> tuple[dict[str, Merges], dict[str, Cells]]:
    """Return, by table, merged cells and the text of error cells, which calamine leaves blank.

    Merges are 1-based (first row, first column, last row, last column), cells 1-based (row, column).
    Inflates the content once in any case, which finds a part that holds more than it announces.
    """
    merges: dict[str, Merges] = {}
    errors: dict[str, Cells] = {}
    if not any(package.holds(_CONTENT, [b"-spanned=", b'value-type="error"'])):
        return merges, errors
    content = BytesIO(b"".join(package.pieces(_CONTENT)))
    name, row = "", 1
    try:
        for event, element in ElementTree.iterparse(content, ("start", "end"), forbid_dtd=True):
            if event == "start" and element.tag == f"{_TABLE}table":
                name, row = element.get(f"{_TABLE}name", ""), 1
            elif event == "end" and element.tag == f"{_TABLE}table-row":
                _walk(element, row, merges.setdefault(name, []), errors.setdefault(name, {}))
                row += _count(element, "number-rows-repeated")
                element.clear()
    except Exception as problem:  # defusedxml and expat share no base class
        raise Refused("damaged") from problem
    return merges, errors


def _walk(line: ElementTree.Element, row: int, merges: Merges, errors: Cells) -> None:
    column = 1
    for cell in line:
        down = _count(cell, "number-rows-spanned")
        across = _count(cell, "number-columns-spanned")
        if (down > 1 or across > 1) and len(merges) < limits.MERGES:
            merges.append((row, column, row + down - 1, column + across - 1))
        if cell.get(_ERROR) == "error":
            errors[row, column] = "".join(cell.itertext()) or "#N/A"
        column += _count(cell, "number-columns-repeated")


def _count(element: ElementTree.Element, name: str) -> int:
    text = element.get(f"{_TABLE}{name}", "1")
    return int(text) if text.isdecimal() and len(text) < 9 else 1
