"""A number as a language writes it, and what is said where rounding would leave nothing of it."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from divert.core.words import N_, catalogue
from divert.figures.numbers.rounding import is_nothing, steps
from divert.figures.numbers.scales import decimals

if TYPE_CHECKING:
    from babel import Locale

MINUS = "\u2212"
_UNDER = N_("under {least}")
_NEARLY_ALL = N_("over {most}")
_BELOW_ZERO = N_("nearly 0")


def rounded_text(value: float, unit: str, quantum: float, language: str) -> str:
    """Return a value, in its printed unit, as it is printed: "1,330", "under 1", "0".

    What is more than nothing is never printed as zero, nor a share below the whole as all of it.
    """
    count = steps(value, quantum)
    places, say = decimals(quantum), catalogue(language).gettext
    if is_nothing(value, quantum):
        return "0"
    if count == 0:
        if value < 0:
            return say(_BELOW_ZERO)
        return say(_UNDER).format(least=written_number(quantum, places, language))
    if unit == "%" and count * quantum == 100 and value < 100 - 1e-7:
        return say(_NEARLY_ALL).format(most=written_number(100 - quantum, places, language))
    return written_number(count * quantum, places, language)


def decimal_mark(language: str) -> str:
    """Return what stands between whole and parts: "." or ","."""
    from babel.numbers import get_decimal_symbol

    return str(get_decimal_symbol(locale_of(language)))


@lru_cache
def locale_of(language: str, country: str = "") -> Locale:
    """Return babel's locale of a language in a country; the language alone where unknown."""
    from babel import Locale, UnknownLocaleError

    try:
        return Locale.parse(f"{language}_{country}" if country else language)
    except (UnknownLocaleError, ValueError):
        return Locale.parse(language)


@lru_cache(maxsize=8192)
def written_number(value: float, places: int, language: str) -> str:
    """Write a number with a fixed count of decimals: "1,330", "1 330,5", "−12"."""
    from babel.numbers import format_decimal

    pattern = "#,##0" + ("." + "0" * places if places else "")
    text = str(format_decimal(abs(value), pattern, locale=language))
    return f"{MINUS}{text}" if value < 0 and any(c in "123456789" for c in text) else text


@lru_cache(maxsize=4096)
def is_one(text: str, language: str) -> bool:
    """Return whether the language puts a noun after this number in the singular ("under 1" too)."""
    from babel.numbers import parse_decimal

    number = "".join(c for c in text.replace(MINUS, "-") if not c.isalpha()).strip()
    try:
        value = parse_decimal(number, locale=language)
    except ValueError:
        return False
    return str(locale_of(language).plural_form(abs(value))) == "one"
