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


def test_temperature_moisture_and_turnings_stand_side_by_side(tmp_path: Path) -> None:
    """Four columns are told by their headings alone; a note turns no pile, and "no" none either."""
    site = SITE.replace('columns = { date = "A", name = "B", quantity = "C" }\n', "")
    (tmp_path / "site.toml").write_text(site, encoding="utf-8")
    lines = (
        "Date,Windrow,Temp F,Moisture (%),Turned?,Notes",
        "2025-05-01,West,140,55,x,",
        "2025-05-02,West,,52%,no,rain",
        "2025-05-03,West,61 C,,2,",
    )
    (tmp_path / "piles.csv").write_text("\n".join(lines), encoding="utf-8")
    ledger = open_site(tmp_path, as_of=dt.date(2025, 7, 1)).ledger
    assert set(ledger["kind"]) == {"process"} and set(ledger["name"]) == {"West"}
    found = sorted(
        zip(ledger["date"].dt.day, ledger["unit"].astype(str), ledger["amount"], strict=True)
    )
    assert found == [
        (1, "%", 55.0), (1, "turned", 1.0), (1, "°F", 140.0), (2, "%", 52.0), (3, "turned", 2.0),
        (3, "°C", 61.0),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("french", "wanted"),
    [("Température (°C)", "°C"), ("Taux d'humidité %", "%"), ("Retourné", "turned")],
)
def test_french_headings_of_a_process_log(tmp_path: Path, french: str, wanted: str) -> None:
    site = SITE.replace('columns = { date = "A", name = "B", quantity = "C" }\n', "")
    (tmp_path / "site.toml").write_text(site, encoding="utf-8")
    lines = (f"Date,Andain,{french}", "2025-05-01,A,1")
    (tmp_path / "piles.csv").write_text("\n".join(lines), encoding="utf-8")
    ledger = open_site(tmp_path, as_of=dt.date(2025, 7, 1)).ledger
    assert list(zip(ledger["name"], ledger["unit"], strict=True)) == [("A", wanted)]


def test_moisture_kept_as_shares_is_percent(tmp_path: Path) -> None:
    site = SITE.replace('columns = { date = "A", name = "B", quantity = "C" }\n', "")
    (tmp_path / "site.toml").write_text(site, encoding="utf-8")
    lines = ("Date,Pile,Moisture", "2025-05-01,A,0.55", "2025-05-02,A,0.5")
    (tmp_path / "piles.csv").write_text("\n".join(lines), encoding="utf-8")
    ledger = open_site(tmp_path, as_of=dt.date(2025, 7, 1)).ledger
    assert list(ledger["amount"]) == pytest.approx([55.0, 50.0])


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


def test_a_log_of_piles_that_nobody_named_is_not_read_and_says_how(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_text(SITE.split("[[sheet]]")[0], encoding="utf-8")
    lines = ("Date,Pile,Temp F,Moisture %,Turned", "2025-05-01,West,140,55,x")
    (tmp_path / "piles.csv").write_text("\n".join(lines), encoding="utf-8")
    workings = open_site(tmp_path, as_of=dt.date(2025, 7, 1))
    assert workings.ledger.empty
    (said,) = (f for f in workings.findings if f.code == "sheet not read")
    assert 'holds = "process"' in str(said.hint)
