"""The days of a process log, pile by pile: the lowest reading of each, and how long it has been hot."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

import numpy as np
import pandas as pd

from divert.figures.process_log import HOT_C

ROUNDED_C = 1e-6  # 131 °F is 55 °C, whatever the last digit of a conversion says


@dataclass(frozen=True, slots=True)
class HotDay:
    """A day with a reading of temperature: the lowest of it in °C, and the length of the run so far."""

    pile: str
    day: dt.date
    lowest_c: float
    run: int


def hot_days(lines: pd.DataFrame, start: dt.date, end: dt.date) -> list[HotDay]:
    """Return the days with a temperature on record between two days, by pile and day.

    A day counts by its lowest reading; a run is of days one after the other, each at or above
    55 °C (divert.figures.process_log).
    """
    day = lines["date"].to_numpy().astype("datetime64[D]")
    here = (lines["kind"] == "process").to_numpy() & lines["unit"].isin(["°F", "°C"]).to_numpy()
    here &= (day >= np.datetime64(start)) & (day <= np.datetime64(end))
    here &= ~np.isnan(lines["amount"].to_numpy(dtype=float))
    read = pd.DataFrame({
        "pile": lines["name"].to_numpy()[here], "day": day[here],
        "c": _celsius(lines["amount"].to_numpy(dtype=float)[here], lines["unit"].to_numpy()[here]),
    })  # fmt: skip
    out: list[HotDay] = []
    lowest = read.groupby(["pile", "day"], sort=True)["c"].min()
    for pile, stamp, celsius in lowest.reset_index().itertuples(index=False):
        today, run = pd.Timestamp(stamp).date(), 0
        if celsius >= HOT_C - ROUNDED_C:
            last = out[-1] if out else None
            follows = last is not None and (last.pile, last.day) == (
                pile, today - dt.timedelta(days=1)
            )  # fmt: skip
            run = 1 + (last.run if follows and last is not None else 0)
        out.append(HotDay(str(pile), today, float(celsius), run))
    return out


def longest(days: list[HotDay], pile: str) -> float:
    """Return the longest run of one pile, in days."""
    return float(max((d.run for d in days if d.pile == pile), default=0))


def _celsius(amount: np.ndarray, unit: np.ndarray) -> np.ndarray:
    return np.where(unit == "°F", (amount - 32) * 5 / 9, amount)
