"""A small workbook whose cells are known: a library that reads it wrongly reads nothing of anybody's."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable, Iterator

from divert.sandbox.frames import Frame

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_RELATED = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_SHEETS = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_PARTS = {
    "[Content_Types].xml": f'<Types xmlns="{_TYPES}"><Default Extension="rels" ContentType='
    '"application/vnd.openxmlformats-package.relationships+xml"/><Override PartName='
    f'"/xl/workbook.xml" ContentType="{_SHEETS}.sheet.main+xml"/><Override PartName='
    f'"/xl/worksheets/sheet1.xml" ContentType="{_SHEETS}.worksheet+xml"/></Types>',
    "_rels/.rels": f'<Relationships xmlns="{_PACKAGE}"><Relationship Id="rId1" '
    f'Type="{_RELATED}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
    "xl/workbook.xml": f'<workbook xmlns="{_MAIN}" xmlns:r="{_RELATED}"><sheets>'
    '<sheet name="Log" sheetId="1" r:id="rId1"/></sheets></workbook>',
    "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_PACKAGE}"><Relationship Id="rId1" '
    f'Type="{_RELATED}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
    "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{_MAIN}"><sheetData><row r="1">'
    '<c r="A1" t="inlineStr"><is><t>lb</t></is></c><c r="B1"><v>41.5</v></c></row>'
    '<row r="3"><c r="B3"><v>2</v></c></row></sheetData></worksheet>',
}
_CELLS = [["lb", 41.5], [], [None, 2]]


def reads_well(read: Callable[[bytes, str], Iterator[Frame]]) -> bool:
    """Return whether a reader gives the specimen's one sheet and its cells, whatever it raises."""
    book = io.BytesIO()
    with zipfile.ZipFile(book, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in _PARTS.items():
            archive.writestr(name, text)
    try:
        got = list(read(book.getvalue(), ".xlsx"))
        names = [json.loads(body)[0] for kind, body in got if kind == b"S"]
        rows = [row for kind, body in got if kind == b"R" for row in json.loads(body)]
    except BaseException:  # a panic in calamine's Rust is no Exception
        return False
    while rows and not any(cell is not None for cell in rows[-1]):
        rows.pop()
    return names == ["Log"] and rows == _CELLS
