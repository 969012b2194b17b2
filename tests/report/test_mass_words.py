"""A mass in plain words: never more than three per cent above the mass, in both languages."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from divert.report.wording.masses import in_words

LB = 0.45359237  # kg, by definition (NIST Handbook 44, Appendix C)
SHORT_TON = 2000 * LB

# What each phrase means in tons, set down here by hand and not taken from the code.
ENGLISH = {
    "a fifth of a": 1 / 5, "a quarter of a": 1 / 4, "three tenths of a": 0.3, "a third of a": 1 / 3,
    "two fifths of a": 0.4, "half a": 0.5, "three fifths of a": 0.6, "two thirds of a": 2 / 3,
    "three quarters of a": 0.75, "four fifths of a": 0.8, "nine tenths of a": 0.9, "one": 1.0,
    "one and a quarter": 1.25, "one and a half": 1.5, "one and three quarter": 1.75, "two": 2.0,
    "two and a half": 2.5, "three": 3.0, "three and a half": 3.5, "four": 4.0,
    "four and a half": 4.5, "five": 5.0, "six": 6.0, "seven": 7.0, "eight": 8.0, "nine": 9.0,
    "ten": 10.0,
}  # fmt: skip
FRENCH = {
    "un cinquième de tonne": 1 / 5, "un quart de tonne": 1 / 4, "trois dixièmes de tonne": 0.3,
    "un tiers de tonne": 1 / 3, "deux cinquièmes de tonne": 0.4, "une demi-tonne": 0.5,
    "trois cinquièmes de tonne": 0.6, "deux tiers de tonne": 2 / 3,
    "trois quarts de tonne": 0.75, "quatre cinquièmes de tonne": 0.8,
    "neuf dixièmes de tonne": 0.9, "une tonne": 1.0, "une tonne et quart": 1.25,
    "une tonne et demie": 1.5, "une tonne et trois quarts": 1.75, "deux tonnes": 2.0,
    "deux tonnes et demie": 2.5, "trois tonnes": 3.0, "trois tonnes et demie": 3.5,
    "quatre tonnes": 4.0, "quatre tonnes et demie": 4.5, "cinq tonnes": 5.0, "six tonnes": 6.0,
    "sept tonnes": 7.0, "huit tonnes": 8.0, "neuf tonnes": 9.0, "dix tonnes": 10.0,
}  # fmt: skip
LEADS = {
    "less than ": "less", "moins de ": "less", "moins d'": "less", "nearly ": "nearly",
    "près de ": "nearly", "près d'": "nearly", "a little over ": "little",
    "un peu plus de ": "little", "un peu plus d'": "little", "more than ": "more",
    "plus de ": "more", "plus d'": "more",
}  # fmt: skip


def meaning(said: str) -> tuple[str, float]:
    """Return how a phrase leads in, and the kilograms it names."""
    lead = next(
        (text for text in sorted(LEADS, key=len, reverse=True) if said.startswith(text)), ""
    )
    rest = said[len(lead) :]
    ton = SHORT_TON if "short" in rest or "courte" in rest else 1000.0
    if rest in ("one pound", "une livre", "one kilogram", "un kilogramme"):
        return LEADS.get(lead, ""), LB if rest.endswith(("pound", "livre")) else 1.0
    if "ton" in rest and "tonne" not in rest:
        return LEADS.get(lead, ""), ENGLISH[re.sub(r" short tons?$", "", rest)] * ton
    english = re.sub(r" tonnes?$", "", rest)
    if english in ENGLISH:
        return LEADS.get(lead, ""), ENGLISH[english] * ton
    return LEADS.get(lead, ""), FRENCH[re.sub(r" courtes?", "", rest)] * ton


@pytest.mark.parametrize(
    ("pounds", "words"),
    [
        (0.4, "less than one pound"),
        (0.99, "None"),  # the figure itself, here and in the next two: no second text of it
        (108, "None"),
        (387, "None"),  # nine tenths of a per cent below what a fifth could be said of
        (389, "nearly a fifth of a short ton"),
        (500, "a quarter of a short ton"),
        (
            893,
            "more than two fifths of a short ton",
        ),  # 0.4465: half a ton would claim an eighth more
        (1330, "two thirds of a short ton"),  # 0.665 of 2,000 lb
        (1370, "a little over two thirds of a short ton"),  # 0.685
        (1420, "more than two thirds of a short ton"),  # 0.71 is 6.5 % more
        (1460, "nearly three quarters of a short ton"),  # 0.73
        (5400, "more than two and a half short tons"),  # 2.7
        (20_000, "ten short tons"),
        (20_010, "None"),
    ],
)
def test_pounds_in_words(pounds: float, words: str) -> None:
    assert str(in_words(pounds * LB, "us")) == words


def test_an_estimate_is_called_one_and_never_more_than() -> None:
    # 2,240 lb are 1.12 short tons: nearer to one than to one and a quarter.
    assert str(in_words(2240 * LB, "us", estimated=True)) == "an estimated one short ton"
    assert str(in_words(2240 * LB, "us")) == "more than one short ton"
    assert str(in_words(0.3 * LB, "us", estimated=True)) == "less than one pound"
    assert in_words(667.0, "metric", estimated=True).say("fr") == "environ deux tiers de tonne"


def test_kilograms_in_words() -> None:
    assert str(in_words(667.0, "metric")) == "two thirds of a tonne"
    assert in_words(85.0, "metric") is None


def test_french_shortens_its_words_before_a_vowel() -> None:
    assert in_words(345.0, "metric").say("fr") == "un peu plus d'un tiers de tonne"
    assert in_words(0.3, "metric").say("fr") == "moins d'un kilogramme"
    assert in_words(0.3 * LB, "us").say("fr") == "moins d'une livre"
    assert in_words(610.0, "metric").say("fr") == "trois cinquièmes de tonne"
    assert in_words(630.0, "metric").say("fr") == "un peu plus de trois cinquièmes de tonne"


@pytest.mark.parametrize("language", ["en", "fr"])
@pytest.mark.parametrize("units", ["us", "metric"])
@given(kg=st.floats(0.01, 3e6))
def test_the_words_never_claim_more_than_three_per_cent_above(
    language: str, units: str, kg: float
) -> None:
    _check(language, units, kg)


@pytest.mark.parametrize("language", ["en", "fr"])
@pytest.mark.parametrize("units", ["us", "metric"])
def test_nor_at_any_step_of_the_table(language: str, units: str) -> None:
    ton = SHORT_TON if units == "us" else 1000.0
    for value in ENGLISH.values():
        for off in (0.9, 0.965, 0.969, 0.971, 0.979, 0.981, 1.0, 1.019, 1.021, 1.059, 1.061, 1.1):
            _check(language, units, value * off * ton)


def _check(language: str, units: str, kg: float) -> None:
    words = in_words(kg, units)  # type: ignore[arg-type]
    if words is None:
        ton = SHORT_TON if units == "us" else 1000.0
        assert kg * 1.03 < ton / 5 or kg > 10 * ton
        return
    lead, named = meaning(words.say(language))
    if lead == "less":
        assert kg < named and named in (LB, 1.0)
    elif lead == "nearly":
        assert kg < named <= kg * 1.03 * (1 + 1e-9)
    elif lead == "":
        assert abs(named - kg) <= 0.02 * named * (1 + 1e-9)
    elif lead == "little":
        assert named < kg <= named * 1.06 * (1 + 1e-9)
    else:
        assert lead == "more" and named * 1.06 < kg * (1 + 1e-9)
        # A far smaller claim would be as wrong: no step of the table is left out.
        assert kg < 1.3 * named or kg < 3 * max(LB, 1.0)
