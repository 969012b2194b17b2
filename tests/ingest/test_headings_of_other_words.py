"""Headings whose words also mean an amount: "Quarter" over months is no fourth of a tote."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.ingest.read import read_folder

from .corpus.book import AS_OF, LB, site
from .corpus.writers import xlsx


def test_a_word_for_a_part_heads_a_column_beside_three_headings(tmp_path: Path) -> None:
    rows = [
        ["Quarter", "Source", "Material", "Weight (lb)"],
        ["2025-07", "School", "food scraps", 40],
    ]
    xlsx(tmp_path / "log.xlsx", {"Log": rows})
    reading = read_folder(site(tmp_path), AS_OF)
    assert reading.entries["date"].dt.date.tolist() == [dt.date(2025, 7, 1)]
    assert reading.entries["mass_kg"].tolist() == pytest.approx([40 * LB])
