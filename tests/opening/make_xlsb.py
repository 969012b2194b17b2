"""A small .xlsb workbook, built record by record, since no library writes the format.

Record numbers and layouts as in Microsoft's [MS-XLSB], from memory; that LibreOffice opens the result
and finds the same cells is tested in test_outside_programs.py.
"""

from __future__ import annotations

import datetime as dt
import io
import struct
import zipfile

_TYPES = "application/vnd.ms-excel"
_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"


def record(number: int, body: bytes = b"") -> bytes:
    """Return one record: number and length in groups of seven bits, then the body."""
    head = bytes([number]) if number < 128 else bytes([number & 127 | 128, number >> 7])
    length, lengths = len(body), []
    while True:
        lengths.append(length & 127 | (128 if length > 127 else 0))
        length >>= 7
        if not length:
            return head + bytes(lengths) + body


def wide(text: str) -> bytes:
    return struct.pack("<I", len(text)) + text.encode("utf-16-le")


def xlsb(
    sheets: dict[str, list[list[object]]],
    *,
    hidden: tuple[str, ...] = (),
    merged: tuple[tuple[int, int, int, int], ...] = (),
    date_1904: bool = False,
) -> bytes:
    """Return a workbook; ``merged`` (1-based) goes on every sheet, dates are cells in style 1."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", _content_types(len(sheets)))
        archive.writestr(
            "_rels/.rels",
            f'<Relationships xmlns="{_RELATIONS}"><Relationship Id="rId1" '
            f'Type="{_OFFICE}/officeDocument" Target="xl/workbook.bin"/></Relationships>',
        )
        links = [
            f'<Relationship Id="rId{n}" Type="{_OFFICE}/worksheet" '
            f'Target="worksheets/sheet{n}.bin"/>'
            for n in range(1, len(sheets) + 1)
        ]
        links.append(f'<Relationship Id="rId99" Type="{_OFFICE}/styles" Target="styles.bin"/>')
        archive.writestr(
            "xl/_rels/workbook.bin.rels",
            f'<Relationships xmlns="{_RELATIONS}">{"".join(links)}</Relationships>',
        )
        book = record(131) + record(153, struct.pack("<II", int(date_1904), 0) + wide(""))
        book += record(143)
        for n, name in enumerate(sheets, start=1):
            state = struct.pack("<II", 1 if name in hidden else 0, n)
            book += record(156, state + wide(f"rId{n}") + wide(name))
        archive.writestr("xl/workbook.bin", book + record(144) + record(132))
        archive.writestr("xl/styles.bin", _styles())
        for n, rows in enumerate(sheets.values(), start=1):
            archive.writestr(f"xl/worksheets/sheet{n}.bin", _sheet(rows, merged, date_1904))
    return out.getvalue()


def _sheet(
    rows: list[list[object]], merged: tuple[tuple[int, int, int, int], ...], date_1904: bool
) -> bytes:
    width = max(map(len, rows))
    out = record(129) + record(148, struct.pack("<4I", 0, len(rows) - 1, 0, width - 1))
    out += record(145)
    for number, row in enumerate(rows):
        out += record(0, struct.pack("<IIHBBBI", number, 0, 300, 0, 0, 0, 0))
        for column, value in enumerate(row):
            out += _cell(column, value, date_1904)
    out += record(146)
    if merged:
        out += record(177, struct.pack("<I", len(merged)))
        for r1, c1, r2, c2 in merged:
            out += record(176, struct.pack("<4I", r1 - 1, r2 - 1, c1 - 1, c2 - 1))
        out += record(178)
    return out + record(130)


def _cell(column: int, value: object, date_1904: bool) -> bytes:
    plain = struct.pack("<II", column, 0)
    if value is None:
        return b""
    if value == "#N/A":
        return record(3, plain + bytes([0x2A]))
    if isinstance(value, str):
        return record(6, plain + wide(value))
    if isinstance(value, bool):
        return record(4, plain + bytes([value]))
    if isinstance(value, dt.date):
        serial = (value - (dt.date(1904, 1, 1) if date_1904 else dt.date(1899, 12, 30))).days
        return record(5, struct.pack("<IId", column, 1, serial))
    return record(5, plain + struct.pack("<d", value))


def _styles() -> bytes:
    def xf(number_format: int) -> bytes:
        return record(47, struct.pack("<5HBBI", 0, number_format, 0, 0, 0, 0, 0, 0))

    out = record(278) + record(611, struct.pack("<I", 1))
    font = struct.pack("<HHHHBBBB", 220, 0, 400, 0, 0, 2, 0, 0)
    out += record(43, font + struct.pack("<BBhBBBBB", 1, 0, 0, 0, 0, 0, 255, 2) + wide("Calibri"))
    out += record(612)
    out += record(626, struct.pack("<I", 1)) + xf(0) + record(627)
    out += record(617, struct.pack("<I", 2)) + xf(0) + xf(14) + record(618)
    return out + record(279)


def _content_types(sheets: int) -> str:
    parts = "".join(
        f'<Override PartName="/xl/worksheets/sheet{n}.bin" ContentType="{_TYPES}.worksheet"/>'
        for n in range(1, sheets + 1)
    )
    return (
        '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
        '<Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Default Extension="bin" ContentType="{_TYPES}.sheet.binary.macroEnabled.main"/>'
        f'{parts}<Override PartName="/xl/styles.bin" ContentType="{_TYPES}.styles"/></Types>'
    )
