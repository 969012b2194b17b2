"""A process log: temperatures of a pile by day, read where [[sheet]] says that a sheet holds them."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert import open_site

SITE = """[site]
name = "Alder Hollow Yard"
units = "us"
started = 2025-01-01

[[sheet]]
file = "piles.csv"
holds = "process"
columns = { date = "A", name = "B", quantity = "C" }
"""


def entries(folder: Path, heading: str, *cells: str) -> list[tuple[str, str, float, str]]:
    (folder / "site.toml").write_text(SITE, encoding="utf-8")
    rows = [f"2025-05-{day:02},Pile A,{cell}" for day, cell in enumerate(cells, start=1)]
    (folder / "piles.csv").write_text("\n".join([f"Date,Pile,{heading}", *rows]), encoding="utf-8")
    ledger = open_site(folder, as_of=dt.date(2025, 7, 1)).ledger
    return [
        (str(r.kind), str(r.name_), float(r.amount), "" if r.unit != r.unit else str(r.unit))
        for r in ledger.rename(columns={"name": "name_"}).itertuples()
    ]


@pytest.mark.parametrize(
    ("heading", "cell", "amount", "unit"),
    [
        ("Temp F", "140", 140.0, "°F"),
        ("Temperature (°C)", "60", 60.0, "°C"),
        ("Temp F", "61 C", 61.0, "°C"),  # the cell goes before the heading
        ("Temp", "140", 140.0, ""),  # never guessed
    ],
)
def test_degrees_are_the_cells_then_the_headings(
    tmp_path: Path, heading: str, cell: str, amount: float, unit: str
) -> None:
    assert entries(tmp_path, heading, cell) == [("process", "Pile A", amount, unit)]
