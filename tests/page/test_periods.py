"""Which quarter the page opens its figures on."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from divert.page.periods import last_quarter_logged
from divert.site.model import Site

SITE = Site(Path("nowhere"), "Alder Hollow Yard", "us", dt.date(2025, 1, 1))
TODAY = dt.date(2026, 11, 30)  # the last quarter to have ended is the third


@pytest.mark.parametrize(
    ("days", "label"),
    [
        (("2026-07-01", "2026-11-02"), "2026-Q3"),
        (("2026-03-31", "2026-11-02"), "2026-Q1"),  # nothing came in two quarters
        (("2026-11-02",), "2026-Q3"),  # what is not over yet is not opened on
        (("2024-12-30",), "2026-Q3"),  # from before the site began
        ((), "2026-Q3"),
    ],
)
def test_it_is_the_last_that_has_ended_and_was_logged(days: tuple[str, ...], label: str) -> None:
    found = last_quarter_logged(SITE, [dt.date.fromisoformat(day) for day in days], TODAY)
    assert found.label == label
