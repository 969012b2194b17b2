"""A small yard whose figures are counted by hand, for the tests of what the sum does not hold."""

from __future__ import annotations

import csv
import datetime as dt
from collections.abc import Sequence
from pathlib import Path

import xlsxwriter

LB = 0.45359237  # kg, exactly (NIST Special Publication 811)
TODAY = dt.date(2025, 7, 1)
HEAD = ("Date", "Source", "Material", "Weight (lb)")
SITE = """
[site]
name = "Kestrel Bend Community Farm"
units = "us"
started = 2025-01-01
dates = "month first"

[landfill]
gas_captured = 0.5

[[source]]
name = "Alder Street"
[[source]]
name = "Fernside House"

[[material]]
name = "kitchen scraps"
like = "food-scraps"
before = "landfill"

[[sponsor]]
name = "Two Oaks Credit Union"
funds = 0.25

[[grant]]
name = "Soil and Streams Fund"
from = 2025-01-01
"""

Row = tuple[object, ...]

# Twelve Mondays, alternately from two sources: 100, 101 ... 111 lb, together 1,266 lb.
ROWS: tuple[Row, ...] = tuple(
    (
        dt.date(2025, 3, 3) + dt.timedelta(7 * n),
        ("Alder Street", "Fernside House")[n % 2],
        "kitchen scraps",
        100 + n,
    )
    for n in range(12)
)


def yard(folder: Path, more: str = "") -> Path:
    """Make a folder with site.toml and nothing else."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "site.toml").write_text(SITE + more, encoding="utf-8")
    return folder


def book(path: Path, rows: Sequence[Row] = ROWS, sheet: str = "Intake", head: Row = HEAD) -> Path:
    """Write a workbook of one sheet."""
    return books(path, {sheet: (head, *rows)})


def books(path: Path, sheets: dict[str, Sequence[Row]]) -> Path:
    """Write a workbook of several sheets, each with its heading first."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with xlsxwriter.Workbook(str(path), {"in_memory": True}) as workbook:
        day = workbook.add_format({"num_format": "yyyy-mm-dd"})
        for name, rows in sheets.items():
            page = workbook.add_worksheet(name)
            for number, row in enumerate(rows):
                for column, cell in enumerate(row):
                    if isinstance(cell, dt.date):
                        page.write_datetime(
                            number, column, dt.datetime.combine(cell, dt.time()), day
                        )
                    elif cell is not None:
                        page.write(number, column, cell)
    return path


def text(path: Path, rows: Sequence[Row] = ROWS, head: Row = HEAD) -> Path:
    """Write a CSV file."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(head)
        writer.writerows(rows)
    return path
