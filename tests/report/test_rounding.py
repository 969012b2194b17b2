"""Rounding: a figure's digits follow from its own range, and no figure is bent to a sum."""

import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from divert.core.range import Range
from divert.figures.compare import reaches, verdict
from divert.figures.numbers.printed import Printed, Printer
from divert.figures.numbers.rounding import quantum_for, quantum_of, steps
from divert.figures.numbers.scales import Scale
from divert.figures.numbers.tables import parts_add_up
from divert.figures.numbers.written import rounded_text

LB = 0.45359237  # kg in a pound (NIST Handbook 44, Appendix C)
FEWER = settings(max_examples=60)
ONE, MORE = Scale("kg"), Scale("tonne")


@pytest.mark.parametrize(
    ("total", "quantum"),
    # By hand: 7,490.3 to three digits is 7,490; 61.27 is 61.3; 999.6 is 1,000, which is 1.00e3.
    [(7490.3, 10), (61.27, 0.1), (999.6, 10), (999.4, 1), (0.08372, 0.0001), (-7490.3, 10), (0, 1),
     (1e-323, 1)],
)  # fmt: skip
def test_the_rounding_unit_gives_three_digits(total: float, quantum: float) -> None:
    assert quantum_for(total) == pytest.approx(quantum)


ANY = st.floats(allow_nan=True, allow_infinity=True, allow_subnormal=True)


@FEWER
@given(ANY, ANY, ANY)
@example(1e-323, 0.0, 5e-324)  # less than 1e-308 is kept with fewer digits: 10.0**-325 is zero
@example(0.0, -1e-323, 1e-323)
@example(math.nan, math.nan, math.nan)
@example(1.0, -math.inf, math.inf)
@example(1.7e308, -1.7e308, 1.7e308)  # the width of this one is more than a float holds
def test_whatever_a_float_holds_has_a_rounding_unit(value: float, low: float, high: float) -> None:
    quantum = quantum_of(value, low, high)
    assert math.isfinite(quantum) and quantum >= 0
    assert (quantum == 0) == (value == 0 and not high - low > 0)  # only nothing has none
    near = 1.7e308  # the next step above may be more than a float holds
    if quantum and abs(value) < min(quantum * 1e12, near):
        assert abs(steps(value, quantum) * quantum - value) <= 0.500001 * quantum


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_never_printed(value: float) -> None:
    with pytest.raises((ValueError, OverflowError)):
        rounded_text(value, "kg", quantum_for(value), "en")


def test_halves_go_away_from_zero() -> None:
    assert [steps(v, 10) for v in (125, 124.9, -125, 5, -5)] == [13, 12, -13, 1, -1]


@pytest.mark.parametrize(
    ("value", "low", "high", "quantum"),
    [
        (232, 46, 517, 10),  # half-width 235.5: two of its digits are tens
        (1370, 1330, 1410, 10),  # half-width 40 gives ones, three digits of an estimate give tens
        (7493, 7370, 7616, 10),  # weighed: 123 is 1.6 % of it, its second digit stands for tens
        (847.5, 833.6, 861.4, 1),  # weighed: 13.9, so ones
        (3.3245, 3.27, 3.379, 0.001),  # weighed: 0.0545, so thousandths: four digits of its own
        (0, 0, 0, 0),
    ],
)
def test_digits_follow_from_the_range(
    value: float, low: float, high: float, quantum: float
) -> None:
    assert quantum_of(value, low, high) == pytest.approx(quantum)


def _printed(value: float, low: float, high: float, scale: Scale = ONE) -> str:
    printer = Printer("en", "metric")
    f = scale.factor
    return printer.central("a", Range(value * f, low * f, high * f), scale).text


def test_a_figure_reads_the_same_beside_anything() -> None:
    # The same mass of the same range, in a table of small ones and in one of large ones.
    assert _printed(3325, 3200, 3450) == "3,330"
    assert [_printed(847.5, 834, 861) for _ in range(2)] == ["848", "848"]
    assert _printed(0.007, 0.0069, 0.0071, MORE) == "0.007"


