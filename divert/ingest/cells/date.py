"""Dates as crews write them, in English and French, with or without a year.

A text such as 03/04/2025 has more than one reading; this file gives them all, and the column's
evidence chooses (divert.ingest.days.order). Two-digit years are of this century.
"""

from __future__ import annotations

import datetime as dt
import difflib
import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from divert.core.words import N_, Text
from divert.ingest.cells.number import even
from divert.ingest.cells.problem import Problem
from divert.ingest.lexicon import LETTERS, bare, words

Order = Literal["month first", "day first", "year first"]
ORDERS: tuple[Order, ...] = ("month first", "day first", "year first")
SERIAL_EPOCH = dt.date(1899, 12, 30)  # day 0 of the spreadsheets' 1900 date system
_SERIALS = range(25_569, 73_051)  # 1970 to 2099: outside this a number is no day


@dataclass(frozen=True, slots=True)
class Day:
    """What a date cell says: ``year`` or ``day`` None where it does not say it."""

    year: int | None
    month: int
    day: int | None


@dataclass(frozen=True, slots=True)
class DateRead:
    """The readings of one cell: the same Day under every order where only one is possible.

    ``day_alone`` holds a bare day of the month (1 to 31), for sheets whose name gives the month.
    """

    readings: tuple[tuple[Order, Day], ...] = ()
    day_alone: int | None = None
    sure: bool = False


def unreadable() -> Problem:
    """Return the problem of a date cell that holds no date."""
    return Problem("no date", Text(N_("Write the date as 2025-03-04, or 4 March 2025.")))


def _sure(year: int | None, month: int, day: int | None) -> DateRead | Problem:
    if not _possible(year, month, day):
        return unreadable()
    said = Day(year, month, day)
    return DateRead(tuple((order, said) for order in ORDERS), sure=True)


def _possible(year: int | None, month: int, day: int | None) -> bool:
    if not 1 <= month <= 12 or (year is not None and not 1900 <= year <= 2199):
        return False
    try:
        dt.date(
            year or 2024, month, day or 1
        )  # 2024: a leap year, so that 29 February may be meant
    except ValueError:
        return False
    return True


@lru_cache
def month_words() -> dict[str, int]:
    """Return the words for months, bare, each with its number."""
    return {word: int(n) for n, group in words("months")["months"].items() for word in group}


@lru_cache
def weekday_words() -> dict[str, int]:
    """Return the words for weekdays, bare, each with its number; Monday is 0."""
    return {w: n for n, day in enumerate(words("months")["weekdays"]["days"]) for w in day}


def weekdays_together() -> dict[str, int]:
    """Return :func:`weekday_words` as they are among others: "mar" is mardi there, alone it is March."""
    return {**weekday_words(), "mar": 1}


@lru_cache
def _any_weekday() -> frozenset[str]:
    return frozenset((*weekday_words(), *words("months")["weekdays"]["letters"]))


def is_weekday(text: str) -> bool:
    """Return whether a text is a weekday's word or letters, and nothing more."""
    return bare(text).strip(".") in _any_weekday()


@lru_cache
def _noise() -> re.Pattern[str]:
    every = [*_any_weekday(), *map(bare, words("months")["around"]["words"])]
    joined = "|".join(map(re.escape, sorted(every, key=len, reverse=True)))
    return re.compile(rf"(?<![\w/])(?:{joined})(?![\w/])\.?")


_CLOCK = re.compile(
    r"(?:(?<=\d)t|\bat\b|\ba\b|\bà\b)?\s*(?<![/.\-\d])\b\d{1,2}\s*(?:[:h]\s*\d{2}(?::\d{2}(?:\.\d+)?)?|h\b|(?=\s*[ap]\.?m\b))"
    r"\s*(?:[ap]\.?m\b\.?|z\b|[+-]\d{2}:?\d{2}\b)?"
    r"(?:\s*\b(?:utc|gmt|[aecmp][sd]?t|bst|h[an][aecrp])\b(?:[+-]\d{1,2}(?::?\d{2})?)?)?"
)
_MONTH = r"(?P<month>[a-z]{3,9})\.?"
_DAY = r"(?P<day>\d{1,2})(?:st|nd|rd|th|er|e)?"
_YEAR = r"(?P<year>\d{4}|'?\d{2})"
_GAP = r"[\s\-/.,]*"
_WORDED = tuple(
    re.compile(pattern)
    for pattern in (
        rf"{_DAY}{_GAP}{_MONTH}(?:{_GAP}{_YEAR})?",
        rf"{_MONTH}{_GAP}{_DAY}(?:(?:\s*,\s*|[\s\-/.]+){_YEAR})?",
        rf"(?P<year>\d{{4}}){_GAP}{_MONTH}{_GAP}{_DAY}",
        rf"{_MONTH}{_GAP}(?P<year>\d{{4}}|'\d{{2}})",
        rf"(?P<year>\d{{4}}){_GAP}{_MONTH}",
        rf"{_MONTH}",
    )
)
_RANGE = re.compile(
    rf"(?:{_DAY}\s*(?:-|to|au|a)\s*(?P<last>\d{{1,2}})\s*{_MONTH}|{_MONTH.replace('month', 'm2')}\s*"
    rf"{_DAY.replace('day', 'd2')}\s*(?:-|to|au|a)\s*(?P<l2>\d{{1,2}}))(?:{_GAP}{_YEAR})?"
)
_ISO = re.compile(r"(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})")
_WHOLE_ISO = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_COMPACT = re.compile(r"((?:19|20)\d{2})(\d{2})(\d{2})")
_TRIPLE = re.compile(r"(\d{1,2})\s*([-/. ])\s*(\d{1,2})\s*[-/. ]\s*(\d{4}|'?\d{2})")
_WEEK = re.compile(r"(\d{4})[-/ ]?[ws](\d{1,2})")  # ISO 8601: the year and number of a week
_PAIR = re.compile(r"(\d{1,2})\s*[-/]\s*(\d{1,2})")
_YEAR_MONTH = re.compile(r"(\d{4})\s*[-/]\s*(\d{1,2})|(\d{1,2})\s*[-/]\s*(\d{4})")


