"""Opens a folder of files given as bytes."""

from __future__ import annotations

import datetime as dt
import io
import zipfile
from pathlib import Path

from divert.ingest.grid import Cell, Grid, Opened
from divert.ingest.opening import open_folder
from divert.site.model import Site


def site(folder: Path) -> Site:
    return Site(folder, "Kestrel Bend Community Farm", "us", dt.date(2024, 4, 1))


def open_all(folder: Path) -> dict[str, Opened]:
    """Return what became of each file of a folder, by its name."""
    return {one.input.file: one for one in open_folder(site(folder))}


def open_bytes(folder: Path, name: str, data: bytes) -> Opened:
    """Return what becomes of one file with these bytes."""
    (folder / name).write_bytes(data)
    return open_all(folder)[name]


def rows_of(folder: Path, name: str, data: bytes) -> list[list[Cell]]:
    """Return the rows of the only sheet of a file that must open without a finding."""
    opened = open_bytes(folder, name, data)
    assert opened.findings == ()
    (grid,) = opened.grids
    return grid.rows


def by_sheet(opened: Opened) -> dict[str, Grid]:
    return {grid.sheet: grid for grid in opened.grids}


def rezipped(data: bytes, change: dict[str, tuple[bytes, bytes]]) -> bytes:
    """Return a zip archive with something replaced in some of its parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", 8) as new:
        for name in old.namelist():
            part = old.read(name)
            if name in change:
                assert change[name][0] in part
                part = part.replace(*change[name])
            new.writestr(name, part)
    return out.getvalue()
