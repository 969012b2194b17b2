"""Who brought a load and how it was: both in everyday words, and only the second is a question."""

from __future__ import annotations

import datetime as dt
from itertools import product
from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest.read import read_folder
from divert.site.model import Site

PLACES = ("School", "kitchen", "Hotel", "Cafe", "Community Garden", "house", "Bakery", "cantine")
NAMES = [
    " ".join(two)
    for two in product(("Quillmarsh", "North", "Old Mill", "Alder", "Big", "Cold", "Old"), PLACES)
]
DEGREES = ("very", "quite", "too", "all")
REMARKS = [" ".join(two) for two in product(DEGREES, ("wet", "dirty", "soggy", "full", "heavy"))]


def read(folder: Path, *said: str) -> Reading:
    """Read a log of loads of 4 lb, with a text of these in the column for sources of each."""
    rows = [f"2025-03-{day:02d},{text},food scraps,4\n" for day, text in enumerate(said, start=1)]
    (folder / "log.csv").write_text("Date,Source,Material,Weight (lb)\n" + "".join(rows))
    site = Site(folder, "Kestrel Bend Community Farm", "us", dt.date(2024, 4, 1))
    return read_folder(site, dt.date(2025, 7, 1))


@pytest.mark.parametrize("place", PLACES)
def test_a_name_that_nobody_knows_is_no_remark(place: str, tmp_path: Path) -> None:
    names = [name for name in NAMES if name.endswith(place)]
    assert list(read(tmp_path, *names).entries["source"]) == names


@pytest.mark.parametrize("degree", DEGREES)
def test_a_remark_where_a_source_should_stand_is_asked_about(degree: str, tmp_path: Path) -> None:
    remarks = [said for said in REMARKS if said.startswith(degree)]
    reading = read(tmp_path, *remarks)
    assert len(reading.entries) == 0 and len(reading.set_aside) == len(remarks)
    assert "not explained" in {f.code for f in reading.findings}


GIVERS = ("kitchen", "school", "farm", "restaurant", "stall", "cuisine", "ecole")  # of any kind


@pytest.mark.parametrize("state", ["big", "small", "cold", "old", "grande", "verte"])
def test_a_word_for_a_giver_makes_a_name_of_a_word_for_a_state(state: str, tmp_path: Path) -> None:
    names = [f"{state} {giver}" for giver in GIVERS]
    assert list(read(tmp_path, *names).entries["source"]) == names
