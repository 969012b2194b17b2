"""Which days a board report is made from, and which it is set against."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from make_workings import small_workings

from divert.period import read_period
from divert.report.job import jobs_for

STARTED = dt.date(2024, 1, 1)


def test_a_year_to_date_is_set_against_last_year_up_to_the_day_of_its_last_entry(
    tmp_path: Path,
) -> None:
    # Every 14 days from January 3, 2024 on: the last delivery before June 29, 2025 is that of
    # June 18 (532 days later). In September nothing is known of July and August.
    as_of = dt.date(2025, 9, 30)
    period = read_period("2025", as_of=as_of, started=STARTED)
    (job,) = jobs_for(small_workings(tmp_path), "board", period, as_of, None)
    assert job.sets["period"].period.last_entry == dt.date(2025, 6, 18)
    before = job.sets["before"].period
    assert (before.start, before.end) == (dt.date(2024, 1, 1), dt.date(2024, 6, 18))


def test_a_year_that_is_over_is_set_against_the_whole_of_the_last(tmp_path: Path) -> None:
    as_of = dt.date(2026, 1, 10)
    period = read_period("2025", as_of=as_of, started=STARTED)
    (job,) = jobs_for(small_workings(tmp_path), "board", period, as_of, None)
    before = job.sets["before"].period
    assert (before.start, before.end) == (dt.date(2024, 1, 1), dt.date(2024, 12, 31))


def test_a_first_year_has_nothing_to_be_set_against(tmp_path: Path) -> None:
    as_of = dt.date(2025, 7, 3)
    period = read_period("2024", as_of=as_of, started=STARTED)
    (job,) = jobs_for(small_workings(tmp_path), "board", period, as_of, None)
    assert set(job.sets) == {"period"}
