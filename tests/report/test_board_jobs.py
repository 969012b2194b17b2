"""Which days a board report is made from, and which it is set against."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from make_workings import small_workings

from divert.core.period import read_period
from divert.publish.job import jobs_for

STARTED = dt.date(2024, 1, 1)


def test_a_year_to_date_is_set_against_last_year_up_to_the_same_day(tmp_path: Path) -> None:
    # Every 14 days from January 3, 2024 on, up to June 18, 2025: the day compared is that of
    # asking, as in every other report, not that of the last delivery.
    as_of = dt.date(2025, 9, 30)
    period = read_period("2025", as_of=as_of, started=STARTED)
    (job,) = jobs_for(small_workings(tmp_path), "board", period, as_of, None)
    now, before = job.sets["period"], job.sets["before"]
    assert now.period.last_entry == dt.date(2025, 6, 18)
    assert (before.period.start, before.period.end) == (dt.date(2024, 1, 1), dt.date(2024, 9, 30))
    assert now.same_period_last_year is not None
    assert now.same_period_last_year.end == before.period.end
    assert now.same_period_last_year.diverted.central == pytest.approx(
        before.mass.diverted.central, rel=1e-12
    )


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
