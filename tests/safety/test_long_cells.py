"""A cell made to be looked at in every way there is costs no time."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from hostile import site
from processor import at_most

from divert.ingest import read_folder

LONG = [
    "4" * 40 + "lb", "#" * 40 + "x", "no." * 20 + "x", "1" * 30_000, "a" + " " * 5000 + "b", "1" + " " * 5000 + "lb",
    "," * 5000, "a\t" * 2500, "1 " * 2500, "a " * 2500, "1," * 2500, "1/" * 2500, "(" * 5000, "-" * 5000, "Q1" + "-" * 20,
]  # fmt: skip


@pytest.mark.parametrize("text", LONG)
@pytest.mark.parametrize("place", ["heading", "cell", "title"])
def test_a_long_run_is_read_at_once(tmp_path: Path, text: str, place: str) -> None:
    head, cell = (text, "5") if place == "heading" else ("Weight (lb)", text)
    title, cell = (f'"{text}"\n', "5") if place == "title" else ("", cell)
    (tmp_path / "log.csv").write_text(
        f'{title}Date,Material,"{head}"\n2025-03-01,leaves,"{cell}"\n2025-03-02,leaves,6\n'
    )
    with at_most(5):
        reading = read_folder(site(tmp_path), dt.date(2025, 12, 31))
    assert reading.seen >= 2
