"""What .xlsx parts tell beyond calamine's values: error cells, formulas never calculated, our mark.

Calamine gives both an error ("#REF!") and a formula without a stored value as a blank, and a blank
under a date is easily taken for the date above. They are put back as the text they stand for.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator

from defusedxml import ElementTree

from divert.core.mark import MARK
from divert.sandbox.package import Package
from divert.sandbox.refusal import Refused

_ERROR = rb't="e"'
_NO_VALUE = [rb"</f></c>", rb"</f><v></v>", rb"</f><v/>", rb"</f><v />", rb'"/></c>', rb'" /></c>']
_CELL = re.compile(
    rb"<c ([^<>]*[^<>/])>\s*(?:<f([^<>]*)(?:/>|>([^<]*)</f>))?\s*(?:<v\s*/>|<v>([^<]*)</v>)?\s*</c>"
)
_REFERENCE = re.compile(rb'\br="([A-Z]{1,3})([0-9]{1,7})"')


def is_ours(package: Package) -> bool:
    """Say whether a workbook carries this tool's mark."""
    return f'name="{MARK}"'.encode() in package.read("docProps/custom.xml")


def cells_left_blank(
    package: Package,
) -> Iterator[tuple[str, dict[tuple[int, int], str], int]]:
    """Yield (sheet name, text by 1-based (row, column), formulas without a value) where any are.

    Inflates every sheet once, which also finds parts that hold more than they announce.
    """
    suspects = []
    for name in package.names(lambda n: n.startswith("xl/") and n.endswith(".xml")):
        error, formula = package.holds(name, [_ERROR, b"<f"])
        if "/worksheets/" in name and (error or (formula and any(package.holds(name, _NO_VALUE)))):
            suspects.append(name)
    if not suspects:
        return
    titles = sheet_titles(package)
    for name in suspects:
        if name in titles:
            cells, uncalculated = _blank_cells(b"".join(package.pieces(name)))
            if cells:
                yield titles[name], cells, uncalculated


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
