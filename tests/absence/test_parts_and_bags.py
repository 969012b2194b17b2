"""Half a tote is one tote half full; ten bags of nobody knows what size are no harvest."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.convert import Workings
from divert.core.period import read_period
from divert.figures.compute import figures_for
from divert.inventory.open_site import open_site
from divert.publish.write import write_reports

from .yard import LB, TODAY, books, yard

TOTE = '\n[[container]]\nname = "tote"\nvolume = "18 gal"\ntare = "6.5 lb"\nusual_fill = 0.8\n'
DENSITY = '\n[[material]]\nname = "slops"\nlike = "food-scraps"\ndensity = "4 lb/gal"\n'
DAY = dt.date(2025, 3, 3)


def pounds(folder: Path, head: tuple[str, ...], *cells: object, more: str = "") -> list[float]:
    rows = [(DAY + dt.timedelta(n), "Alder Street", "slops", c) for n, c in enumerate(cells)]
    books(folder / "log.xlsx", {"Intake": (("Date", "Source", "Material", *head), *rows)})
    ledger = open_site(folder, as_of=TODAY).ledger
    return [float(kg) / LB for kg in ledger["mass_kg"]]


def test_a_half_is_a_half_however_it_is_written(tmp_path: Path) -> None:
    """18 gal x 1/2 x 4 lb/gal = 36 lb; a whole tote at its usual 0.8: 57.6 lb."""
    folder = yard(tmp_path, TOTE + DENSITY)
    found = pounds(folder, ("Totes",), "1/2", "half", "½", 0.5, 1)
    assert found == pytest.approx([36, 36, 36, 36, 57.6])


def test_a_half_tote_weighed_gross_loses_a_whole_tare(tmp_path: Path) -> None:
    """50 lb on the scale less 6.5 lb of tote, whether it was half full or full."""
    folder = yard(tmp_path, TOTE + DENSITY)
    rows = [(DAY, "Alder Street", "slops", 0.5, 50), (DAY, "Fernside House", "slops", 1, 50)]
    head = ("Date", "Source", "Material", "Totes", "Gross weight (lb)")
    books(folder / "log.xlsx", {"Intake": (head, *rows)})
    found = open_site(folder, as_of=TODAY).ledger["mass_kg"].to_numpy() / LB
    assert found == pytest.approx([43.5, 43.5])


def test_two_and_a_half_totes_on_the_scale_are_three(tmp_path: Path) -> None:
    """150 lb less 3 x 6.5 lb = 130.5 lb, whether the tare stands in site.toml or beside the weight."""
    folder = yard(tmp_path, TOTE + DENSITY)
    head = ("Date", "Source", "Material", "Totes", "Gross weight (lb)")
    row = (DAY, "Alder Street", "slops", 2.5, 150)
    beside = (*(DAY + dt.timedelta(1), "Fernside House", "slops", 2.5, 150), 6.5)
    books(
        folder / "log.xlsx",
        {"Intake": (head, row), "Intake 2": ((*head, "Tare (lb)"), beside)},
    )
    found = open_site(folder, as_of=TODAY).ledger["mass_kg"].to_numpy() / LB
    assert found == pytest.approx([130.5, 130.5])


def harvest(folder: Path, containers: str = "") -> Workings:
    from .yard import HEAD, ROWS

    yard(folder, containers)
    out = (("Date", "Product", "Bags"), (DAY, "castings", 10), (DAY, "castings", 12))
    books(folder / "log.xlsx", {"Intake": (HEAD, *ROWS), "Harvest": out})
    return open_site(folder, as_of=TODAY)


def test_bags_whose_size_nobody_stated_are_set_aside_and_asked_about(tmp_path: Path) -> None:
    workings = harvest(tmp_path)
    assert not (workings.ledger["kind"] == "harvest").any()
    refused = [f for f in workings.findings if f.level == "refused"]
    assert sum(f.rows for f in refused) == 2
    year = read_period("2025", as_of=TODAY, started=dt.date(2025, 1, 1), year_starts=1)
    assert figures_for(workings, year, TODAY).harvests_set_aside == 2
    write_reports(workings, "board", year, TODAY, formats=("html",), out=tmp_path / "out")
    page = (tmp_path / "out" / "board.html").read_text(encoding="utf-8")
    assert "No harvest was logged" not in page and "No harvest could be counted" in page


def test_bags_of_a_stated_size_are_a_harvest(tmp_path: Path) -> None:
    workings = harvest(
        tmp_path, '\n[[container]]\nname = "bag"\nvolume = "2 gal"\nusual_fill = 1\n'
    )
    out = workings.ledger[workings.ledger["kind"] == "harvest"]
    assert float(out["volume_m3"].sum()) == pytest.approx(22 * 2 * 0.003785411784)
