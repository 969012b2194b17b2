"""The process log of each pile: hot days, moisture and turnings, listed as recorded, proving nothing."""

from __future__ import annotations

import datetime as dt

import numpy as np

from divert.convert.workings import Workings
from divert.core.names import plain
from divert.figures.days import of_kind
from divert.figures.yard import HotRun

HOT_C = 55.0  # the temperature that rules on hot composting name (common practice)
FAHRENHEIT = frozenset(plain(w) for w in ("f", "°f", "deg f", "degrees f", "fahrenheit"))
PERCENT = frozenset(("%", *(plain(w) for w in ("%", "% moisture", "percent", "moisture"))))
TURNED = frozenset((plain("turned"),))
CELSIUS = frozenset(plain(w) for w in ("c", "°c", "deg c", "degrees c", "celsius"))


def hot_runs(workings: Workings, start: dt.date, end: dt.date) -> tuple[HotRun, ...]:
    """Return what the process log says of each pile between two days.

    Ledger rows of kind "process": date, name (the pile), amount and unit (°C or °F; % of moisture;
    "turned"). Of temperature the longest run of recorded days in a row at or above 55 °C: a day
    counts once, by its lowest reading; a day without one ends a run.
    """
    rows = of_kind(workings.ledger, "process", start, end)
    unit = [plain(str(u)) for u in rows["unit"]]
    fahrenheit, celsius_read, percent, turning = (
        np.array([u in words for u in unit], dtype=bool)
        for words in (FAHRENHEIT, CELSIUS, PERCENT, TURNED)
    )
    amount = rows["amount"].to_numpy(dtype=float)
    celsius = np.where(fahrenheit, (amount - 32) * 5 / 9, amount)
    known = ~np.isnan(amount)
    use = (fahrenheit | celsius_read) & known
    day = rows["date"].to_numpy().astype("datetime64[D]").astype(np.int64)
    pile = rows["name"].astype(object).fillna("").to_numpy()
    out = []
    for name in sorted(set(pile[use | ((percent | turning) & known)].tolist())):
        own = (pile == name) & known
        here, wet = use & own, amount[own & percent] / 100
        days, run = _coldest(day[here], celsius[here])
        first, length = _longest(days[run >= HOT_C - 1e-9])
        began = None if not length else np.datetime64(first, "D").item()
        ended = None if began is None else began + dt.timedelta(days=length - 1)
        out.append(
            HotRun(
                str(name), int(here.sum()), float(celsius[here].max()) if here.any() else None,
                length, began, ended, float(wet.min()) if len(wet) else None,
                float(wet.max()) if len(wet) else None, float(amount[own & turning].sum()),
            )
        )  # fmt: skip
    return tuple(out)


def _coldest(day: np.ndarray, celsius: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    days, place = np.unique(day, return_inverse=True)
    lowest = np.full(len(days), np.inf)
    np.minimum.at(lowest, place, celsius)
    return days, lowest


def _longest(days: np.ndarray) -> tuple[int, int]:
    """Return the first day and the length of the longest run of days in a row."""
    best, first = 0, 0
    start = 0
    for n in range(len(days)):
        if n and days[n] != days[n - 1] + 1:
            start = n
        if n - start + 1 > best:
            best, first = n - start + 1, int(days[start])
    return first, best
