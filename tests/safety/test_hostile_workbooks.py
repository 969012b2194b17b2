"""A bad file costs one finding, in good time, and never the run."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
import xlsxwriter
from hostile import (
    open_with_a_good_one,
    refusal,
    saying_it_is_small,
    site,
    with_part_of,
    with_parts,
    workbook,
)
from processor import at_most

from divert.ingest.opening import open_folder

SHEET = "xl/worksheets/sheet1.xml"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def _zipped(parts: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return out.getvalue()


@pytest.fixture(scope="module")
def bomb() -> bytes:
    """A workbook of about 400 kB whose sheet unpacks to 400 MB of empty rows."""
    head = f'<worksheet xmlns="{MAIN}"><sheetData>'.encode()
    return with_part_of(
        workbook(), SHEET, head, b"<row/>" * 100_000, 667, b"</sheetData></worksheet>"
    )


def test_a_zip_bomb_is_not_unpacked(tmp_path: Path, bomb: bytes) -> None:
    assert len(bomb) < 1_000_000
    with at_most(3):
        assert "unpack" in refusal(open_with_a_good_one(tmp_path, "b.xlsx", bomb))


def test_a_zip_bomb_that_says_it_is_small_is_not_unpacked(tmp_path: Path, bomb: bytes) -> None:
    liar = saying_it_is_small(bomb, SHEET, 1000)
    with zipfile.ZipFile(io.BytesIO(liar)) as archive:
        assert archive.getinfo(SHEET).file_size == 1000
    with at_most(3):
        assert "unpack" in refusal(open_with_a_good_one(tmp_path, "b.xlsx", liar))


def test_parts_that_share_their_bytes_are_refused(tmp_path: Path) -> None:
    """One packed part, listed under many names (the way of the bombs that nest without nesting)."""
    data = _zipped({SHEET: b"<row/>" * 50_000})
    at = data.index(b"PK\x01\x02")
    end = data.index(b"PK\x05\x06")
    entry = data[at:end]
    entries = b"".join(
        entry.replace(SHEET.encode(), f"xl/worksheets/s{n:05}.xml".encode()) for n in range(200)
    )
    tail = bytearray(data[end:])
    tail[8:12] = (200).to_bytes(2, "little") * 2
    tail[12:16] = len(entries).to_bytes(4, "little")
    refusal(open_with_a_good_one(tmp_path, "b.xlsx", data[:at] + entries + tail))


def test_thousands_of_parts_are_refused(tmp_path: Path) -> None:
    data = with_parts(workbook(), {f"xl/worksheets/x{n}.xml": b"" for n in range(6000)})
    assert "parts" in refusal(open_with_a_good_one(tmp_path, "b.xlsx", data))


def test_two_cells_in_opposite_corners_do_not_fill_the_memory(tmp_path: Path) -> None:
    sheet = (
        f'<worksheet xmlns="{MAIN}"><sheetData><row r="1"><c r="A1"><v>1</v></c></row>'
        '<row r="1048576"><c r="XFD1048576"><v>2</v></c></row></sheetData></worksheet>'
    )
    data = with_parts(workbook(), {SHEET: sheet.encode()})
    refusal(open_with_a_good_one(tmp_path, "b.xlsx", data))


def test_a_million_empty_columns_are_no_cells(tmp_path: Path) -> None:
    text = "Date,lb" + "," * 1_000_000 + "\n2025-03-01,4" + "," * 1_000_000 + "\n"
    opened = open_with_a_good_one(tmp_path, "b.csv", text.encode())
    assert opened.grids[0].rows == [["Date", "lb"], ["2025-03-01", "4"]]
    columns = "".join(f'<c r="{c}2" s="0"/>' for c in ("C", "ZZ", "XFD"))
    sheet = (
        f'<worksheet xmlns="{MAIN}"><cols><col min="1" max="16384" width="9"/></cols><sheetData>'
        f'<row r="1"><c r="A1"><v>1</v></c></row><row r="2">{columns}</row></sheetData></worksheet>'
    )
    data = with_parts(workbook(), {SHEET: sheet.encode()})
    opened = open_with_a_good_one(tmp_path, "b.xlsx", data)
    assert opened.grids[0].rows == [[1.0]]


def _ods(rows: str, doctype: str = "") -> bytes:
    content = (
        f'<?xml version="1.0"?>{doctype}<office:document-content '
        'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
        'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
        'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body>'
        f'<office:spreadsheet><table:table table:name="Log">{rows}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    manifest = (
        '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{kind}"/>'
        "</manifest:manifest>"
    )
    return _zipped(
        {
            "mimetype": kind.encode(),
            "META-INF/manifest.xml": manifest.encode(),
            "content.xml": content.encode(),
        }
    )


def test_a_cell_repeated_a_million_times_each_way_does_not_fill_the_memory(tmp_path: Path) -> None:
    cell = (
        '<table:table-cell office:value-type="string" table:number-columns-repeated="1000000">'
        "<text:p>x</text:p></table:table-cell>"
    )
    rows = f'<table:table-row table:number-rows-repeated="1000000">{cell}</table:table-row>'
    with at_most(10):
        refusal(open_with_a_good_one(tmp_path, "b.ods", _ods(rows)))


def test_one_long_text_shared_by_many_cells_does_not_fill_the_memory(tmp_path: Path) -> None:
    strings = f'<sst xmlns="{MAIN}" count="1" uniqueCount="1"><si><t>{"x" * 32_000}</t></si></sst>'
    cells = "".join(f'<row r="{r}"><c r="A{r}" t="s"><v>0</v></c></row>' for r in range(1, 60_001))
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData>{cells}</sheetData></worksheet>'
    parts = {"xl/sharedStrings.xml": strings.encode(), SHEET: sheet.encode()}
    data = with_parts(workbook(), parts)
    assert len(data) < 1_000_000
    with at_most(10):
        refusal(open_with_a_good_one(tmp_path, "b.xlsx", data))


LAUGHS = (
    '<!DOCTYPE x [<!ENTITY a0 "ha">'
    + "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10))
    + "]>"
)


def _secret(folder: Path) -> str:
    secret = folder.parent / "secret.txt"
    secret.write_text("the combination is 4711")
    return f'<!DOCTYPE x [<!ENTITY a9 SYSTEM "{secret.as_uri()}">]>'


@pytest.mark.parametrize("kind", ["expanding", "outside"])
@pytest.mark.parametrize("where", ["strings", "sheet", "book", "ods"])
def test_no_entity_is_expanded(tmp_path: Path, kind: str, where: str) -> None:
    doctype = LAUGHS if kind == "expanding" else _secret(tmp_path)
    strings = f'<sst xmlns="{MAIN}" count="1" uniqueCount="1"><si><t>&a9;</t></si></sst>'
    cell = '<c r="A1" t="s"><v>0</v></c>'
    if where == "sheet":
        cell = '<c r="A1" t="inlineStr"><is><t>&a9;</t></is></c><c r="B1" t="e"><v>#N/A</v></c>'
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData><row r="1">{cell}</row></sheetData></worksheet>'
    if where == "ods":
        cell = '<table:table-cell table:number-columns-spanned="2" office:value-type="string">'
        row = f"<table:table-row>{cell}<text:p>&a9;</text:p></table:table-cell></table:table-row>"
        data = _ods(row, doctype)
    else:
        parts = {"xl/sharedStrings.xml": strings, SHEET: sheet}
        if where == "book":
            with zipfile.ZipFile(io.BytesIO(workbook())) as archive:
                book = archive.read("xl/workbook.xml").decode()
            # An error cell makes the titles of the sheets be looked up in the workbook's own XML.
            parts[SHEET] = sheet.replace("</row>", '<c r="C1" t="e"><v>#N/A</v></c></row>')
            parts["xl/workbook.xml"] = book.replace('name="Log"', 'name="&a9;"')
        part = {"strings": "xl/sharedStrings.xml", "sheet": SHEET, "book": "xl/workbook.xml"}[where]
        parts[part] = (
            parts[part].replace("<", f"{doctype}<", 1)
            if where != "book"
            else (parts[part].replace("<workbook", f"{doctype}<workbook", 1))
        )
        data = with_parts(workbook(), {name: text.encode() for name, text in parts.items()})
    with at_most(5):
        opened = open_with_a_good_one(tmp_path, "b.ods" if where == "ods" else "b.xlsx", data)
    said = repr(opened)
    assert "haha" not in said
    assert "4711" not in said


def test_links_to_other_workbooks_are_not_followed(tmp_path: Path) -> None:
    other = tmp_path / "elsewhere"
    other.mkdir()
    (other / "b.xlsx").write_bytes(workbook())
    link = (
        f'<externalLink xmlns="{MAIN}" xmlns:r="http://schemas.openxmlformats.org/officeDocument/'
        '2006/relationships"><externalBook r:id="rId1"/></externalLink>'
    )
    target = (
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        '<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
        f'relationships/externalLinkPath" Target="{(other / "b.xlsx").as_uri()}" '
        'TargetMode="External"/></Relationships>'
    )
    sheet = (
        f'<worksheet xmlns="{MAIN}"><sheetData><row r="1"><c r="A1"><f>[1]Log!B2</f><v>77</v></c>'
        '<c r="B1"><f>WEBSERVICE("http://kestrel.example/x")</f><v>78</v></c></row></sheetData>'
        "</worksheet>"
    )
    data = with_parts(
        workbook(),
        {
            SHEET: sheet.encode(),
            "xl/externalLinks/externalLink1.xml": link.encode(),
            "xl/externalLinks/_rels/externalLink1.xml.rels": target.encode(),
        },
    )
    opened = open_with_a_good_one(tmp_path, "b.xlsx", data)
    assert opened.grids[0].rows == [[77.0, 78.0]]  # as stored: nothing fetched, nothing calculated


def test_a_parts_path_leads_nowhere(tmp_path: Path) -> None:
    data = with_parts(workbook(), {"../../../escaped.xml": b"x", "/etc/escaped.xml": b"x"})
    assert len(open_with_a_good_one(tmp_path, "b.xlsx", data).grids) == 1
    assert not list(tmp_path.parent.rglob("escaped.xml"))


def test_macros_are_never_looked_at(tmp_path: Path) -> None:
    data = with_parts(workbook(), {"xl/vbaProject.bin": b"\xff not a project " * 1000})
    opened = open_with_a_good_one(tmp_path, "b.xlsm", data)
    assert opened.grids[0].rows == [["Date", "lb"], ["2025-03-01", 4.0]]
    assert opened.findings == ()


def _locked_entries() -> bytes:
    data = bytearray(workbook())
    for mark, at in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        start = data.find(mark)
        while start >= 0:
            data[start + at] |= 1
            start = data.find(mark, start + 4)
    return bytes(data)


OLD_OFFICE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("b.xlsx", b"", "empty"),
        ("b.csv", b"", "empty"),
        ("b.csv", b"\r\n \r\n", "empty"),
        ("b.ods", b"\0" * 5000, "empty"),
        ("b.xlsx", b"<!DOCTYPE html><html><table><tr><td>1</td></tr></table></html>", "web page"),
        ("b.xls", b"\xef\xbb\xbf  <html><body>session ended</body></html>", "web page"),
        ("b.csv", b"<html><body>session ended</body></html>", "web page"),
        ("b.xls", b'<?xml version="1.0"?><Workbook/>', "XML"),
        ("b.xlsx", b"Date,lb\n2025-03-01,4\n", "plain text"),
        ("b.csv", workbook(), "workbook"),
        ("b.xlsx", _zipped({"photo.jpg": b"\xff\xd8\xff"}), "no workbook"),
        ("b.xlsx", _zipped({}), "no workbook"),
        ("b.xlsx", workbook()[:2000], "damaged"),
        ("b.xlsx", workbook()[100:], "damaged"),
        ("b.xls", OLD_OFFICE + b"\0" * 600, "damaged"),
        ("b.xlsx", OLD_OFFICE + b"\0" * 600 + "EncryptedPackage".encode("utf-16-le"), "password"),
        ("b.xlsx", _locked_entries(), "password"),
        ("b.csv", bytes(range(256)) * 20, "text"),
        ("b.csv", b"\x89PNG\r\n\x1a\n" + bytes(range(32)) * 50, "text"),
        ("b.csv", b"a," + b"x" * 40_000 + b"\n", "characters"),
    ],
    # Some of the bytes hold the second in which they are made.
    ids=lambda value: value if isinstance(value, str) else "bytes",
)
def test_a_file_that_is_not_what_it_says(
    tmp_path: Path, name: str, data: bytes, words: str
) -> None:
    assert words in refusal(open_with_a_good_one(tmp_path, name, data))


def test_a_huge_file_is_refused_by_its_size(tmp_path: Path) -> None:
    with (tmp_path / "b.csv").open("wb") as file:
        file.truncate(5_000_000_000)  # takes no room on the disk, but would in memory
    with at_most(2):
        (opened,) = open_folder(site(tmp_path))
        assert "100 MB" in refusal(opened)


def test_one_damaged_sheet_leaves_the_others(tmp_path: Path) -> None:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        for name in ("Jan", "Feb", "Mar"):
            book.add_worksheet(name).write("A1", name)
    data = with_parts(out.getvalue(), {"xl/worksheets/sheet2.xml": b"<worksheet><sheetData><row"})
    opened = open_with_a_good_one(tmp_path, "b.xlsx", data)
    assert [(grid.sheet, grid.rows) for grid in opened.grids] == [
        ("Jan", [["Jan"]]),
        ("Mar", [["Mar"]]),
    ]
    (finding,) = opened.findings
    assert (finding.level, str(finding.where)) == ("refused", "b.xlsx!Feb")
