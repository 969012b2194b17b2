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


def sum_of_drawn(region: int, yards: int, rows: int) -> np.ndarray:
    """Return the draws of what a region of such yards diverted, kg, every load three pails."""
    found = [
        figures(f"{region} {yard}", loads(rows, 1000 * region + yard, count=3.0))
        for yard in range(yards)
    ]
    return np.sum([one.figures["mass.diverted"].drawn for one in found], axis=0) / 1e6


def truths(seed: int, count: int, yards: int, rows: int) -> np.ndarray:
    """Return what such a region may truly have diverted, kg.

    As the method says the truth may lie: one density for all yards, anywhere between the published
    ends; for each yard a usual fill that is an eighth off, one standard deviation; each load 15 %
    about the mean.
    """
    draw = np.random.default_rng([43, seed])
    density = draw.uniform(FOOD.low, FOOD.high, count)
    fill = draw.normal(USUAL, 1 / 8, (count, yards))
    loads_mean = draw.normal(1, 0.15 / np.sqrt(rows), (count, yards))
    return 3 * PAIL_M3 * rows * density * (fill * loads_mean).sum(axis=1)


def held_by_ranges(regions: int, yards: int = 6, rows: int = 40) -> float:
    """Return the share of regions whose 90 % range holds what was true."""
    held = 0
    for region in range(regions):
        low, high = np.quantile(sum_of_drawn(region, yards, rows), [0.05, 0.95])
        held += bool(low <= truths(region, 1, yards, rows)[0] <= high)
    return held / regions
