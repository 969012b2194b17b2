"""A mass in plain words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from divert.report import mass_words
from divert.report.mass_words import in_words

LB = 0.45359237


@pytest.mark.parametrize(
    ("pounds", "words"),
    [
        (0.4, "less than one pound"),
        (60, "60 pounds"),
        (133, "a little over 130 pounds"),
        (500, "a quarter of a short ton"),
        (1330, "two thirds of a short ton"),  # 0.665 of 2,000 lb
        (1420, "nearly three quarters of a short ton"),  # 0.71
        (5400, "a little over two and a half short tons"),  # 2.7
        (48_210, "24 short tons"),  # 24.1
    ],
)
def test_pounds_in_words(pounds: float, words: str) -> None:
    assert str(in_words(pounds * LB, "us")) == words


def test_kilograms_in_words() -> None:
    assert str(in_words(667.0, "metric")) == "two thirds of a tonne"
    assert str(in_words(85.0, "metric")) == "85 kilograms"


@given(st.floats(200.0, 9_400.0))
def test_the_fraction_said_is_never_far_from_the_mass(kg: float) -> None:
    said = str(in_words(kg, "metric"))
    spoken = said.removeprefix("nearly ").removeprefix("a little over ")
    values = {metric: value for value, _, metric in mass_words._FRACTIONS}
    if spoken in values:
        assert values[spoken] * 1000 == pytest.approx(kg, rel=1 / 7)
