"""A sheet as it is shown: what each line counts as, and how its weight came about."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from told import tells

from divert.figures.numbers.printed import Printer
from divert.ingest.cells_held import CellsHeld
from divert.page.again import read_again
from divert.page.grid import sheet_shown
from divert.page.left_out import left_by_sheet
from divert.page.story import story

TOML = """\
[site]
name = "Yard"
started = 2025-01-01
units = "metric"
[[container]]
name = "tote"
volume = "100 L"
[[source]]
name = "stable"
[[sponsor]]
name = "Juniper Trust"
supplies = ["stable"]
[[material]]
name = "manure"
like = "stable-manure"
before = "landfill"
density = "300 kg/m3"
"""
LOG = """\
Date,From,What,Container,How many,How full,Weight (kg)
2025-02-03,stable,manure,,,,10
2025-02-04,stable,manure,tote,2,3/4,
2025-02-31,stable,manure,,,,8
TOTAL,,,,,,18
"""


@pytest.fixture
def read(tmp_path: Path):  # type: ignore[no-untyped-def]
    (tmp_path / "site.toml").write_text(TOML, encoding="utf-8")
    (tmp_path / "log.csv").write_text(LOG, encoding="utf-8")
    cells = CellsHeld()
    _, workings = read_again(tmp_path, dt.date(2025, 3, 1), cells, None)
    opened = cells.of("log.csv")
    assert opened is not None
    return workings, opened.grids[0]


def test_every_line_says_what_it_counts_as(read) -> None:  # type: ignore[no-untyped-def]
    workings, grid = read
    shown = sheet_shown(workings, grid, 1)
    kinds = [(row.number, row.kind) for row in shown.rows]
    assert kinds == [(1, "skip"), (2, "used"), (3, "used"), (4, "aside"), (5, "skip")]
    # 2 totes of 100 L, three quarters full, at 300 kg/m³: 0.2 x 0.75 x 300 = 45 kg
    assert [row.kg for row in shown.rows] == [None, 10.0, pytest.approx(45.0), None, None]
    assert str(shown.rows[3].said) == "no date"
    assert [str(word) for c in shown.columns for word in c.words][:3] == [
        "date",
        "source",
        "material",
    ]


def test_a_lines_story_goes_from_the_box_to_the_claim(read) -> None:  # type: ignore[no-untyped-def]
    workings, _ = read
    told = story(workings, Printer("en", "metric", country="CA"), "log.csv", "", 3)
    assert told is not None and told.mass is not None
    assert told.mass.central == pytest.approx(45.0)
    assert told.mass.low < 45 < told.mass.high
    steps = [(str(s.what), s.comes_to.replace("\u202f", " ")) for s in told.steps]
    assert steps == [
        ("2 × tote, brim-full", "200 L"),
        ("3/4 full, as written", "150 L"),
        ("manure, as site.toml states", "300 kg/m³"),
        ("weight: manure", "45.0 kg"),
        ("went before to: landfill", "claimed"),
    ]
    for_sponsor, for_board = told.goes_into
    assert tells(for_sponsor, "sponsor|Juniper Trust|January to March 2025")
    assert tells(for_board, "board|2025")


def test_a_line_that_does_not_count_has_no_story(read) -> None:  # type: ignore[no-untyped-def]
    workings, _ = read
    assert story(workings, Printer("en", "metric"), "log.csv", "", 4) is None


def test_a_line_that_somebody_left_out_waits_no_more(tmp_path: Path) -> None:
    (tmp_path / "log.csv").write_text(LOG, encoding="utf-8")
    answer = """
[[answer]]
about = "no date: log.csv, 2025-02-31"
reason = "never came"
"""
    for text, kind, said, waiting in (
        (TOML, "aside", "no date", 1),
        (TOML + answer, "skip", "left out", 0),
    ):
        (tmp_path / "site.toml").write_text(text, encoding="utf-8")
        cells = CellsHeld()
        _, workings = read_again(tmp_path, dt.date(2025, 3, 1), cells, None)
        opened = cells.of("log.csv")
        assert opened is not None
        line = sheet_shown(workings, opened.grids[0], 1).rows[3]
        assert (line.number, line.kind, str(line.said)) == (4, kind, said)
        assert len(workings.set_aside) - left_by_sheet(workings).total() == waiting
