"""The days that recipes span, read from the JSON of figures, and how one part stands over another."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from divert.evidence.recipe import Node, Op, Recipe

Figures = Mapping[str, Any]
DAY = dt.timedelta(days=1)


def span(figures: Figures) -> tuple[dt.date, dt.date]:
    """Return the first and last day of a set's period."""
    return day_of(figures["period"]["start"]), day_of(figures["period"]["end"])


def day_of(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


def of_period(figures: Figures, node: Node) -> Recipe:
    return Recipe(*span(figures), node)


def over(top: Node, bottom: Node) -> Node:
    return Op("/", (top, bottom))


def year_before(start: dt.date, end: dt.date) -> tuple[dt.date, dt.date]:
    return minus_year(start), minus_year(end + DAY) - DAY


def minus_year(day: dt.date) -> dt.date:
    try:
        return day.replace(year=day.year - 1)
    except ValueError:  # 29 February
        return day.replace(year=day.year - 1, day=28)