def read_cell(value: object) -> DateRead | Problem:
    """Return the readings of a date cell: a date, a text, or a spreadsheet's serial day number."""
    if isinstance(value, dt.datetime | dt.date):
        return _sure(value.year, value.month, value.day)
    if isinstance(value, bool):
        return unreadable()
    if isinstance(value, int | float):
        return _from_number(float(value))
    if isinstance(value, str):
        return _from_text(value)
    return unreadable()


def _from_number(value: float) -> DateRead | Problem:
    if value in range(1, 32):
        return DateRead(day_alone=int(value))
    if value == value and value // 1 in _SERIALS:
        day = SERIAL_EPOCH + dt.timedelta(days=int(value))
        return _sure(day.year, day.month, day.day)
    if value == value and value // 1 == value and 19_000_101 <= value <= 21_991_231:
        return _from_text(str(int(value)))
    return unreadable()


@lru_cache(maxsize=65536)
def _from_text(text: str) -> DateRead | Problem:
    if _WHOLE_ISO.fullmatch(text):  # as programs write it: no words, no marks to look for
        return _sure(int(text[:4]), int(text[5:7]), int(text[8:]))
    if len(text) > 60 or ("(" not in text and any(map(_of_no_date, LETTERS.findall(bare(text))))):
        return unreadable()
    plain = re.sub(r"(?<=\d)t(?=\d)", " ", re.sub(r"\([^)]*\)", " ", bare(even(text))))
    plain = re.sub(r"^mar\.?(?= \d{1,2} [a-z])", " ", _CLOCK.sub(" ", plain))  # "mar 4 mars": mardi
    plain = " ".join(_noise().sub(" ", plain).split()).strip(" ,;:.()[]?~*")
    if re.fullmatch(r"\d{1,2}(?:st|nd|rd|th|er)?", plain, re.A):
        return _from_number(float(re.sub(r"\D", "", plain)))
    if re.fullmatch(r"\d{5}(?:\.\d+)?", plain, re.A):
        return _from_number(float(plain))
    week = _WEEK.fullmatch(plain)
    if week:
        return _monday(int(week[1]), int(week[2]))
    return _worded(plain) or _numeric(plain) or _roman(plain) or unreadable()


@lru_cache(maxsize=16384)
def _of_no_date(word: str) -> bool:
    """Return whether no date holds a bare word: a month, a word around it, and most short ones do."""
    if len(word) < 4 or set(word) <= set("ivx") or word in _around():
        return False
    ends = ("", "st", "nd", "rd", "th", "er", "e")  # "4th march", "4thmarch"
    return not any(word.startswith(e) and _month_named(word[len(e) :]) for e in ends)


@lru_cache
def _around() -> frozenset[str]:
    every = [*_any_weekday(), *map(bare, words("months")["around"]["words"])]
    return frozenset(part for phrase in every for part in LETTERS.findall(phrase))


def _monday(year: int, week: int) -> DateRead | Problem:
    """Return the Monday of a week numbered as ISO 8601 does, the first with a Thursday in the year."""
    try:
        day = dt.date.fromisocalendar(year, week, 1)
    except ValueError:
        return unreadable()
    return _sure(day.year, day.month, day.day)


def _month_named(word: str) -> int | None:
    """Return the month of a word, a slip of the finger in a long one ("Febuary") forgiven."""
    found = month_words().get(word)
    if found is None and len(word) >= 6:
        close = difflib.get_close_matches(word, month_words(), n=1, cutoff=0.84)
        near = close and abs(len(close[0]) - len(word)) < 2  # "nombre" is no novembre
        found = month_words()[close[0]] if near else None
    return found


