"""How often the 90 % interval of diverted mass holds the truth, over simulated yards.

    PYTHONPATH=. python tests/engine/simulated_yards.py [yards a case]

Each yard has a truth of its own: a scale that is off, a density somewhere in its range, an eye that
errs the same way all year, loads that differ. The sheets say what a person would have logged, the
engine reads the sheets, and its interval holds the truth or does not. Many yards go through the
engine at a time, each as one source with a material of its own: the interval of a source is what the
interval of the yard alone would be.
"""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pandas as pd
from small_site import site

from divert import load_factors, reading_of, work_out
from divert.convert.amounts import amounts, coefficients
from divert.site.model import Container, Material, Site, Spread

Floats = npt.NDArray[np.float64]
Truth = Callable[[np.random.Generator, int], Floats]
FACTORS = load_factors()
BATCH = 50
TOTE_M3 = 0.1
SCALE_SD = 0.01
EIGHTH = 0.125
# An eye's error is an eighth of the container either way; half of its variance is the same in all
# that a crew reads, half is each reading's own. Both are flat here.
PART = EIGHTH * np.sqrt(0.5)
PERIODS = {"month": (3,), "quarter": (1, 2, 3), "year": tuple(range(1, 13))}


def flat(low: float, high: float) -> Truth:
    """Return a truth that lies anywhere between two ends."""
    return lambda rng, n: rng.uniform(low, high, n)


def peaked(low: float, usual: float, high: float) -> Truth:
    """Return a truth that lies near its usual value more often."""
    return lambda rng, n: rng.triangular(low, usual, high, n)


@dataclass(frozen=True)
class Case:
    """How a yard's loads truly are, and how its crew writes them down.

    ``density``: the truth, kg/m³, one for each yard; ``stated`` what site.toml says of it.
    ``fill``: "weighed", "volume" (given outright), "eye" (read by an eye), "blank" (not written).
    ``usual_fill``: in site.toml; ``true_fill`` the truth behind a blank one. ``weigh_ins`` are
    measured "with care" on a sheet of their own, or read "by eye" on the intake sheet.
    """

    name: str
    density: Truth
    like: str = "food-scraps"
    stated: Spread | None = None
    fill: str = "volume"
    usual_fill: float | None = None
    true_fill: Truth | None = None
    weigh_ins: int = 0
    weighed_how: str = "with care"
    scatter: float = 0.15
    loads_a_month: int = 8

    def site(self) -> Site:
        """Return the batch's site: each yard has a material of its own."""
        return site(
            name=self.name,
            containers=(Container("tote", volume_m3=TOTE_M3, usual_fill=self.usual_fill),),
            materials=tuple(
                Material(f"stuff {n}", like=self.like, before="landfill", density=self.stated)
                for n in range(BATCH)
            ),
        )


