"""Recipes of what a sponsor supplied or supported, and its share of the whole."""

from __future__ import annotations

import re

from divert.evidence.recipe import (
    Constant,
    Op,
    Recipe,
    Total,
    Where,
)
from divert.evidence.recipe_days import Figures, day_of, of_period, over, span
from divert.figures.figure_path import get

OWN: Where = (("own", "yes"),)


def of_claim(figures: Figures, match: re.Match[str]) -> Recipe | None:
    """Return what a sponsor supplied or supported since its first day, or supported in a quarter."""
    item = get(figures, f"{match['claim']}.{match['part']}")
    if item is None:
        return None
    node = Total("supported") if match["claim"] == "supported" else Total("diverted", OWN)
    start = day_of(item["since"] if "since" in item else item["start"])
    return Recipe(start, day_of(item["end"]) if "end" in item else span(figures)[1], node)


def of_supplied(figures: Figures, match: re.Match[str]) -> Recipe:
    share = over(Total("received", OWN), Total("received"))
    if match["what"] == "share":
        return of_period(figures, share)
    fuel = Op("*", (Total("fuel"), share))
    parts = (Total("landfill_avoided", OWN), Total("process", OWN), fuel)
    return of_period(figures, Op("-", parts))


def of_supported(figures: Figures, match: re.Match[str]) -> Recipe | None:
    share = over(Total("supported"), Total("diverted"))
    if match["what"] == "diverted":
        return of_period(figures, Total("supported"))
    if not figures["mass"]["diverted"]["central"]:
        return None  # with nothing diverted the share is the one agreed, not one worked out
    if match["what"] == "share":
        return of_period(figures, share)
    fuel = Op("*", (Total("fuel"), Op("max", (Constant(0.0), share))))
    parts = (Total("supported_landfill"), Total("supported_process"), fuel)
    return of_period(figures, Op("-", parts))
