"""A sheet as it is filled in: rows of cells, and beside them the loads that a person reads in each."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from .loads import Load
from .pen import Pen


@dataclass
class Paper:
    """One tab. ``truth`` pairs a row (from 1) with a load in it.

    ``struck`` are rows struck through, with what stands under the line, ``hidden`` rows and ``unseen`` columns that nobody sees, all from 1.
    """

    name: str
    rows: list[list[Any]] = field(default_factory=list)
    truth: list[tuple[int, Load]] = field(default_factory=list)
    struck: dict[int, Load] = field(default_factory=dict)
    hidden: set[int] = field(default_factory=set)
    unseen: set[int] = field(default_factory=set)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)

    def put(self, cells: Sequence[Any], *loads: Load) -> int:
        """Write a row; returns its number, from 1."""
        self.rows.append(list(cells))
        self.truth += [(len(self.rows), load) for load in loads]
        return len(self.rows)

    def as_text(self) -> None:
        """Lose what only a workbook shows: a line through a row, and what is hidden."""
        self.truth += self.struck.items()
        self.struck, self.hidden, self.unseen = {}, set(), set()


@dataclass
class File:
    """One file of a book: its name, with the ending that says how it is written, and its tabs."""

    name: str
    papers: list[Paper]


@dataclass
class Book:
    """What one crew keeps: its files, and what is in them, for a person who looks into a failure."""

    seed: int
    files: list[File]
    traits: list[str]
    french: bool = False

    @property
    def papers(self) -> list[Paper]:
        """Return the tabs of all files."""
        return [p for f in self.files for p in f.papers]


_FRENCH = ("cell", "cell", "cell", "time", "slashed", "slashed", "dotted", "iso", "mots")
_DATES = ("cell", "cell", "cell", "cell", "time", "us", "us", "iso", "words", "short")


class DayStyle:
    """How a crew writes its days; one way a sheet."""

    def __init__(self, pen: Pen) -> None:
        self.how = pen.choice(_FRENCH if pen.french else _DATES)
        self._month, self._french = pen.month, pen.french
        self._hour = pen.randint(6, 16)

    def slashed(self, day: dt.date) -> str:
        """Return a day in numbers, in the order of this crew's language."""
        return f"{day:%d/%m/%Y}" if self._french else f"{day.month}/{day.day}/{day.year}"

    def write(self, day: dt.date) -> Any:
        """Return a day as this crew writes it."""
        if self.how == "time":
            return dt.datetime(day.year, day.month, day.day, self._hour, 10 + day.day)
        if self.how == "us":
            return f"{day.month}/{day.day}/{day.year}"
        if self.how == "short":
            return f"{day.month}/{day.day}/{day.year % 100}"
        if self.how == "iso":
            return day.isoformat()
        if self.how == "words":
            return f"{day:%b} {day.day}, {day.year}"
        if self.how == "slashed":
            return self.slashed(day)
        if self.how == "dotted":
            return f"{day.day}.{day.month}.{day.year}"
        if self.how == "mots":
            return f"{day.day} {self._month(day)} {day.year}"
        return day


def number(value: float, pen: Pen) -> float | int:
    """Return a number as a spreadsheet holds it."""
    return int(value) if value == int(value) and pen.random() < 0.7 else value


def said(value: float, pen: Pen) -> str:
    """Return a number as a crew types it into a text."""
    text = f"{value:g}"
    return text.replace(".", ",") if pen.french else text
