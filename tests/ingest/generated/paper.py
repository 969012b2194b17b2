"""A sheet as it is filled in: rows of cells, and beside them the loads that a person reads in each."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field
from random import Random
from typing import Any

from .loads import Load


@dataclass
class Paper:
    """One tab. ``truth`` pairs a row (from 1) with a load in it; ``struck`` are rows struck through."""

    name: str
    rows: list[list[Any]] = field(default_factory=list)
    truth: list[tuple[int, Load]] = field(default_factory=list)
    struck: set[int] = field(default_factory=set)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)

    def put(self, cells: Sequence[Any], *loads: Load) -> int:
        """Write a row; returns its number, from 1."""
        self.rows.append(list(cells))
        self.truth += [(len(self.rows), load) for load in loads]
        return len(self.rows)


@dataclass
class Book:
    """One made-up file: its tabs, and what is in it, for a person who looks into a failure."""

    seed: int
    file: str
    papers: list[Paper]
    traits: list[str]


_DATES = ("cell", "cell", "cell", "cell", "time", "us", "us", "iso", "words", "short")


class DayStyle:
    """How a crew writes its days; one way a sheet."""

    def __init__(self, random: Random) -> None:
        self.how = random.choice(_DATES)
        self._hour = random.randint(6, 16)

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
        return day


def number(value: float, random: Random) -> float | int:
    """Return a number as a spreadsheet holds it."""
    return int(value) if value == int(value) and random.random() < 0.7 else value
