"""What .xlsx parts tell beyond calamine's values: error cells, formulas never calculated, our mark.

Calamine gives both an error ("#REF!") and a formula without a stored value as a blank, and a blank
under a date is easily taken for the date above. They are put back as the text they stand for.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from defusedxml import ElementTree

from divert.core.mark import MARK
from divert.sandbox.package import Package
from divert.sandbox.refusal import Refused

_ERROR = rb't="e"'
_NO_VALUE = [rb"</f></c>", rb"</f><v></v>", rb"</f><v/>", rb"</f><v />", rb'"/></c>', rb'" /></c>']
_CELL = re.compile(
    rb"<c ([^<>]*[^<>/])>\s*(?:<f([^<>]*)(?:/>|>([^<]*)</f>))?\s*(?:<v\s*/>|<v>([^<]*)</v>)?\s*</c>"
)
_HIDDEN = b' hidden="'
_IS_HIDDEN = re.compile(rb'\bhidden="(?:1|true)"')
_LINE = re.compile(rb"<row ([^<>]*)>")
_SPAN = re.compile(rb"<col ([^<>]*)>")
_NUMBER = re.compile(rb'\br="([0-9]{1,7})"')
_WIDEST = 200  # columns: what is hidden beyond is the empty rest of the sheet
_TAG = 200  # bytes that hold a row's number


class Held(NamedTuple):
    """What a sheet's XML holds: errors, formulas, hidden lines; and the number of its last row."""

    errors: bool = False
    formulas: bool = False
    hidden: bool = False
    last_row: int = 0


_REFERENCE = re.compile(rb'\br="([A-Z]{1,3})([0-9]{1,7})"')


def is_ours(package: Package) -> bool:
    """Say whether a workbook carries this tool's mark."""
    return f'name="{MARK}"'.encode() in package.read("docProps/custom.xml")


def cells_left_blank(
    package: Package, held: Mapping[str, Held]
) -> Iterator[tuple[str, dict[tuple[int, int], str], int]]:
    """Yield (sheet name, text by 1-based (row, column), formulas without a value) where any are."""
    suspects = [
        name
        for name, sheet in held.items()
        if sheet.errors or (sheet.formulas and any(package.holds(name, _NO_VALUE)))
    ]
    if not suspects:
        return
    titles = sheet_titles(package)
    for name in suspects:
        if name in titles:
            cells, uncalculated = _blank_cells(b"".join(package.pieces(name)))
            if cells:
                yield titles[name], cells, uncalculated


def looked_into(package: Package) -> dict[str, Held]:
    """Return, by the part of each sheet, what it holds.

    Inflates every part once, which also finds those that hold more than they announce.
    """
    parts = package.names(lambda n: n.startswith("xl/") and n.endswith(".xml"))
    held = {name: _held(package.windows(name)) for name in parts}
    return {name: found for name, found in held.items() if "/worksheets/" in name}


def _held(windows: Iterable[bytes]) -> Held:
    held = Held()
    for window in windows:
        at = window.rfind(b"<row ")
        last = _NUMBER.search(window, at, at + _TAG) if at >= 0 else None
        held = Held(
            held.errors or _ERROR in window,
            held.formulas or b"<f" in window,
            held.hidden or _HIDDEN in window,
            int(last[1]) if last else held.last_row,
        )
    return held


def hidden_lines(
    package: Package, held: Mapping[str, Held]
) -> dict[str, tuple[list[int], list[int]]]:
    """Return, by the names of sheets, the rows and the columns (from 1) that somebody has hidden.

    Rows that a filter leaves out are none of them: a filter shows a part, and takes nothing away.
    """
    suspects = [name for name, sheet in held.items() if sheet.hidden]
    titles = sheet_titles(package) if suspects else {}
    found = {}
    for name in suspects:
        sheet = b"".join(package.pieces(name))
        rows = [] if b"<filterColumn" in sheet else _hidden_rows(sheet)
        columns = [c for first, last in _hidden_columns(sheet) for c in range(first, last + 1)]
        if name in titles and (rows or columns):
            found[titles[name]] = rows, columns
    return found


def _hidden_rows(sheet: bytes) -> list[int]:
    lines = _LINE.finditer(sheet)
    return [
        int(n[1]) for line in lines if _IS_HIDDEN.search(line[1]) and (n := _NUMBER.search(line[1]))
    ]


def _hidden_columns(sheet: bytes) -> Iterator[tuple[int, int]]:
    for span in _SPAN.finditer(sheet):
        first, last = (
            re.search(rb'\b%s="([0-9]{1,5})"' % end, span[1]) for end in (b"min", b"max")
        )
        if _IS_HIDDEN.search(span[1]) and first and last:
            yield int(first[1]), min(int(last[1]), _WIDEST)


def _blank_cells(sheet: bytes) -> tuple[dict[tuple[int, int], str], int]:
    cells: dict[tuple[int, int], str] = {}
    uncalculated = 0
    for cell in _CELL.finditer(sheet):
        attributes, shared, formula, value = cell.groups()
        place = _REFERENCE.search(attributes)
        if place is None:
            continue
        at = int(place[2]), _column(place[1].decode("ascii"))
        if _ERROR in attributes:
            cells[at] = (value or b"#N/A").decode("utf-8", "replace")
        elif shared is not None and not value and b't="str"' not in attributes:
            cells[at] = "=" + _plain(formula or b"...")
            uncalculated += 1
    return cells, uncalculated


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def _plain(formula: bytes) -> str:
    text = formula.decode("utf-8", "replace")
    for entity, character in (("&lt;", "<"), ("&gt;", ">"), ("&quot;", '"'), ("&amp;", "&")):
        text = text.replace(entity, character)
    return text


def links(package: Package, part: str) -> dict[str, str]:
    """Return the parts that a workbook's relations lead to, by relation; outside ones left out."""
    found = {}
    for link in parsed(package.read(part)):
        target = link.get("Target", "")
        if link.get("TargetMode") != "External":
            path = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
            found[link.get("Id", "")] = posixpath.normpath(path)
    return found


def sheet_titles(package: Package) -> dict[str, str]:
    """Return the sheets' names by the parts that hold them."""
    parts = links(package, "xl/_rels/workbook.xml.rels")
    titles: dict[str, str] = {}
    for element in parsed(package.read("xl/workbook.xml")).iter():
        if element.tag.rpartition("}")[2] == "sheet":
            for key, value in element.attrib.items():
                if key.rpartition("}")[2] == "id" and value in parts:
                    titles[parts[value]] = element.get("name", "")
    return titles


def parsed(xml: bytes) -> ElementTree.Element:
    """Return a small part as a tree; Refused where it is none."""
    try:
        return ElementTree.fromstring(xml, forbid_dtd=True)
    except Exception as problem:  # defusedxml and expat share no base class
        raise Refused("damaged") from problem
