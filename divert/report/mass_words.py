"""A mass in plain words, for the one sentence a reader remembers: "two thirds of a short ton"."""

from __future__ import annotations

from divert.report.scales import Units
from divert.units import KG_PER_LB, KG_PER_SHORT_TON, KG_PER_TONNE
from divert.words import N_, Text

# (tons, in short tons, in tonnes). Steps lie close enough that the nearest is within a tenth.
_FRACTIONS: tuple[tuple[float, str, str], ...] = (
    (1 / 4, N_("a quarter of a short ton"), N_("a quarter of a tonne")),
    (3 / 10, N_("three tenths of a short ton"), N_("three tenths of a tonne")),
    (1 / 3, N_("a third of a short ton"), N_("a third of a tonne")),
    (2 / 5, N_("two fifths of a short ton"), N_("two fifths of a tonne")),
    (1 / 2, N_("half a short ton"), N_("half a tonne")),
    (3 / 5, N_("three fifths of a short ton"), N_("three fifths of a tonne")),
    (2 / 3, N_("two thirds of a short ton"), N_("two thirds of a tonne")),
    (3 / 4, N_("three quarters of a short ton"), N_("three quarters of a tonne")),
    (9 / 10, N_("nine tenths of a short ton"), N_("nine tenths of a tonne")),
    (1.0, N_("one short ton"), N_("one tonne")),
    (1.25, N_("one and a quarter short tons"), N_("one and a quarter tonnes")),
    (1.5, N_("one and a half short tons"), N_("one and a half tonnes")),
    (1.75, N_("one and three quarter short tons"), N_("one and three quarter tonnes")),
    (2.0, N_("two short tons"), N_("two tonnes")),
    (2.5, N_("two and a half short tons"), N_("two and a half tonnes")),
    (3.0, N_("three short tons"), N_("three tonnes")),
    (3.5, N_("three and a half short tons"), N_("three and a half tonnes")),
    (4.0, N_("four short tons"), N_("four tonnes")),
    (4.5, N_("four and a half short tons"), N_("four and a half tonnes")),
    (5.0, N_("five short tons"), N_("five tonnes")),
    (6.0, N_("six short tons"), N_("six tonnes")),
    (7.0, N_("seven short tons"), N_("seven tonnes")),
    (8.0, N_("eight short tons"), N_("eight tonnes")),
    (9.0, N_("nine short tons"), N_("nine tonnes")),
    (10.0, N_("ten short tons"), N_("ten tonnes")),
)
_AS_GOOD_AS = 0.02  # within this share of it, a round value is said plainly


def in_words(kg: float, units: Units) -> Text:
    """Return a mass above zero in words, never further than a seventh from the mass itself.

    Under a fifth of a ton, and above ten, it is a number rounded to two digits with its unit.
    """
    us = units == "us"
    tons = kg / (KG_PER_SHORT_TON if us else KG_PER_TONNE)
    if tons < 0.22:
        return _rounded(
            kg / (KG_PER_LB if us else 1.0),
            N_("{number} pounds") if us else N_("{number} kilograms"),
            N_("one pound") if us else N_("one kilogram"),
        )
    if tons > 10.4:
        return _rounded(tons, N_("{number} short tons") if us else N_("{number} tonnes"), "")
    value, short, metric = min(_FRACTIONS, key=lambda step: abs(step[0] - tons) / step[0])
    return _nearly(tons, value, Text(short if us else metric))


def _rounded(number: float, message: str, single: str) -> Text:
    if number < 0.95 and single:
        return Text(N_("less than {amount}"), {"amount": Text(single)})
    step = 1
    while number / step >= 100:
        step *= 10
    whole = max(1, round(number / step)) * step
    said = Text(single) if whole == 1 and single else Text(message, {"number": whole})
    return _nearly(number, whole, said)


def _nearly(value: float, said: float, words: Text) -> Text:
    if abs(value - said) <= _AS_GOOD_AS * said:
        return words
    if value < said:
        return Text(N_("nearly {amount}"), {"amount": words})
    return Text(N_("a little over {amount}"), {"amount": words})
