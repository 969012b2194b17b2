"""Files made to do harm, and the folder they are read from."""

from __future__ import annotations

import io
import struct
import zipfile
from pathlib import Path

import xlsxwriter
from opening.open_all import site

from divert.ingest.grid import Opened
from divert.ingest.opening import open_folder


def open_with_a_good_one(folder: Path, name: str, data: bytes) -> Opened:
    """Return what becomes of one bad file; a good file before and after it must be read all the same."""
    good = [["Date", "lb"], ["2025-03-01", "4"]]
    for neighbour in ("a.csv", "z.csv"):
        (folder / neighbour).write_text("Date,lb\n2025-03-01,4\n")
    (folder / name).write_bytes(data)
    opened = {one.input.file: one for one in open_folder(site(folder))}
    for neighbour in ("a.csv", "z.csv"):
        assert [grid.rows for grid in opened[neighbour].grids] == [good]
    return opened[name]


def refusal(opened: Opened) -> str:
    """Return the one sentence for a file that was refused, with what to do."""
    assert opened.grids == ()
    (finding,) = opened.findings
    assert (finding.level, finding.code) == ("refused", "file unreadable")
    assert finding.where.file == opened.input.file
    return f"{finding.message}: {finding.hint}"


def workbook() -> bytes:
    """Return a small good workbook."""
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        sheet = book.add_worksheet("Log")
        sheet.write_row("A1", ["Date", "lb"])
        sheet.write_row("A2", ["2025-03-01", 4])
    return out.getvalue()


def with_parts(data: bytes, parts: dict[str, bytes]) -> bytes:
    """Return a workbook with some parts put in, in place of those of the same name."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", 8) as new:
        for name in old.namelist():
            if name not in parts:
                new.writestr(name, old.read(name))
        for name, part in parts.items():
            new.writestr(name, part)
    return out.getvalue()


def with_part_of(data: bytes, name: str, head: bytes, body: bytes, times: int, end: bytes) -> bytes:
    """Return a workbook whose part is ``head + body * times + end``, packed piece by piece."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", 8) as new:
        for other in old.namelist():
            if other != name:
                new.writestr(other, old.read(other))
        with new.open(name, "w") as part:
            part.write(head)
            for _ in range(times):
                part.write(body)
            part.write(end)
    return out.getvalue()


def saying_it_is_small(data: bytes, name: str, size: int) -> bytes:
    """Return a zip archive whose directory understates what one of its parts unpacks to."""
    changed = bytearray(data)
    encoded = name.encode()
    for mark, size_at, name_at in ((b"PK\x03\x04", 22, 30), (b"PK\x01\x02", 24, 46)):
        at = data.find(mark)
        while at >= 0:
            if data[at + name_at : at + name_at + len(encoded)] == encoded:
                struct.pack_into("<I", changed, at + size_at, size)
            at = data.find(mark, at + 4)
    return bytes(changed)
