"""The board's report: four numbers, findings, sources gained and lost, what went wrong."""

from __future__ import annotations

import dataclasses
import datetime as dt
import html
import re

import pytest
import statements
import yards
from statements import BOARDS, board_page
from told import tells

from divert.core.range import Range
from divert.figures.as_json import to_json
from divert.figures.contract import DiversionRate
from divert.figures.figure_sum import value_of
from divert.figures.yard import Contamination, HotRun, Participation, VolumeReduction
from divert.report.board.figures import BoardFigures
from divert.report.charts.known_months import silent_months


def words(page: str) -> str:
    """Return a page's text without its marks."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", "", page)).split())


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
    assert (
        "In 2025 the site diverted an estimated 9.6\xa0short tons (2,000 lb)".replace("\xa0", " ")
        in page
    )
    assert "more than a year before. The target was not reached." in page
    assert "A year before 7.1" in page  # 19,970 * 0.7155 / 2,000 = 7.14
    assert "Target 12.0" in page


def test_sources_gained_and_lost_are_named() -> None:
    page = words(board_page("a whole year")[0])
    assert "Sources gained: 1; none lost" in page  # yards leaves the offices out of the year before
    assert "New this time: 1" in page and "Alder House Offices" in page


def test_a_source_that_has_not_come_yet_is_not_called_lost() -> None:
    now = statements.to_date(
        yards.between(12, 20, label="2025", kind="year"),
    )
    before = yards.between(0, 8, label="2024", kind="year")
    name = before.by_source[0].name
    now = statements.without_source(now, name)
    page = words(statements.board_report(BoardFigures(now, before)))
    assert tells(page, "not seen yet: 1|none gained") and "Not seen yet: 1" in page
    over = dataclasses.replace(now, period=dataclasses.replace(now.period, to_date=False))
    page = words(statements.board_report(BoardFigures(over, before)))
    assert "Sources lost: 1; none gained" in page and "No longer: 1" in page


def test_a_name_the_site_does_not_list_is_no_source_gained_or_lost() -> None:
    page = words(board_page("a misspelt source")[0])
    # The offices brought nothing a year before and are spelt otherwise now: neither gained nor lost.
    assert tells(page, "The same sources")
    assert "Not in the site’s list of sources: 1" in page and "Nroth kitchen" in page


def test_a_year_before_in_which_the_site_began_is_not_compared() -> None:
    began = dataclasses.replace(statements.SITE, started=dt.date(2024, 4, 1))
    page = words(board_page("a whole year", began)[0])
    assert "than a year before." not in page.split("Diverted from disposal")[0]
    assert tells(page, "from Apr 1, 2024|: 7.1")
    # Who came and went can be told all the same; amounts of unlike times are not set against it.
    assert tells(page, "A year before: April 1, 2024|the site began|December 31, 2024")
    # Without the same days of now there is nothing to set beside it: the largest are listed.
    assert "Nothing a year before to compare with" in page
    alike = yards.between(15, 23, label="2025-04-01/2025-12-31")
    figures = dataclasses.replace(BOARDS["a whole year"], alike=alike)
    page = words(statements.board_report(figures, began))
    assert "Sources gained: 1; none lost" in page
    assert tells(page, "same days|: April to December 2025")


def test_a_year_before_with_other_gaps_is_not_compared() -> None:
    # 2 of 52 weeks are missing now; 12 of 52 a year before: 0.04 against 0.23 of the weeks.
    weeks = dataclasses.replace(statements.BEFORE.weeks, missing=12)
    assert (statements.YEAR.weeks.missing, statements.YEAR.weeks.in_period) == (2, 52)
    before = dataclasses.replace(statements.BEFORE, weeks=weeks)
    page = words(statements.board_report(BoardFigures(statements.YEAR, before)))
    assert "from disposal. The target was not reached." in page
    assert "neither is called more or less" in page
    assert "A year before 7.1" in page  # the figure stands all the same


def test_a_month_without_entries_is_not_a_month_of_zero() -> None:
    # Nothing came in May; its week of May 12 to 18 (Thursday May 15) has no entry.
    nothing = Range(0.0, 0.0, 0.0)
    months = tuple(
        dataclasses.replace(m, received=nothing, diverted=nothing) if m.month == "2025-05" else m
        for m in statements.YEAR.by_month
    )
    weeks = dataclasses.replace(statements.YEAR.weeks, missing_weeks=(dt.date(2025, 5, 12),))
    silent = dataclasses.replace(statements.YEAR, by_month=months, weeks=weeks)
    assert silent_months(silent) == {"2025-05"}
    closed = dataclasses.replace(silent, weeks=dataclasses.replace(weeks, missing_weeks=()))
    assert silent_months(closed) == frozenset()  # a month of zero, and known to be one


def test_two_hundred_sources_are_cut_short_and_counted() -> None:
    page = words(board_page("two hundred sources")[0])
    assert "Sources now: 200" in page
    gone = len(statements.BEFORE.by_source)  # none of them has a kitchen's name; ten are shown
    assert f"{200 + gone - 10} more brought less" in page
    assert len(page) < 20000


@pytest.mark.parametrize("case", BOARDS)
def test_no_table_has_more_headings_than_figures(case: str) -> None:
    statements.not_mostly_headings(board_page(case)[0])


def test_a_site_of_one_source_is_told_so() -> None:
    assert tells(words(board_page("one source")[0]), "All|comes from one source")


def test_a_first_year_has_no_predecessor() -> None:
    page = words(board_page("first year")[0])
    assert "No year before" in page
    assert "than a year before" not in page


def test_a_year_to_date_is_marked_and_keeps_the_even_pace() -> None:
    page = words(board_page("to date")[0])
    assert "to date" in page
    assert re.search(r"Target 12.0: (ahead of|behind) an even pace", page)
    # Both are cut at the same day, which the page names once in a sentence.
    assert tells(page, "so far|(last entry: September 30, 2025)")
    assert "Last year is compared up to September 30, 2024" in page
    assert tells(page, "up to Sep 30, 2024:")


def test_a_net_below_zero_is_printed_as_such() -> None:
    page = words(board_page("negative net")[0])
    assert "more given off than avoided" in page
    assert "\u2212" in page


def test_the_diversion_rate_stands_where_rubbish_is_logged() -> None:
    none = BoardFigures(dataclasses.replace(statements.YEAR, diversion_rate=None))
    assert "Diversion rate" not in words(statements.board_report(none))
    rate = DiversionRate(Range(0, 0, 0), Range(500 * yards.LB, 0, 0), 0.9)
    figures = BoardFigures(dataclasses.replace(statements.YEAR, diversion_rate=rate))
    page = words(statements.board_report(figures)).replace("\u202f", " ").replace("\xa0", " ")
    assert tells(page, "Diversion rate|90 %|0.250 short tons (2,000 lb)|hauled away")


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


def test_capacity_is_one_sentence_that_agrees_with_the_questions() -> None:
    page = words(board_page("a whole year")[0])
    assert "above the ordinary" in page and "Bed 2" in page
    assert "room for another source" not in page
    easy = tuple(dataclasses.replace(b, band="ordinary") for b in statements.YEAR.beds)
    figures = dataclasses.replace(statements.YEAR, beds=easy)
    page = words(statements.board_report(BoardFigures(figures)))
    assert "is there room for another source?" in page and "above the ordinary" not in page


def test_years_before_the_first_entry_are_not_years_of_nothing() -> None:
    first, *others = statements.YEAR.by_year
    nothing = Range(0.0, 0.0, 0.0)
    blank = [
        dataclasses.replace(first, label=str(year), start=dt.date(year, 1, 1),
                            end=dt.date(year, 12, 31), received=nothing, diverted=nothing,
                            partial=False)
        for year in (2021, 2022)
    ]  # fmt: skip
    figures = dataclasses.replace(statements.YEAR, by_year=(*blank, first, *others))
    page = words(statements.board_report(BoardFigures(figures)))
    assert "2021" not in page and "2022" not in page
    # One between two years with entries is named for what it is.
    earlier = dataclasses.replace(first, label="2021", start=dt.date(2021, 1, 1),
                                  end=dt.date(2021, 12, 31))  # fmt: skip
    figures = dataclasses.replace(statements.YEAR, by_year=(earlier, blank[1], first, *others))
    page = words(statements.board_report(BoardFigures(figures))).replace("\xa0", " ")
    assert "2022 no entries" in page
    assert "than in 2022" not in page


@pytest.mark.parametrize(
    ("others", "said"), [((), "4"), (((2, 4), (3, 4)), "4"), (((2, 3), (3, 6)), "3 to 6")]
)
def test_what_a_yard_needs_to_know_stands_on_the_page(others, said: str) -> None:
    when = (dt.date(2025, 10, 1), dt.date(2025, 12, 31))
    share = Range(0.054, 0.052, 0.057)
    figures = BoardFigures(
        dataclasses.replace(
            statements.YEAR,
            contamination=(
                Contamination("Hill kitchen", "2025-Q4", *when, 1000.0, 54.0, share, growing=True),
            ),
            participation=(
                Participation("2025-01", 4, 20, 6.5, 1, 2),
                *(Participation(f"2025-{m:02}", n, 9, 6.5, 0, 0) for m, n in others),
            ),
            volume_reduction=VolumeReduction(40.0, 10.0, 0.25),
            process_log=(HotRun("Pile A", 9, 62.0, 4, *when),),
        )
    )
    page = words(statements.board_report(figures)).replace("\u202f", " ").replace("\xa0", " ")
    assert "Contamination grows for Hill kitchen" in page and "5.2 to 5.7" in page
    assert f"Sources that brought something in a month: {said}." in page
    assert "by volume, over 12 months: 25 %." in page
    assert "longest run of days on record at or above 55 °C: 4" in page
    assert "These records are not proof of pathogen reduction" in page


def test_a_fee_avoided_is_the_givers_saving_and_no_income() -> None:
    money = dataclasses.replace(
        statements.YEAR.money, disposal_fee_avoided=Range(900.0, 800.0, 1000.0), sales=100.0,
        spent=500.0,
    )  # fmt: skip
    page = words(
        statements.board_report(BoardFigures(dataclasses.replace(statements.YEAR, money=money)))
    )
    assert tells(page, "Sales|not cover|spent")
    assert "what the givers saved, at the stated fee" in page


def released(within_20: float, within_100: float) -> str:
    """Return the board's page where so much of the methane is released by 20 and by 100 years."""
    emissions_within = {
        years: Range(kg, kg * 0.8, kg * 1.2)
        for years, kg in (("20", within_20), ("100", within_100))
    }
    figures = dataclasses.replace(statements.YEAR, emissions_within=emissions_within)
    page = words(statements.board_report(BoardFigures(figures)))
    return page.replace("\u202f", " ").replace("\xa0", " ")


