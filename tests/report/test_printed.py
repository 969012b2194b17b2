"""Figures, units and sentences as they stand on paper."""

import datetime as dt
import re

import pytest
from markupsafe import Markup

from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.contract import PeriodShown
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import FACTOR
from divert.figures.numbers.tables import between, with_range
from divert.figures.numbers.unit_words import long_name, short_name
from divert.report.wording.dates import period_name, span

LB = 0.45359237  # kg in a pound (NIST Handbook 44, Appendix C)


def test_a_figure_is_marked_with_its_path_and_unrounded_value() -> None:
    printer = Printer("en", "us")
    scale = printer.scale("mass", 7490 * LB)
    printed = printer.range("mass.diverted", Range(1333 * LB, 1189 * LB, 1502 * LB), scale)
    assert printed.central.text == "1,330"
    assert (printed.low.text, printed.high.text) == ("1,190", "1,500")
    assert str(printed.__html__()) == (
        '<data class="figure" value="604.6386292" data-key="period:mass.diverted.central">'
        "1,330</data>"
    )
    assert str(printer.with_unit(printed)).endswith("</data>\u202flb")
    assert [p.key for p in printer.printed] == [
        f"period:mass.diverted.{end}" for end in ("central", "low", "high")
    ]


def test_large_masses_go_over_to_the_larger_unit() -> None:
    us, metric = Printer("en", "us"), Printer("fr", "metric")
    assert us.scale("mass", 19_000 * LB).unit == "lb"
    # 48,210 lb are 24.105 short tons.
    scale = us.scale("mass", 48_210 * LB)
    assert us.one("x", 48_210 * LB, scale).text == "24.1"
    assert us.unit_in_full(scale.unit, "24.1") == "short tons (2,000 lb)"
    scale = metric.scale("mass", 12_345.0)
    assert metric.one("x", 12_345.0, scale).text == "12,3"
    assert metric.unit(scale.unit, "1") == metric.unit(scale.unit, "1,9")  # French: one up to two


def test_what_was_weighed_throughout_keeps_its_own_digits() -> None:
    printer = Printer("en", "us")
    scale = printer.scale("mass", 1493 * LB)
    weighed = Range(1493 * LB, 1468 * LB, 1518 * LB)  # a scale that errs by 1 %
    assert printer.central("x", weighed, scale).text == "1,493"


@pytest.mark.parametrize(
    ("language", "value", "text"),
    [("en", -1234.5, "−1,234.5"), ("fr", 1234.5, "1\u202f234,5"), ("en", -0.04, "0.0")],
)
def test_numbers_follow_the_language(language: str, value: float, text: str) -> None:
    assert Printer(language, "us").number(value, 1) == text


def test_a_share_has_a_thin_space_before_its_sign() -> None:
    printer = Printer("en", "us")
    assert str(printer.with_unit(printer.share("a", 1 / 3))).endswith("33</data>\u202f%")


def test_money_stands_where_the_country_puts_its_sign() -> None:
    us = Printer("en", "us", country="US", currency="USD")
    amount = us.one("money.sales", 940.0, us.scale("money", 940.0))
    assert us.plain_text(us.with_unit(amount)) == "$940"
    france = Printer("fr", "metric", country="FR", currency="EUR")
    amount = france.one("money.sales", 1940.0, france.scale("money", 1940.0))
    assert france.plain_text(france.with_unit(amount)) == "1\u202f940\u202f€"


def test_text_from_a_sheet_is_escaped_within_a_sentence() -> None:
    said = Printer("en", "us").say(Text(N_("{mass} {before}"), {"mass": "<b>", "before": "&"}))
    assert said == Markup("&lt;b&gt; &amp;")


def test_no_unit_is_a_bare_ton() -> None:
    bare = re.compile(r"(?<!short )(?<!long )\btons?\b")
    for unit in FACTOR:
        for one in (True, False):
            for name in (short_name(unit, one, "en"), long_name(unit, one, "en")):
                assert not bare.search(name)


def test_dates_and_periods_in_words() -> None:
    quarter = PeriodShown("2025-Q2", dt.date(2025, 4, 1), dt.date(2025, 6, 30), False, "quarter")
    assert period_name(quarter, "en") == "Second quarter 2025"
    assert span(dt.date(2025, 4, 1), dt.date(2025, 6, 30), "en") == "April to June 2025"
    assert span(dt.date(2024, 11, 1), dt.date(2025, 1, 31), "en") == "November 2024 to January 2025"
    assert span(dt.date(2025, 4, 1), dt.date(2025, 6, 12), "en") == "April 1 to June 12, 2025"
    assert span(dt.date(2025, 4, 1), dt.date(2025, 6, 12), "en", "GB") == "1 April to 12 June 2025"


def test_a_range_is_said_beside_its_amount_and_nothing_where_both_ends_print_alike() -> None:
    printer = Printer("en", "us")
    scale = printer.scale("mass", 7490 * LB)
    wide = printer.range("mass.diverted", Range(1333 * LB, 1189 * LB, 1502 * LB), scale)
    exact = printer.range("mass.received", Range(1000 * LB, 1000 * LB, 1000 * LB), scale)

    def words(said: object) -> str:
        return re.sub(r"<[^>]+>", "", str(said)).replace("\u202f", " ")

    assert words(with_range(wide, printer)) == "1,330 lb (between 1,190 and 1,500)"
    assert words(with_range(exact, printer)) == words(printer.with_unit(exact))
    assert words(between(wide, printer)) == "1,190 to 1,500"
    assert words(between(exact, printer)) == exact.low.text


def test_a_number_in_a_sentence_is_written_by_the_languages_rules() -> None:
    said = Text("{a} {b} {c}", {"a": 1475.0, "b": 1200, "c": 2.25})
    assert str(Printer("en", "us").say(said)) == "1,475 1,200 2.25"
    french = str(Printer("fr", "metric").say(said))
    assert french.replace("\u202f", " ").replace("\xa0", " ") == "1 475 1 200 2,25"
