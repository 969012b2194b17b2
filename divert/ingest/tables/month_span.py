"""The span of months that a title names: "July 2023 - June 2024", "de septembre 2023 à mai 2024"."""

from __future__ import annotations

import re

from divert.ingest.cells.date import Day, month_words
from divert.ingest.lexicon import bare

_MONTH_OF_YEAR = re.compile(r"([a-z]+)\.?,? ?(?:de )?(?:(20\d\d)|'(\d\d))(?!\d)")
_NUMBERS = re.compile(r"(?<![\d/-])(0?[1-9]|1[0-2])/(20\d\d)(?![\d/])")
_MONTHS = re.compile(r"([a-z]+)\.? ?(?:-|–|to|through|a|au) ?([a-z]+)\.?(?![a-z])")
_YEAR_BEHIND = re.compile(rf"{_MONTHS.pattern} (?:de )?20(?P<ends>\d\d)(?!\d)")
_TWO_YEARS = re.compile(r"(?<!\d)20\d\d ?[-–/] ?(?:20)?(?P<ends>\d\d)(?!\d)")
_REPORTING_YEAR = re.compile(
    r"(?:\bfy|\bex|fiscal|financial|exercice|budget)[^\d]*(?:20)?(?P<ends>\d\d)(?!\d)"
)


def month_span(text: str) -> tuple[Day, Day] | None:
    """Return the first and the last month of a span whose ends both have their year."""
    plain = bare(text).replace("’", "'").replace("‘", "'")
    return _named(plain) or _of_reporting_year(plain)


def is_over_two_years(text: str) -> bool:
    """Return whether a text names months that no one year holds: "Jul-Jun"."""
    return _turning(bare(text)) is not None


def _turning(plain: str) -> tuple[int, int] | None:
    months = month_words()
    for first, last in _MONTHS.findall(plain):
        if first in months and last in months and months[first] > months[last]:
            return months[first], months[last]
    return None


def _of_reporting_year(plain: str) -> tuple[Day, Day] | None:
    """Return the months of "FY 2024 (Jul-Jun)" and "Nov-Feb 2024", named by the year they end in."""
    months = _turning(plain)
    patterns = (_YEAR_BEHIND, _TWO_YEARS, _REPORTING_YEAR)
    year = next((found for one in patterns if (found := one.search(plain))), None)
    if year is None or months is None:
        return None
    ends = 2000 + int(year["ends"])
    return Day(ends - 1, months[0], None), Day(ends, months[1], None)


def _named(plain: str) -> tuple[Day, Day] | None:
    named = [
        (int(found[2] or f"20{found[3]}"), month_words()[found[1]])
        for found in _MONTH_OF_YEAR.finditer(plain)
        if found[1] in month_words()
    ]
    ends = named or [(int(found[2]), int(found[1])) for found in _NUMBERS.finditer(plain)]
    if len(ends) != 2 or ends[0] >= ends[1]:
        return None
    return Day(ends[0][0], ends[0][1], None), Day(ends[1][0], ends[1][1], None)
