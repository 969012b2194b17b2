"""Yards in memory, and regions of them whose truth is known."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import numpy as np
import pandas as pd

from divert.convert import Workings, work_out
from divert.core.period import read_period
from divert.core.reading import reading_of
from divert.factors import load_factors
from divert.region.figures_of_yard import YardFigures, figures_of_yard
from divert.site.model import Container, Material, Site

STARTED, AS_OF = dt.date(2025, 1, 1), dt.date(2026, 1, 10)
YEAR = read_period("2025", as_of=AS_OF, started=STARTED)
PAIL_M3, USUAL = 0.02, 0.8
FACTORS = load_factors(None)
FOOD = FACTORS.density("food-scraps")


def site(which: str, scale: float = 0.01) -> Site:
    """Return a yard that takes food scraps in pails of twenty litres."""
    return Site(
        Path("nowhere"), "Alder Yard", "metric", STARTED, scale_accuracy=scale, id=which,
        containers=(Container("pail", volume_m3=PAIL_M3, usual_fill=USUAL),),
        materials=(Material("scraps", like="food-scraps", before="landfill"),),
    )  # fmt: skip


def loads(rows: int, seed: int, **columns: float) -> pd.DataFrame:
    """Return loads over the year, ``columns`` the same on each: mass_kg, count or volume_m3."""
    draw = np.random.default_rng([41, seed])
    days = np.sort(draw.integers(0, 365, rows)).astype("timedelta64[D]")
    frame = pd.DataFrame({"date": np.datetime64(STARTED, "s") + days})
    frame = frame.assign(kind="intake", material="scraps", row=range(2, rows + 2), **columns)
    return frame.assign(container="pail") if "count" in columns else frame


def worked_out(which: str, frame: pd.DataFrame, scale: float = 0.01) -> Workings:
    return work_out(site(which, scale), reading_of(frame), FACTORS)


def figures(which: str, frame: pd.DataFrame, scale: float = 0.01) -> YardFigures:
    return figures_of_yard(worked_out(which, frame, scale), YEAR)


def held_by_ranges(regions: int, yards: int = 6, rows: int = 40) -> float:
    """Return the share of regions whose 90 % range holds what was true.

    The truth is drawn as the method says it may lie: one density for all yards, anywhere between the
    published ends; an unrecorded fill for each yard, an eighth either way; each load a density of
    its own about the mean, 15 %.
    """
    held = 0
    for region in range(regions):
        draw = np.random.default_rng([43, region])
        density = draw.uniform(FOOD.low, FOOD.high)
        true = drawn = 0.0
        for yard in range(yards):
            frame = loads(rows, 1000 * region + yard, count=3.0)
            found = figures(f"{region} {yard}", frame).figures["mass.diverted"]
            drawn = drawn + found.drawn
            fill = draw.uniform(USUAL - 1 / 8, USUAL + 1 / 8)
            true += float(3 * PAIL_M3 * fill * density * draw.normal(1, 0.15, rows).sum())
        low, high = np.quantile(np.asarray(drawn) / 1e6, [0.05, 0.95])
        held += bool(low <= true <= high)
    return held / regions
