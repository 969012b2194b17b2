"""A chart's title says what its numbers say, and no more."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
import warnings
from dataclasses import replace

import pytest
from drawings import DRAWINGS, amount, balance, months, parts, quarters, rising
from told import tells

from divert.core.range import Range
from divert.figures.contract import Span
from divert.report.board.quarters import weighing
from divert.report.charts import by_month, cumulative, mix, quarter_line, strip, years
from divert.report.charts.chart import Look
from divert.report.charts.years import Year, Years

SIDES = {"+": "more", "-": "less", "=": "about the same"}


def compared(sides: str, each: str = "month") -> by_month.ByMonth:
    """Return months that stand to the year before as told: "+" clear above, " " none to compare."""
    data = months([5.0] * len(sides), [4.0] * len(sides))
    columns = tuple(
        replace(c, than_before=SIDES.get(side)) for c, side in zip(data.columns, sides, strict=True)
    )
    return replace(data, columns=columns, each=each)


@pytest.mark.parametrize(
    ("sides", "title"),
    [
        ("++", "More|every month|year before"),
        ("--", "Less|every month|year before"),
        ("++- ", "Clearly more|2 of 3|clearly less in 1"),
        ("++=", "Clearly more|2 of 3|!less"),
        ("=-=", "Clearly less|1 of 3|!more"),
        ("+ +", "Clearly more|2 of 2|!less"),
        ("===", "No month|clearly above or below"),
        ("+", "More|year before|!every|!Clearly"),
        ("-", "Less|year before|!every|!Clearly"),
        ("=", "About as much|year before"),
    ],
)
def test_months_are_counted_only_where_clear_of_the_year_before(sides: str, title: str) -> None:
    assert tells(by_month.finding(compared(sides)), title)


@pytest.mark.parametrize(
    ("now", "before", "title"),
    [
        ([0, 0], [4, 4], "Nothing|months"),
        ([5, 9, 6], None, "Most|Feb 2024"),  # 8.1 to 9.9, the next 5.4 to 6.6
        ([8.7, 9, 6], None, "month by month|!Most"),  # 7.83 to 9.57 meets 8.1 to 9.9
        ([5], None, "Only Jan 2024"),
    ],
)
def test_months(now: list[float], before: list[float] | None, title: str) -> None:
    assert tells(by_month.finding(months(now, before)), title)


@pytest.mark.parametrize(
    ("parts_of_it", "title"),
    [
        ((100, 0, 0), "All|diverted"),
        ((99, 1, 0), "Nearly all|diverted"),
        ((80, 10, 10), "Most|diverted"),
        ((60, 20, 20), "More than half|diverted"),
        ((50, 25, 25), "About half|diverted"),
        ((30, 40, 30), "Less than half|diverted"),
        ((1, 99, 0), "Little|diverted"),
        ((0, 99, 1), "None|diverted"),
        ((-5, 10, 20), "More|taken back out|came in"),
        ((0, 0, 0), "Nothing was received"),
    ],
)
def test_balance(parts_of_it: tuple[float, float, float], title: str) -> None:
    assert tells(strip.finding(balance(*parts_of_it)), title)


@pytest.mark.parametrize(
    ("values", "title"),
    [
        ((("Scraps", 60), ("pulp", 40)), "Mostly scraps"),
        ((("scraps", 40), ("pulp", 30), ("leaves", 30)), "More than half|scraps and pulp"),
        ((("a", 21), ("b", 20), ("c", 19), ("Other", 60)), "largest|a|!half"),
        ((("a", 20), ("b", 20), ("c", 20), ("Other", 40)), "No single material leads"),
        ((("a", 20), ("b", 20), ("Other", 60)), "No single material leads"),
        ((("a", 30), ("b", 30), ("Other", 20)), "More than half|a and b"),
        ((("a", 0), ("b", 0)), "Nothing to divide"),
        ((("a", 10), ("b", -4)), "All of it a"),
        ((("scraps", 60),), "All of it scraps"),
        ((("scraps", -1),), "Nothing to divide"),
    ],
)
def test_mix(values: tuple[tuple[str, float], ...], title: str) -> None:
    assert tells(mix.finding(parts(*values)), title)


@pytest.mark.parametrize(
    ("end", "value", "target", "before", "title"),
    [
        (1.0, 80, 100, None, "Short of the target"),
        (0.5, 60, 100, None, "Ahead|even pace"),
        (0.5, 40, 100, None, "Behind|even pace"),
        (0.5, 60, None, 100, "How|year before|!target"),
        (1.0, 0, None, None, "Nothing was diverted"),
        (1.0, -5, None, None, "More|thrown away|diverted"),
        (0.5, 0, 100, None, "Behind|even pace"),
        (1.0, -5, 100, None, "Short of the target"),
    ],
)
def test_target(end: float, value: float, target: float | None, before: float | None,
                title: str) -> None:  # fmt: skip
    assert tells(cumulative.finding(rising(end, value, target, before)), title)


@pytest.mark.parametrize(
    ("end", "told", "title"),
    [
        (1.0, {"reached": True}, "target was reached|!already"),
        (0.5, {"reached": True}, "reached already"),
        (1.0, {"target": None, "than_before": "less"}, "Less|year before|!same day"),
        (0.5, {"target": None, "than_before": "more"}, "More|year before|same day"),
        (1.0, {"target": None, "than_before": "about the same"}, "About as much|year before"),
    ],
)
def test_a_year_is_judged_by_what_the_page_decided(
    end: float, told: dict[str, object], title: str
) -> None:
    data = replace(rising(end, 90, 100, 100), **told)  # type: ignore[arg-type]
    assert tells(cumulative.finding(data), title)


def test_a_year_that_is_not_whole_is_never_set_against_one_that_is() -> None:
    whole = (Year("2023", amount(90)), Year("2024", amount(100), than_before="more"))
    less_so_far = Year("2025", amount(40), partial=True)
    data = Years((*whole, less_so_far), "Diverted", "pounds")
    assert tells(years.finding(data), "More|2024|2023")
    first = Years((replace(whole[0], partial=True), whole[1]), "Diverted", "pounds")
    assert tells(years.finding(first), "2024|first whole")


def test_an_even_pace_is_counted_from_the_sites_own_start() -> None:
    # Begun at 0.5 of the year, at 0.75 half of its time is over: 50 of 100 is just the even pace.
    data = replace(rising(0.75, 50, 100, None), began=0.5)
    assert tells(cumulative.finding(data), "Ahead|even pace")
    less = replace(rising(0.75, 49, 100, None), began=0.5)
    assert tells(cumulative.finding(less), "Behind|even pace")
    assert tells(cumulative.finding(rising(0.75, 50, 100, None)), "Behind|even pace")


@pytest.mark.parametrize(
    ("sides", "title"),
    [
        ("", "No whole year yet"),
        (" ", "2020|first whole"),
        (" =", "About as much|2021|2020"),
        (" -", "Less|2021|2020"),
        (" +", "More|2021|2020"),
        (" ++", "More|every|one before"),
        (" --", "Less|every|one before"),
        (" +=", "About as much|2022|2021"),
    ],
)
def test_whole_years(sides: str, title: str) -> None:
    data = Years(
        tuple(Year(str(2020 + i), amount(5.0), than_before=SIDES.get(side))  # type: ignore[arg-type]
              for i, side in enumerate(sides)), "", "",
    )  # fmt: skip
    assert tells(years.finding(data), title)
    assert tells(years.finding(replace(data, uneven=True)), "The years so far")


@pytest.mark.parametrize(
    ("shares", "title"),
    [
        ([], "Nothing was received"),
        ([(0, 0)], "Nothing was received"),
        ([(0, 9)], "Nothing was weighed"),
        ([(9, 0), (5, 0)], "Everything was weighed"),
        ([(95, 5)], "Nearly everything was weighed"),
        ([(50, 50)], "About half is weighed"),
        ([(52, 48)], "More|weighed|estimated"),
        ([(48, 52)], "More|estimated|weighed"),
        ([(9, 1), (9, 1), (5, 5), (5, 5)], "shrinking|weighed"),
        ([(1, 9), (1, 9), (5, 5), (5, 5)], "growing|weighed"),
        ([(6, 4), (6, 4), (6, 4), (6, 4)], "More|weighed|estimated"),
    ],
)
def test_weighed(shares: list[tuple[float, float]], title: str) -> None:
    assert tells(weighing([quarter(weighed, rest) for weighed, rest in shares]), title)


def quarter(weighed: float, rest: float) -> Span:
    """Return a quarter by what was weighed of what came in, kg."""
    day, nothing = dt.date(2025, 1, 1), Range(0.0, 0.0, 0.0)
    received = dataclasses.replace(nothing, central=weighed + rest)
    return Span("2025-Q1", day, day, received, nothing, weighed, partial=False)


def test_a_line_is_drawn_only_where_it_shows_something() -> None:
    def points(*values: float | None) -> tuple[quarter_line.Point, ...]:
        return quarters(*values).points

    assert quarter_line.worth_drawing(points(1, 2, 3))
    assert not quarter_line.worth_drawing(points(1, 2))  # two points are told in the table
    assert not quarter_line.worth_drawing(points(5, 5, 5, 5))  # four alike show nothing
    assert not quarter_line.worth_drawing(points(1, None, None, 2))


@pytest.mark.parametrize("name", DRAWINGS)
def test_the_text_of_equal_worth_opens_with_the_finding_and_needs_no_eyes(name: str) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        chart = DRAWINGS[name](Look())
    assert chart.alt.startswith(chart.title)
    assert 'role="img"' in chart.svg and "aria-label=" in chart.svg
    shown = re.findall(r"<text[^>]*>([^<]+)</text>", chart.svg)
    values = [t for t in shown if re.fullmatch(r"[\d,]{3,}", t) and not t.startswith("20")]
    if not name.startswith("methane"):  # its table stands beside it
        assert all(value in chart.alt for value in values)


@pytest.mark.parametrize("name", DRAWINGS)
def test_the_same_numbers_give_the_same_bytes(name: str) -> None:
    assert DRAWINGS[name](Look()).svg == DRAWINGS[name](Look()).svg


def test_names_from_a_sheet_stay_text() -> None:
    chart = mix.mix(parts(('<script>alert("x")</script> $5 & co', 3), ("b", 1)), Look())
    assert "<script" not in chart.svg
    assert "$5" in chart.svg  # no formula is read into it
