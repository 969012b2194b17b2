"""Where two amounts of a row stop being one load, and where a stranger's column stops being a source's."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.core.reading import Reading
from divert.ingest import read_folder
from divert.site.read import read_site

TOML = """[site]
name = "Alder Hollow Yard"
units = "us"
started = 2025-01-01
[[material]]
name = "kitchen scraps"
before = "landfill"
[[source]]
name = "North kitchen"
[[source]]
name = "South kitchen"
"""
LB = 0.45359237  # kg, by definition


def reading_of(folder: Path, *lines: str) -> Reading:
    (folder / "site.toml").write_text(TOML)
    (folder / "log.csv").write_text("\n".join(lines) + "\n")
    return read_folder(read_site(folder), dt.date(2025, 6, 1))


@pytest.mark.parametrize(
    ("after", "net_lb"),
    [
        # 100 lb before and 51 after may be rubbish picked out, or a cart emptied: nobody can tell.
        ((51, 51, 51), []),
        # 49 after: of a load at least half is left when it has been sorted, so this is a cart.
        ((49, 49, 49), [51, 51, 51]),
        # The middle of the rows decides, not each: 20, 40 and 60 lb are left, 40 in the middle.
        ((20, 40, 60), [80, 60, 40]),
    ],
)
def test_before_and_after_are_a_cart_where_less_than_half_is_left(
    tmp_path: Path, after: tuple[int, ...], net_lb: list[float]
) -> None:
    rows = [
        f"2025-03-{3 + n:02},North kitchen,kitchen scraps,100,{left}"
        for n, left in enumerate(after)
    ]
    reading = reading_of(tmp_path, "Date,Source,Material,Before (lb),After (lb)", *rows)
    kg = reading.entries["gross_kg"].fillna(0) + reading.entries["mass_kg"].fillna(0)
    assert kg.tolist() == pytest.approx([lb * LB for lb in net_lb])


@pytest.mark.parametrize(("far_lb", "counted"), [(290, True), (310, False)])
def test_a_stranger_ten_times_above_every_source_is_none(
    tmp_path: Path, far_lb: int, counted: bool
) -> None:
    """The largest source brings 30 lb in the middle of its rows: 290 may be a source's, 310 may not."""
    rows = [f"2025-03-{3 + n:02},20,30,{far_lb}" for n in range(4)]
    reading = reading_of(
        tmp_path, "Date,North kitchen (lb),South kitchen (lb),Overlook (lb)", *rows
    )
    waiting = set(reading.set_aside["column"]) | set(reading.entries["column"])
    assert ("D" in waiting) == counted
