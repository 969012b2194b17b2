"""A mass in plain words, for the one sentence a reader remembers: "two thirds of a short ton"."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from divert.core.units import KG_PER_LB, KG_PER_SHORT_TON, KG_PER_TONNE
from divert.core.words import N_, Text
from divert.figures.contract import Figures
from divert.figures.numbers.printed import Printer
from divert.figures.numbers.scales import Units

# (tons, in short tons, in tonnes), rising.
_FRACTIONS: tuple[tuple[float, str, str], ...] = (
    (1 / 5, N_("a fifth of a short ton"), N_("a fifth of a tonne")),
    (1 / 4, N_("a quarter of a short ton"), N_("a quarter of a tonne")),
    (3 / 10, N_("three tenths of a short ton"), N_("three tenths of a tonne")),
    (1 / 3, N_("a third of a short ton"), N_("a third of a tonne")),
    (2 / 5, N_("two fifths of a short ton"), N_("two fifths of a tonne")),
    (1 / 2, N_("half a short ton"), N_("half a tonne")),
    (3 / 5, N_("three fifths of a short ton"), N_("three fifths of a tonne")),
    (2 / 3, N_("two thirds of a short ton"), N_("two thirds of a tonne")),
    (3 / 4, N_("three quarters of a short ton"), N_("three quarters of a tonne")),
    (4 / 5, N_("four fifths of a short ton"), N_("four fifths of a tonne")),
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
_LESS = N_("less than {amount}")
ESTIMATED = N_("an estimated {amount}")
_AS_GOOD_AS = 0.02  # within this share of it, a round value is said plainly
_NEARLY = 0.03  # a value above the mass is said only this close to it, for it claims more
_A_LITTLE = 0.06  # above a round value by no more than this share of it


def in_words(kg: float, units: Units, *, estimated: bool = False) -> Text | None:
    """Return a mass above zero in words that never claim more than 3 % above it.

    None under a fifth of a ton and above ten: there the figure itself is said, as it stands
    everywhere else. Less than a pound or a kilogram is always words. An estimated mass is the
    nearest such value, called an estimate: no "more than" is said of it.
    """
    us = units == "us"
    tons = kg / (KG_PER_SHORT_TON if us else KG_PER_TONNE)
    if kg / (KG_PER_LB if us else 1.0) < 1 - _AS_GOOD_AS:
        return Text(_LESS, {"amount": Text(N_("one pound") if us else N_("one kilogram"))})
    if not _FRACTIONS[0][0] <= tons * (1 + _NEARLY) or tons > _FRACTIONS[-1][0]:
        return None
    values = [value for value, _, _ in _FRACTIONS]
    below = max((value for value in values if value <= tons), default=0.0)
    above = min(value for value in values if value >= tons)
    said = _said(
        tons, below, above, {v: Text(us_ if us else metric) for v, us_, metric in _FRACTIONS}
    )
    if not estimated:
        return said
    inner = said.values.get("amount")
    return Text(ESTIMATED, {"amount": inner if inner is not None else said})


def as_estimate(amount: Markup, figures: Figures, printer: Printer) -> Markup:
    """Return an amount called an estimate, unless all that came in was weighed."""
    if figures.basis.get("weighed", 0.0) >= 1 - 1e-9:
        return amount
    return printer.say(Text(ESTIMATED, {"amount": amount}))


def _said(value: float, below: float, above: float, said: Mapping[float, Text]) -> Text:
    near = min((below, above), key=lambda step: abs(step - value))
    if near and abs(value - near) <= _AS_GOOD_AS * near:
        return said[near]
    if above - value <= _NEARLY * value:
        return Text(N_("nearly {amount}"), {"amount": said[above]})
    if value - below <= _A_LITTLE * below:
        return Text(N_("a little over {amount}"), {"amount": said[below]})
    return Text(N_("more than {amount}"), {"amount": said[below]})
