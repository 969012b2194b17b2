"""Recipes of emissions: what a landfill would have released, and what composting and fuel do."""

from __future__ import annotations

import re

from divert.evidence.factor_rows import screening_key
from divert.evidence.recipe import (
    Avoided,
    Factor,
    MethaneIn,
    Op,
    Other,
    Recipe,
    Total,
    Where,
)
from divert.evidence.recipe_days import Figures, of_period
from divert.figures.figure_path import get


def of_emission(figures: Figures, match: re.Match[str]) -> Recipe:
    what = match["what"]
    if what == "net_avoided":
        parts = tuple(Other(f"emissions.{p}") for p in ("landfill_avoided", "process", "fuel"))
        return of_period(figures, Op("-", parts))
    return of_period(figures, Total(what))


def of_emission_within(figures: Figures, match: re.Match[str]) -> Recipe:
    return of_period(figures, Avoided("within_20" if match["years"] == "20" else "within_100"))


def of_sensitivity(figures: Figures, _match: re.Match[str]) -> Recipe:
    return of_period(figures, Avoided("within_100_higher"))


def of_methane(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = get(figures, f"methane_by_year[{match['place']}]")
    return None if item is None else of_period(figures, MethaneIn(int(item["year"])))


def of_screening(figures: Figures, match: re.Match[str]) -> Recipe | None:
    item = get(figures, f"screening[{match['place']}]")
    if item is None:
        return None
    where: Where = (("before", "landfill"), ("screening", item["class"]))
    if match["what"] == "ours":
        return of_period(figures, Total("landfill_avoided", where))
    key = screening_key(item["set"], item["class"])
    return of_period(figures, Op("*", (Total("diverted", where), Factor(key))))