def test_most_of_the_methane_is_said_only_where_it_is_most() -> None:
    said = "over the following decades, most of it in the first two (97 %)."
    assert said in released(1455.0, 1500.0)
    assert "over the following decades, 33 % of it in the first two." in released(33.0, 100.0)
    assert "over the following decades, 50 % of it in the first two." in released(504.0, 1000.0)
    assert "following decades" not in released(0.0, 0.0)


def test_what_is_not_all_weighed_is_called_an_estimate() -> None:
    weighed = dataclasses.replace(statements.YEAR, basis={"weighed": 1.0})
    page = words(statements.board_report(BoardFigures(weighed)))
    assert "the site diverted 9.6" in page and "diverted an estimated" not in page


def test_what_each_standing_carries_stands_in_a_table() -> None:
    rests = {"mass": {"weighed": 0.6, "quoted": 0.396, "memory": 0.004},
             "landfill_avoided": {"quoted": 1.0}}  # fmt: skip
    figures = dataclasses.replace(statements.YEAR, standing=rests)
    page = words(statements.board_report(BoardFigures(figures)))
    assert "Published value, not yet checked against its table 0.4 –" in page
    assert "Published value, seen as quoted 39.6 100.0" in page


def test_moisture_and_turnings_of_a_pile_stand_on_the_page() -> None:
    when = (dt.date(2025, 10, 1), dt.date(2025, 10, 4))
    log = (
        HotRun("Pile A", 9, 62.0, 4, *when, driest=0.42, wettest=0.58, turned=3.0),
        HotRun("Pile B", 0, None, 0, None, None, driest=0.5, wettest=0.5),
    )
    figures = BoardFigures(dataclasses.replace(statements.YEAR, process_log=log))
    page = words(statements.board_report(figures)).replace("\u202f", " ").replace("\xa0", " ")
    assert tells(page, "Pile A: moisture 42 to 58 %|Pile A: turned|: 3.")
    assert tells(page, "Pile B: moisture 50 to 50 %") and "Pile B: longest" not in page
