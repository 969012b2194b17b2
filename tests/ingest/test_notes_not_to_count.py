"""A note that says not to count leaves the load counted and asks; other notes ask nothing."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from divert.ingest import read_folder
from divert.site_file import read_site

TOML = """[site]
name = "Alder Hollow Yard"
units = "metric"
started = 2025-01-01
[[material]]
name = "kitchen scraps"
[[source]]
name = "North kitchen"
"""
ROWS = """Date,Source,Material,Weight (kg),Notes
2025-03-03,North kitchen,kitchen scraps,20,Do NOT count - school's own
2025-03-04,North kitchen,kitchen scraps,21,counted on the porch
2025-03-05,North kitchen,kitchen scraps,22,déjà comptée lundi
2025-03-06,North kitchen,kitchen scraps,23,
"""


def test_such_a_note_is_asked_about_and_the_load_stays(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_text(TOML)
    (tmp_path / "log.csv").write_text(ROWS, encoding="utf-8")
    reading = read_folder(read_site(tmp_path), dt.date(2025, 4, 1))
    assert reading.entries["mass_kg"].sum() == 20 + 21 + 22 + 23
    asked = [f for f in reading.findings if f.code == "note says not to count"]
    assert [(f.level, f.where.row) for f in asked] == [("query", 2), ("query", 4)]
