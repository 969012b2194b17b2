"""What an .ods file tells beyond calamine's values: merges, error cells, what is struck or hidden."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import NamedTuple

from defusedxml import ElementTree

from divert.core.mark import MARK
from divert.sandbox import limits
from divert.sandbox.package import Package
from divert.sandbox.refusal import Refused

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_ERROR = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}value-type"
_STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
_THROUGH = f"{_STYLE}text-line-through-style"
_CONTENT = "content.xml"
_TELLING = [
    b"-spanned=",
    b'value-type="error"',
    b"text-line-through-style=",
    b'visibility="collapse"',
]
_WIDEST = 200  # columns of a table that are looked at
_LONGEST = 1000  # rows that one line may stand for
Merges = list[tuple[int, int, int, int]]
Cells = dict[tuple[int, int], str]


def is_ours(package: Package) -> bool:
    """Say whether a file carries this tool's mark, kept when a marked workbook is saved as .ods."""
    return f'name="{MARK}"'.encode() in package.read("meta.xml")


class Beside(NamedTuple):
    """By table: merged cells, error cells, rows struck through, and hidden rows and columns, from 1."""

    merges: dict[str, Merges]
    errors: dict[str, Cells]
    struck: dict[str, list[int]]
    hidden: dict[str, tuple[list[int], list[int]]]


def beside_values(package: Package) -> Beside:
    """Return what stands beside a file's values; error cells are those that calamine leaves blank.

    Merges are 1-based (first row, first column, last row, last column), cells 1-based (row, column).
    Inflates the content once in any case, which finds a part that holds more than it announces.
    """
    told = Beside({}, {}, {}, {})
    if not any(package.holds(_CONTENT, _TELLING)):
        return told
    content = BytesIO(b"".join(package.pieces(_CONTENT)))
    walk = _Walk(told)
    try:
        for event, element in ElementTree.iterparse(content, ("start", "end"), forbid_dtd=True):
            if event == "start" and element.tag == f"{_TABLE}table":
                walk.begin(element.get(f"{_TABLE}name", ""))
            elif event == "end" and element.tag == f"{_STYLE}style":
                walk.style(element)
            elif event == "end" and element.tag == f"{_TABLE}table-column":
                walk.column(element)
            elif event == "end" and element.tag == f"{_TABLE}table-row":
                walk.row(element)
                element.clear()
    except Exception as problem:  # defusedxml and expat share no base class
        raise Refused("damaged") from problem
    return told


class _Walk:
    """One way through the content: the styles first, then each table's columns and rows."""

    def __init__(self, told: Beside) -> None:
        self._told = told
        self._lined: set[str] = set()  # styles of cells, and of parts of texts
        self._name, self._at, self._column = "", 1, 1
        self._usual: list[str] = []  # the style of each column's cells

    def begin(self, name: str) -> None:
        self._name, self._at, self._column, self._usual = name, 1, 1, []
        self._told.merges.setdefault(name, [])
        self._told.errors.setdefault(name, {})

    def style(self, element: ElementTree.Element) -> None:
        through = (text.get(_THROUGH, "none") for text in element.iter(f"{_STYLE}text-properties"))
        if any(said != "none" for said in through):
            self._lined.add(element.get(f"{_STYLE}name", ""))

    def column(self, element: ElementTree.Element) -> None:
        count = min(_count(element, "number-columns-repeated"), _WIDEST)
        self._usual += [element.get(f"{_TABLE}default-cell-style-name", "")] * count
        if element.get(f"{_TABLE}visibility") == "collapse":
            _, columns = self._told.hidden.setdefault(self._name, ([], []))
            columns += range(self._column, self._column + count)
        self._column += count

    def row(self, line: ElementTree.Element) -> None:
        row, again = self._at, _count(line, "number-rows-repeated")
        self._at += again
        cells = list(_filled_cells(line))
        _walk(line, row, self._told.merges[self._name], self._told.errors[self._name])
        lined = sum(self._is_lined(cell, column) for cell, column in cells)
        if cells and 2 * lined >= len(cells):
            self._told.struck.setdefault(self._name, []).extend(
                range(row, row + min(again, _LONGEST))
            )
        if cells and line.get(f"{_TABLE}visibility") == "collapse":
            rows, _ = self._told.hidden.setdefault(self._name, ([], []))
            rows += range(row, row + min(again, _LONGEST))

    def _is_lined(self, cell: ElementTree.Element, column: int) -> bool:
        usual = self._usual[column - 1] if column <= len(self._usual) else ""
        named = {cell.get(f"{_TABLE}style-name") or usual}
        named |= {span.get(f"{_TEXT}style-name", "") for span in cell.iter(f"{_TEXT}span")}
        return bool(named & self._lined)


def _filled_cells(line: ElementTree.Element) -> Iterator[tuple[ElementTree.Element, int]]:
    column = 1
    for cell in line:
        if cell.find(f"{_TEXT}p") is not None:
            yield cell, column
        column += _count(cell, "number-columns-repeated")


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
