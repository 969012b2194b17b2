"""Periods longer than a day, as crews label a sum with them: March, Q1 2025, 2e trimestre, 2025."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from divert.ingest.cells.date import read_cell
from divert.ingest.cells.number import even
from divert.ingest.cells.problem import Problem
from divert.ingest.lexicon import bare

Months = npt.NDArray[np.datetime64]
_YEAR = r"(?:(?:fy|ex|year|annee|an) ?)?20\d\d"
_QUARTER = r"(?:q|t|qtr|quarter|trim\.?|trimestre)"
_GAP = r"[ \-/]*"
# Each gap belongs to what stands before it: two side by side would be tried in every way to cut them.
_PERIOD = re.compile(
    rf"(?:(?P<first>{_YEAR}){_GAP})?"
    rf"(?:(?:{_QUARTER} ?(?P<quarter>[1-4])|(?P<nth>[1-4])(?:st|nd|rd|th|er|e|eme)? ?{_QUARTER}"
    rf"|(?:h|s|half|semestre) ?(?P<half>[12])){_GAP})?"
    rf"(?P<last>{_YEAR})?"
)
_LONGEST = 25


@dataclass(frozen=True)
class Period:
    """A stretch of whole months: ``first`` counts from 0 for January; year None where not said."""

    year: int | None
    first: int
    months: int


def read_period(text: str) -> Period | None:
    """Return the month, quarter, half or year that a text names, None where it names none."""
    if not text or len(text) > _LONGEST:
        return None
    match = _PERIOD.fullmatch(" ".join(bare(even(text)).split()).lstrip("-/ "))
    said = match.groupdict() if match else {}
    year = said.get("first") or said.get("last")
    number = int(year[-4:]) if year else None
    if quarter := said.get("quarter") or said.get("nth"):
        return Period(number, 3 * (int(quarter) - 1), 3)
    if half := said.get("half"):
        return Period(number, 6 * (int(half) - 1), 6)
    if number is not None:
        return Period(number, 0, 12)
    read = read_cell(text)
    if isinstance(read, Problem) or not read.readings or read.readings[0][1].day is not None:
        return None
    day = read.readings[0][1]
    return Period(day.year, day.month - 1, 1)


def months_of(period: Period, months: Months) -> Iterator[Months]:
    """Yield the months of a period, in every year of some months where it names none itself."""
    known = {int(str(m)[:4]) for m in np.unique(months[~np.isnat(months)])}
    for year in sorted(known) if period.year is None else [period.year]:
        start = np.datetime64(f"{year}-01", "M") + period.first
        yield np.arange(start, start + period.months)
