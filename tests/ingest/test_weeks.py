"""Missed weeks are asked about where a manager would ask, and only there."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from divert.core.findings import Finding
from divert.core.reading import InputFile
from divert.ingest.grid import Cell, Grid, Opened
from divert.ingest.read import read_opened

from .corpus.book import AS_OF, site

MONDAY = dt.date(2024, 9, 2)


def asked(*weeks_by_source: tuple[str, list[int]], **changes: object) -> dict[str, Finding]:
    """Return the questions about weeks, by name, for sources that came in some weeks."""
    rows: list[list[Cell]] = [["Date", "Source", "Material", "Weight (lb)"]]
    rows += [
        [MONDAY + dt.timedelta(weeks=week), source, "food scraps", 40 + week % 7]
        for source, weeks in weeks_by_source
        for week in weeks
    ]
    opened = Opened(InputFile("f.xlsx", "0", 1), (Grid("f.xlsx", "Log", rows),))
    reading = read_opened([opened], site(Path(), **changes), AS_OF)
    return {f.name: f for f in reading.findings if f.code == "weekly habit broken"}


def test_a_week_missed_now_and_then_is_asked_about_once_a_source() -> None:
    came = [w for w in range(40) if w not in (7, 21)]
    found = asked(("hotel", came), ("school", list(range(40))))
    assert list(found) == ["Harborside Hotel"]
    assert found["Harborside Hotel"].rows == 2
    assert "2024-10-21, 2025-01-27" in str(found["Harborside Hotel"].message)


def test_a_schools_summer_is_no_slip() -> None:
    terms = [*range(40), *range(51, 70)]  # eleven weeks of summer
    assert asked(("school", terms), ("hotel", list(range(70)))) == {}


def test_weeks_without_anybody_are_one_question_for_the_site() -> None:
    came = [w for w in range(30) if w not in (16, 17)]
    found = asked(("school", came), ("hotel", came), ("ladle", came))
    assert list(found) == ["all sources"]
    assert found["all sources"].rows == 2


def test_closed_weeks_are_not_asked_about() -> None:
    came = [w for w in range(30) if w != 16]
    closed = ((MONDAY + dt.timedelta(weeks=16), MONDAY + dt.timedelta(weeks=16, days=6)),)
    assert asked(("school", came), ("hotel", came), closed=closed) == {}


def test_a_source_that_comes_every_other_week_has_no_weekly_habit() -> None:
    assert asked(("hotel", list(range(0, 40, 2))), ("school", list(range(40)))) == {}


def test_three_weeks_in_a_row_are_a_slip_and_four_are_a_season() -> None:
    """37 of 40 weeks are more than nine in ten."""
    three = asked(
        ("hotel", [w for w in range(40) if w not in (10, 11, 12)]), ("school", [*range(40)])
    )
    assert [(name, f.rows) for name, f in three.items()] == [("Harborside Hotel", 3)]
    four = [w for w in range(40) if w not in (10, 11, 12, 13)]
    assert asked(("hotel", four), ("school", [*range(40)])) == {}