def test_what_is_not_zero_is_never_printed_as_zero() -> None:
    assert _printed(0.4, 0.3, 0.5) == "under 1"
    assert _printed(-0.05, -0.06, -0.04) == "nearly 0"
    assert _printed(0.0, 0.0, 0.0) == "0"
    assert _printed(1e-10, 0.0, 2e-10) == "0"  # what sums of floats leave
    assert _printed(3.0, -230.0, 240.0) == "under 10"
    assert Printer("fr", "metric").central("a", Range(0.4, 0.3, 0.5), ONE).text == "moins de 1"


def test_shares_end_at_nothing_and_at_all() -> None:
    texts = [Printer("en", "us").share("a", v).text for v in (0, 0.001, 0.5, 0.999, 1)]
    assert texts == ["0", "under 1", "50", "over 99", "100"]


def test_what_is_diverted_never_prints_above_what_was_received() -> None:
    # Half-widths of 100 and 99 kg: tens, and ones; 994 of 994 must not stand above 990.
    printer = Printer("en", "metric")
    received, diverted = Range(994, 894, 1094), Range(993.9, 894.9, 1092.9)
    assert printer.central("r", received, ONE).text == "990"
    assert printer.central("d", diverted, ONE).text == "994"
    assert printer.central("e", diverted, ONE, within=received).text == "990"


@FEWER
@given(st.floats(1, 1e6), st.floats(0, 1), st.floats(0.001, 0.9))
def test_diverted_never_above_received(received: float, share: float, width: float) -> None:
    printer = Printer("en", "metric")
    whole = Range(received, received * (1 - width), received * (1 + width))
    part = whole.times(share)
    r = printer.central("r", whole, ONE)
    d = printer.central("d", part, ONE, within=whole)
    assert steps(d.value, d.quantum) * d.quantum <= steps(r.value, r.quantum) * r.quantum + 1e-9


@FEWER
@given(st.floats(-1e7, 1e7), st.floats(0, 1e6))
def test_every_figure_is_the_nearest(value: float, half: float) -> None:
    figure = Printer("en", "metric").central("a", Range(value, value - half, value + half), ONE)
    assert figure.text == rounded_text(value, "kg", figure.quantum, "en")
    assert abs(steps(value, figure.quantum) * figure.quantum - value) <= figure.quantum * 0.500001


def _figure(value: float, half: float) -> Printed:
    return Printer("en", "metric").central("a", Range(value, value - half, value + half), ONE)


def test_parts_that_do_not_add_up_as_printed_are_noticed() -> None:
    thirds = [_figure(333.4, 10)] * 3
    assert [f.text for f in thirds] == ["333"] * 3
    assert not parts_add_up(thirds, _figure(1000.2, 20))
    assert parts_add_up([_figure(500, 10), _figure(500, 10)], _figure(1000, 20))


@pytest.mark.parametrize(
    ("change", "now", "then", "said"),
    [
        ((300, 200, 400), 4560, 4260, "more"),
        ((-300, -400, -200), 4260, 4560, "less"),
        ((40, -60, 140), 4560, 4520, "about the same"),  # zero lies within the difference's range
        ((0.4, 0.3, 0.5), 780.4, 780.0, "about the same"),  # clear, and no printed unit apart
    ],
)
def test_two_figures_differ_in_words_only_where_their_difference_leaves_out_zero(
    change: tuple[float, float, float], now: float, then: float, said: str
) -> None:
    assert verdict(Range(*change), _figure(now, 100), _figure(then, 100)) == said


def test_a_goal_is_reached_as_the_figure_is_printed() -> None:
    assert reaches(_figure(9998, 120), _figure(10_000, 0))  # printed 10,000
    assert not reaches(_figure(9980, 120), _figure(10_000, 0))
