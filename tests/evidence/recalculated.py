"""Workbooks opened, emptied of their results, and worked out again by a spreadsheet program."""

from __future__ import annotations

import io
import math
import re
import shutil
import subprocess
import zipfile
from collections.abc import Mapping
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook

SOFFICE = shutil.which("soffice") or shutil.which("libreoffice")
needs_office = pytest.mark.skipif(
    SOFFICE is None, reason="LibreOffice (soffice) is not on this machine; CI installs it"
)
# Without this LibreOffice trusts the results a file brings along.
_ALWAYS_RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>"""

Sheets = dict[str, list[list[object]]]


def sheets(workbook: bytes) -> Sheets:
    """Return all cells, formulas by the result that the file brings along."""
    book = CalamineWorkbook.from_filelike(io.BytesIO(workbook))
    return {n: book.get_sheet_by_name(n).to_python(skip_empty_area=False) for n in book.sheet_names}


def inner_files(workbook: bytes) -> dict[str, str]:
    """Return the text of every file in a workbook by its name."""
    with zipfile.ZipFile(io.BytesIO(workbook)) as archive:
        return {name: archive.read(name).decode() for name in archive.namelist()}


def spoiled(workbook: bytes) -> bytes:
    """Return the workbook with a wrong result in every formula cell."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            data = old.read(name)
            if name.startswith("xl/worksheets/sheet"):
                data = re.sub(rb"</f><v>[^<]*</v>", b"</f><v>123456789</v>", data)
            new.writestr(name, data)
    return out.getvalue()


def recalculated(workbooks: Mapping[str, bytes], folder: Path) -> dict[str, Sheets]:
    """Return all cells of several workbooks as LibreOffice works them out, in one start of it.

    Whatever results the files brought along are spoiled first.
    """
    profile = folder / "profile" / "user"
    profile.mkdir(parents=True)
    (profile / "registrymodifications.xcu").write_text(_ALWAYS_RECALCULATE)
    paths = {name: folder / f"{number}.xlsx" for number, name in enumerate(workbooks)}
    for name, path in paths.items():
        path.write_bytes(spoiled(workbooks[name]))
    subprocess.run(
        [str(SOFFICE), f"-env:UserInstallation=file://{profile.parent}", "--headless",
         "--convert-to", "xlsx", "--outdir", str(folder / "out"), *map(str, paths.values())],
        check=True, capture_output=True, timeout=240,
    )  # fmt: skip
    return {name: sheets((folder / "out" / p.name).read_bytes()) for name, p in paths.items()}


def unlike(one: Sheets, other: Sheets) -> list[tuple[str, int, int, object, object]]:
    """Return the cells (sheet, row and column from 1, both values) that differ beyond rounding."""
    out = []
    for sheet, rows in one.items():
        for r, row in enumerate(rows):
            for c, cell in enumerate(row):
                there = (
                    other[sheet][r][c] if r < len(other[sheet]) and c < len(other[sheet][r]) else ""
                )
                if isinstance(cell, float) and isinstance(there, float):
                    same = math.isclose(cell, there, rel_tol=1e-9, abs_tol=1e-9)
                else:
                    same = cell == there
                if not same:
                    out.append((sheet, r + 1, c + 1, cell, there))
    return out


def summary(found: Sheets) -> dict[tuple[str, str], dict[str, object]]:
    """Return the lines of the sheet of every figure by set and figure path, each cell by its key."""
    rows = found["Every figure"]
    at = next(n for n, row in enumerate(rows) if "key" in row and "value" in row)
    keys = [str(k) for k in rows[at]]
    return {
        (str(row[0]), str(row[2])): dict(zip(keys, row, strict=False))
        for row in rows[at + 1 :]
    }  # fmt: skip


def ledger(found: Sheets) -> list[dict[str, object]]:
    """Return the lines of the Ledger sheet, each cell by its column's key."""
    rows = found["Ledger"]
    return [dict(zip([str(k) for k in rows[3]], row, strict=False)) for row in rows[4:]]
