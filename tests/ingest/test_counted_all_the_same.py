"""A load that was set aside with a question counts where the answer says so, and not where it does not."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.ingest import read_folder
from divert.site.read import read_site

TOML = """[site]
name = "Alder Hollow Yard"
units = "metric"
started = 2025-01-01
[[material]]
name = "kitchen scraps"
before = "landfill"
[[source]]
name = "North kitchen"
"""
ROWS = """Date,Source,Material,Weight (kg),Notes
2025-03-03,North kitchen,kitchen scraps,20,
2025-03-07,North kitchen,kitchen scraps,24,two of these pails were counted twice
2025-03-10,North kitchen,kitchen scraps,25,
"""
ANSWER = """[[answer]]
about = "not explained: log.csv!!two of these pails were counted twice"
reason = "asked the crew"
by = "RT"
on = 2025-06-01
"""


@pytest.mark.parametrize(
    ("answer", "masses", "open_"),
    [
        ("", [20, 25], True),
        (ANSWER, [20, 25], False),
        (ANSWER + 'verdict = "leave out"\n', [20, 25], False),
        (ANSWER + 'verdict = "count"\n', [20, 24, 25], False),
    ],
)
def test_an_answer_decides_what_a_note_leaves_open(
    tmp_path: Path, answer: str, masses: list[float], open_: bool
) -> None:
    (tmp_path / "site.toml").write_text(TOML + answer)
    (tmp_path / "log.csv").write_text(ROWS)
    reading = read_folder(read_site(tmp_path), dt.date(2025, 6, 1))
    assert reading.entries["mass_kg"].tolist() == masses
    (asked,) = [f for f in reading.findings if f.code == "not explained"]
    assert (asked.answer is None) == open_
    assert reading.seen == 4  # three loads and the headings
