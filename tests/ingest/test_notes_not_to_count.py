"""A note that begins by saying that its load is none keeps it from being counted; one that says so
in passing asks; other notes do nothing."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from divert.ingest import read_folder
from divert.site.read import read_site

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
2025-03-07,North kitchen,kitchen scraps,24,two of these pails were counted twice
2025-03-10,North kitchen,kitchen scraps,25,"from pile 2, not new"
2025-03-11,North kitchen,kitchen scraps,26,our new cart
"""


def test_such_a_note_is_followed_or_asked_about(tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_text(TOML)
    (tmp_path / "log.csv").write_text(ROWS, encoding="utf-8")
    reading = read_folder(read_site(tmp_path), dt.date(2025, 4, 1))
    assert reading.entries["mass_kg"].tolist() == [21, 23, 26]
    asked = [f for f in reading.findings if f.code == "not explained"]
    assert [(f.level, f.where.row) for f in asked] == [("refused", 6)]
    followed = [f for f in reading.findings if f.code == "correction"]
    assert [(f.level, f.where.row) for f in followed] == [("note", 2), ("note", 4), ("note", 7)]
    assert sorted(reading.skipped.query("reason == 'correction'")["row"]) == [2, 4, 7]