def full_year(written: str) -> int:
    """Return the year meant by 2025, 25 or '25."""
    year = int(written.lstrip("'"))
    return year + 2000 if year < 100 else year


def _worded(plain: str) -> DateRead | Problem | None:
    short = re.fullmatch(rf"{_MONTH}-(\d{{2}})", plain)
    month = _month_named(short["month"]) if short else None
    if short and month:
        return _month_and_two_digits(month, int(short[2]))
    spans = _RANGE.fullmatch(plain)
    if spans:
        parts = spans.groupdict()
        month = _month_named(parts["month"] or parts["m2"] or "")
        first, last = int(parts["day"] or parts["d2"]), int(parts["last"] or parts["l2"])
        if month and first < last:
            year = full_year(parts["year"]) if parts["year"] else None
            return _sure(year, month, first) if _possible(year, month, last) else unreadable()
    for pattern in _WORDED:
        match = pattern.fullmatch(plain)
        if match is None:
            continue
        parts = match.groupdict()
        month = _month_named(parts["month"])
        if month is None:
            continue
        year = full_year(parts["year"]) if parts.get("year") else None
        return _sure(year, month, int(parts["day"]) if parts.get("day") else None)
    return None


def _month_and_two_digits(month: int, number: int) -> DateRead | Problem:
    """Give both readings of "Mar-25": the 25th of March, or March 2025."""
    return _choices(
        [("month first", Day(None, month, number)), ("year first", Day(2000 + number, month, None))]
    )


def _span(plain: str) -> DateRead | Problem | None:
    """Read "3/3 - 3/9" as its first day, where both ends lie in one month."""
    ends = re.fullmatch(r"(\d[\d/.-]*)\s+(?:-|to|au|a)\s+(\d[\d/.-]*)", plain)
    if ends is None:
        return None
    first, last = _numeric(ends[1]), _numeric(ends[2])
    if not isinstance(first, DateRead) or not isinstance(last, DateRead):
        return unreadable()
    year = next((d.year for _, d in last.readings if d.year), None)
    ending = dict(last.readings)
    kept = [
        (order, with_year(day, year) if year else day)
        for order, day in first.readings
        if order in ending and ending[order].month == day.month
    ]
    return DateRead(tuple(kept), sure=first.sure) if kept else unreadable()


_ROMAN = re.compile(r"(\d{1,2})\s*[-/. ]\s*([ivx]{1,4})\s*[-/. ]\s*(\d{4})")
_ROMANS = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii")


def _roman(plain: str) -> DateRead | Problem | None:
    """Read "17-III-2025", as some write the month."""
    match = _ROMAN.fullmatch(plain)
    if match is None or match[2] not in _ROMANS:
        return None
    return _sure(int(match[3]), _ROMANS.index(match[2]) + 1, int(match[1]))


def _numeric(plain: str) -> DateRead | Problem | None:
    span = _span(plain)
    if span is not None:
        return span
    iso = _ISO.fullmatch(plain) or _COMPACT.fullmatch(plain)
    if iso:
        return _sure(int(iso[1]), int(iso[2]), int(iso[3]))
    triple = _TRIPLE.fullmatch(plain)
    if triple:
        first, second, last = int(triple[1]), int(triple[3]), triple[4]
        found = [
            ("month first", Day(full_year(last), first, second)),
            ("day first", Day(full_year(last), second, first)),
        ]
        if len(last.lstrip("'")) == 2 and int(last.lstrip("'")) in range(1, 32):
            found.append(("year first", Day(2000 + first, second, int(last.lstrip("'")))))
        return _choices(found)
    both = _YEAR_MONTH.fullmatch(plain)
    if both:
        year, month = (both[1], both[2]) if both[1] else (both[4], both[3])
        return _sure(int(year), int(month), None)
    pair = _PAIR.fullmatch(plain)
    if pair:
        first, second = int(pair[1]), int(pair[2])
        return _choices(
            [("month first", Day(None, first, second)), ("day first", Day(None, second, first))]
        )
    return None


def _choices(found: list[tuple[str, Day]]) -> DateRead | Problem:
    good = [(o, d) for o, d in found if _possible(d.year, d.month, d.day)]
    if not good:
        return unreadable()
    readings = dict(good)
    return DateRead(tuple((o, readings[o]) for o in ORDERS if o in readings))


def with_year(day: Day, year: int) -> Day:
    """Return the day with a year that it did not say itself."""
    return day if day.year is not None else replace(day, year=year)


def as_date(day: Day) -> dt.date | None:
    """Return the calendar date; the first of the month where no day is said; None if impossible."""
    if day.year is None:
        return None
    try:
        return dt.date(day.year, day.month, day.day or 1)
    except ValueError:
        return None
