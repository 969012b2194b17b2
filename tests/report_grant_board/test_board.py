"""The board's report: four numbers, findings, sources gained and lost, what went wrong."""

from __future__ import annotations

import re

import pytest
import yards
from statements import BOARDS, board_page

from divert.figure_sum import value_of
from divert.figures import to_json


def words(page: str) -> str:
    """Return a page's text without its marks."""
    return " ".join(re.sub(r"<[^>]+>", "", page).split())


@pytest.mark.parametrize("case", BOARDS)
def test_every_figure_is_one_of_the_figures(case: str) -> None:
    figures = BOARDS[case]
    sets = {"period": to_json(figures.period)}
    if figures.before is not None:
        sets["before"] = to_json(figures.before)
    page, printer = board_page(case)
    assert len(re.findall(r'<data class="figure"', page)) > 20
    for figure in printer.printed:
        assert value_of(figure.key, sets) == pytest.approx(figure.value, rel=1e-8, abs=1e-9)


def test_the_year_stands_against_last_year_and_its_target() -> None:
    page = words(board_page("a whole year")[0])
    # 26,850 lb of 2025 and 19,970 lb of 2024 were received (make_figures); the diverted share is
    # 1 - (0.46*0.10 + 0.22 + 0.16*0.04 + 0.08*0.12 + 0.05*0.02 + 0.03*0.05) = 0.7155.
    assert sum(yards.yard.RECEIVED_LB[2025]) == 26850
    assert sum(yards.yard.RECEIVED_LB[2024]) == 19970
    assert round(26850 * 0.7155 / 2000, 1) == 9.6
    assert "In 2025 the site diverted 9.6\xa0short tons (2,000 lb)".replace("\xa0", " ") in page
    assert "more than a year before. The target was not reached." in page
    assert "A year before 7.1" in page  # 19,970 * 0.7155 / 2,000 = 7.14
    assert "Target 12.0" in page


def test_sources_gained_and_lost_are_named() -> None:
    page = words(board_page("a whole year")[0])
    assert "Sources gained: 1; none lost" in page  # yards leaves the offices out of the year before
    assert "New this time: 1" in page and "Alder House Offices" in page


def test_two_hundred_sources_are_cut_short_and_counted() -> None:
    page = words(board_page("two hundred sources")[0])
    assert "Sources now: 200" in page
    assert "and 192 more" in page
    assert len(page) < 20000


def test_a_site_of_one_source_is_told_so() -> None:
    assert "All of it comes from one source" in words(board_page("one source")[0])


def test_a_first_year_has_no_predecessor() -> None:
    page = words(board_page("first year")[0])
    assert "No year before" in page
    assert "than a year before" not in page


def test_a_year_to_date_is_marked_and_keeps_the_even_pace() -> None:
    page = words(board_page("to date")[0])
    assert "to date" in page
    assert re.search(r"(ahead of|behind) an even pace to the target", page)


def test_a_net_below_zero_is_printed_as_such() -> None:
    page = words(board_page("negative net")[0])
    assert "more given off than avoided" in page
    assert "\u2212" in page


def test_what_is_not_recorded_is_left_out() -> None:
    page = words(board_page("nothing but mass")[0])
    assert "No harvest was logged" in page
    assert "Sales of product" not in page and "Worm beds" not in page


def test_what_went_wrong_and_what_to_ask_come_from_the_figures() -> None:
    page = words(board_page("a whole year")[0])
    for wanted in (
        "Weeks without any entry: 2", "Loads turned away", "mostly for: no date",
        "Fed above the ordinary band: Bed 2", "The fill is not recorded for: tote",
        "office paper (14", "not a verified or tradable reduction",
    ):  # fmt: skip
        assert wanted in page.replace("\u202f", " ")
