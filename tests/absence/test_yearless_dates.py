"""A date without its year proves no order: 6/9 among American dates stays in June."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.ingest import read_folder
from divert.site.read import read_site

from .yard import SITE, text


@pytest.mark.parametrize("setting", ['dates = "month first"', ""])
def test_a_date_without_its_year_takes_the_order_and_year_of_its_column(
    tmp_path: Path, setting: str
) -> None:
    """From January 2024 to July 2025 June lies in two years and 6 September in one."""
    site = SITE.replace('dates = "month first"', setting).replace("2025-01-01", "2024-01-01", 1)
    (tmp_path / "site.toml").write_text(site)
    days = ("5/29/25", "6/9", "6/13/25", "6/20/25")
    text(tmp_path / "log.csv", [(d, "Alder Street", "kitchen scraps", 10) for d in days])
    reading = read_folder(read_site(tmp_path), dt.date(2025, 7, 1))
    found = [d.date().isoformat() for d in reading.entries["date"]]
    assert found == ["2025-05-29", "2025-06-09", "2025-06-13", "2025-06-20"]


def test_where_nothing_tells_the_order_it_is_set_aside(tmp_path: Path) -> None:
    site = SITE.replace('dates = "month first"', "").replace("2025-01-01", "2024-01-01", 1)
    (tmp_path / "site.toml").write_text(site)
    text(tmp_path / "log.csv", [("6/9", "Alder Street", "kitchen scraps", 10)])
    reading = read_folder(read_site(tmp_path), dt.date(2025, 7, 1))
    assert reading.entries.empty and len(reading.set_aside) == 1
