"""Blank is not zero: a month without entries is neither drawn nor printed as one of nothing."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace

import cases
import pytest
from told import tells

from divert.figures.contract import Figures
from divert.report.charts.known_months import broken_off

NONE = cases.NOTHING


def _without_may(figures: Figures) -> Figures:
    """Return a quarter in whose second month nobody wrote anything down, nor a year before in April."""
    april, may, june = figures.by_month
    months = (replace(april, same_month_last_year=NONE), replace(may, received=NONE, diverted=NONE),
              june)  # fmt: skip
    earlier = tuple(m for m in figures.history if m.month < "2025-04")
    history = tuple(
        replace(m, received=NONE, diverted=NONE) if m.month == "2024-04" else m for m in earlier
    )
    weeks = replace(figures.weeks, missing=4, missing_weeks=(dt.date(2025, 5, 5),))
    return replace(figures, by_month=months, history=(*history, *months), weeks=weeks)


def test_the_table_says_so_and_sums_no_year_before_that_has_a_hole() -> None:
    view = cases.view_of(_without_may(cases.supported()))
    assert view.table is not None
    april, may, june = view.table.rows
    assert (may.received, may.diverted, may.between) == ("no entries", "–", "–")
    assert april.before == "–" and view.table.before == "–"
    # In 2024 May brought 1,400 lb of diverted mass and June 1,500 (make_figures).
    assert str(june.received) != "0"
    whole = cases.view_of(cases.supported()).table
    assert whole is not None
    then = [int(str(row.before).replace(",", "")) for row in whole.rows]
    assert int(str(whole.before).replace(",", "")) == sum(then)


def test_the_chart_draws_no_column_and_says_why() -> None:
    view = cases.view_of(_without_may(cases.supported()))
    assert view.months is not None
    drawing = str(view.months.wide)
    assert re.search(r">no entries</text>", drawing)
    assert ">0</text>" not in drawing
    assert "No column: no entries." in view.months.note
    assert "May: no entries" in drawing  # in what is told to whoever cannot see it
    # Four pairs are left of six: May is not known, nor is its year before.
    assert re.fullmatch(r".* (\d) of \1 months compared", view.months.title)


def test_a_sponsor_who_brought_nothing_while_others_did_has_a_month_of_zero() -> None:
    figures = cases.supplied()
    own = figures.supplied
    assert own is not None
    april, may, june = own.by_month
    quiet = (april, replace(may, received=NONE, diverted=NONE), june)
    view = cases.view_of(replace(figures, supplied=replace(own, by_month=quiet)))
    assert view.table is not None
    assert str(view.table.rows[1].received) == "0"
    assert "no entries" not in str(view.months and view.months.wide)


def test_a_month_that_only_gave_back_is_known() -> None:
    figures = _without_may(cases.supported())
    april, may, june = figures.by_month
    residue = replace(may, diverted=replace(NONE, central=-40.0, low=-40.0, high=-40.0))
    view = cases.view_of(replace(figures, by_month=(april, residue, june)))
    assert view.table is not None
    assert str(view.table.rows[1].diverted.central) == "−88"  # -40 kg are 88.2 lb  # type: ignore[union-attr]


@pytest.mark.parametrize(("language", "words"), [("en", "no entries"), ("fr", "aucune saisie")])
def test_months_after_the_last_entry_of_a_period_to_date(language: str, words: str) -> None:
    figures = cases.supported()
    april, may, june = figures.by_month
    period = replace(
        figures.period, to_date=True, end=dt.date(2025, 6, 20), last_entry=dt.date(2025, 5, 12)
    )
    silent = replace(june, received=NONE, diverted=NONE, partial=True)
    months = (april, may, silent)
    figures = replace(figures, period=period, as_of=dt.date(2025, 6, 20), by_month=months)
    view = cases.view_of(figures, language=language)
    assert view.table is not None and view.months is not None
    assert view.table.rows[2].received == words
    drawn = re.findall(r"<text[^>]*>([^<]*)</text>", str(view.months.wide))
    assert words in " ".join(drawn)
    if language == "en":  # May is known up to the twelfth only
        assert tells(view.months.note, "Open at the top|part")


def test_a_month_the_records_break_off_in_is_not_set_against_a_whole_one() -> None:
    # Written down to May 12, read on June 30: May is over, and its twin of 2024 holds all of it.
    figures = cases.supported()
    period = replace(figures.period, to_date=True, last_entry=dt.date(2025, 5, 12))
    view = cases.view_of(replace(figures, period=period))
    assert view.table is not None
    april, may, _ = view.table.rows
    assert may.before == "–" and april.before != "–"
    # Read on May 20, both end on the same day.
    assert broken_off(replace(figures, period=replace(period, end=dt.date(2025, 5, 20)))) == ""
    # Written down to the end of the month, it is whole.
    last = replace(period, last_entry=dt.date(2025, 5, 31))
    assert broken_off(replace(figures, period=last)) == ""