def simulated(case: Case, rng: np.random.Generator) -> tuple[pd.DataFrame, Floats, Floats]:
    """Return the sheets of a batch, and of each load in 2025 its yard's place and true mass."""
    density = case.density(rng, BATCH)
    scale = rng.normal(1.0, SCALE_SD, BATCH)
    bias = rng.uniform(-PART, PART, BATCH)
    whole_fill = case.true_fill(rng, BATCH) if case.true_fill else np.ones(BATCH)
    loads = 12 * case.loads_a_month
    yard = np.repeat(np.arange(BATCH), loads + case.weigh_ins)
    number = np.tile(np.arange(loads + case.weigh_ins), BATCH)
    teaching = number >= loads
    n = len(yard)
    own = rng.uniform(-PART, PART, n)
    written = rng.choice([0.5, 0.625, 0.75, 0.875, 1.0], n)
    by_eye = (case.fill == "eye") & ~teaching | (case.weighed_how == "by eye") & teaching
    true_fill = np.where(by_eye, written + bias[yard] + own, written)
    if case.fill == "blank":
        spread = rng.uniform(-EIGHTH, EIGHTH, n)  # each load about what its container usually holds
        true_fill = np.where(teaching, true_fill, whole_fill[yard] + spread)
    true_fill = np.maximum(true_fill, 0.02)
    differ = (1 + case.scatter * rng.standard_normal(n)).clip(0.1)
    true_kg = density[yard] * differ * TOTE_M3 * true_fill
    weighed = (case.fill == "weighed") | teaching
    sheet = pd.DataFrame(
        {
            "kind": np.where(teaching & (case.weighed_how == "with care"), "weigh-in", "intake"),
            "date": [
                dt.date(2024, 6, 1 + k % 28) if t else dt.date(2025, 1 + k % 12, 1 + k // 12 % 28)
                for k, t in zip(number.tolist(), teaching.tolist(), strict=True)
            ],
            "source": [f"Yard {y}" for y in yard], "material": [f"stuff {y}" for y in yard],
            "file": "log.xlsx", "sheet": "Jan", "row": np.arange(n) + 2, "column": "D", "found": "",
            "mass_kg": np.where(weighed, true_kg / scale[yard], np.nan),
        }
    )  # fmt: skip
    outright = (case.fill == "volume") & ~teaching
    sheet["volume_m3"] = np.where(outright, TOTE_M3 * true_fill, np.nan)
    boxed = ~outright & ~((case.fill == "weighed") & ~teaching)
    sheet["container"] = np.where(boxed, "tote", None)
    sheet["count"] = np.where(boxed, 1.0, np.nan)
    told = boxed & (teaching | (case.fill == "eye"))
    sheet["fill"] = np.where(told, written, np.nan)
    return sheet, np.where(teaching, -1, yard), true_kg


def held(case: Case, yards: int, seed: int) -> dict[str, float]:
    """Return for each period the share of yards whose interval holds what was truly diverted."""
    rng = np.random.default_rng(seed)
    hits = dict.fromkeys(PERIODS, 0)
    batches = max(1, yards // BATCH)
    for _ in range(batches):
        sheet, yard, true_kg = simulated(case, rng)
        cells = work_out(case.site(), reading_of(sheet), FACTORS).cells()
        place = {f"Yard {n}": n for n in range(BATCH)}
        source = np.array([place.get(s, -1) for s in cells.sources])[cells.source]
        first = cells.starts[cells.stretch]
        dates = np.array(sheet["date"].to_list(), dtype="datetime64[M]")
        for name, months in PERIODS.items():
            wanted = [np.datetime64(f"2025-{m:02}", "M") for m in months]
            group = np.where(np.isin(first.astype("datetime64[M]"), wanted), source, -1)
            low, high = amounts(cells, coefficients(cells, "diverted"), group, BATCH).interval()
            here = np.isin(dates, wanted) & (yard >= 0)
            truth = np.bincount(yard[here].astype(int), weights=true_kg[here], minlength=BATCH)
            hits[name] += int(((low <= truth) & (truth <= high)).sum())
    return {name: count / (batches * BATCH) for name, count in hits.items()}


def _ends(key: str) -> tuple[float, float, float]:
    factor = FACTORS.get(key)
    return factor.low, factor.value, factor.high


SCRAPS = _ends("density.food-scraps.in-pails-and-carts")
# Leaves as loose as any published value and as packed as any; grass likewise (kg/m³).
LEAVES, PACKED_LEAVES, GRASS = (59.0, 297.0), (237.0, 297.0), (24.0, 890.0)
STATED = Spread(320.0, 400.0, 480.0)
CASES: Sequence[Case] = (
    Case("all weighed", flat(235, 599), fill="weighed"),
    Case("own density: 3 weigh-ins with care", flat(300, 500), weigh_ins=3),
    Case("own density: 10 weigh-ins with care", peaked(*SCRAPS), weigh_ins=10),
    Case("own density: 10 weigh-ins and all fills by one eye", peaked(*SCRAPS), fill="eye",
         weigh_ins=10, weighed_how="by eye"),
    Case("own density: 100 weigh-ins, loads scatter 5 %", flat(300, 500), fill="eye",
         weigh_ins=100, weighed_how="by eye", scatter=0.05),
    Case("published density, truth anywhere between its ends", flat(SCRAPS[0], SCRAPS[2])),
    Case("stated ± 20 %, truth anywhere between", flat(320, 480), stated=STATED),
    Case("eye's bias, 10 weigh-ins with care", flat(300, 500), fill="eye", weigh_ins=10),
    Case("eye's bias, 30 weigh-ins with care, loads scatter 5 %", flat(300, 500), fill="eye",
         weigh_ins=30, scatter=0.05),
    Case("eye's bias, stated density", flat(320, 480), stated=STATED, fill="eye"),
    Case("fill blank, usual 0.75; truth normal about it", flat(300, 500), fill="blank",
         usual_fill=0.75, true_fill=lambda rng, n: rng.normal(0.75, EIGHTH, n), weigh_ins=30),
    Case("fill blank, nothing stated; truth 0.6 to 1.0", flat(300, 500), fill="blank",
         true_fill=flat(0.6, 1.0), weigh_ins=30),
    Case("one load a month, published density, loads scatter 15 %", flat(SCRAPS[0], SCRAPS[2]),
         loads_a_month=1),
    Case("one load a month, published density likelier near its typical, loads scatter 30 %",
         peaked(*SCRAPS), scatter=0.30, loads_a_month=1),
    Case("one load a month, published density, loads scatter 30 %",
         flat(SCRAPS[0], SCRAPS[2]), scatter=0.30, loads_a_month=1),
    Case("one load a month, stated density, loads scatter 15 %", flat(320, 480), stated=STATED,
         loads_a_month=1),
    Case("one load a month, 10 weigh-ins with care, loads scatter 30 %", flat(300, 500),
         weigh_ins=10, scatter=0.30, loads_a_month=1),
    Case("leaves in no state that was written", flat(*LEAVES), like="leaves"),
    Case("leaves that were packed, no state written", flat(*PACKED_LEAVES), like="leaves"),
    Case("grass in no state that was written", flat(*GRASS), like="grass"),
    Case("wet slurry near water's weight, 5 weigh-ins by eye", flat(900, 1000),
         like="food-slurry", fill="eye", weigh_ins=5, weighed_how="by eye", scatter=0.05),
    Case("leaves far lighter than published, 6 weigh-ins", flat(95, 115), like="leaves",
         weigh_ins=6),
)  # fmt: skip


def table(yards: int, of: str = "") -> None:
    """Print the share of intervals that held the truth, case by case (of those named ``of``)."""
    error = 100 * np.sqrt(0.9 * 0.1 / yards)
    print(f"{yards} yards a case; a share of 90 % has a standard error of {error:.1f} %\n")
    print(f"| {'case':60} | month | quarter | year |\n|{'-' * 62}|---|---|---|")
    for number, case in enumerate(CASES):
        if of not in case.name:
            continue
        found = held(case, yards, 20_250_101 + number)
        print(f"| {case.name:60} | " + " | ".join(f"{v:.1%}" for v in found.values()) + " |")


if __name__ == "__main__":
    table(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000, *sys.argv[2:3])
