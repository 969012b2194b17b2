"""What was truly brought to the made-up yard: a seeded list of loads, before anyone writes it down.

Nothing here is a measurement. The densities are plausible ones, so that the sheets look like a
crew's; every name is invented.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

START, END = dt.date(2024, 4, 1), dt.date(2026, 6, 30)
GALLONS = {"pail": 5, "tote": 18, "leaf bag": 30, "paper bag": 20, "wheelbarrow": 45, "box": 15}
POUNDS_PER_GALLON = {
    "kitchen scraps": 3.7,
    "produce": 3.1,
    "coffee grounds": 4.6,
    "juice pulp": 6.4,
    "spent grain": 5.7,
    "cut flowers": 1.5,
    "office paper": 0.8,
    "stable manure": 4.0,
    "leaves": 0.95,
    "pumpkins": 4.3,
}
CLOSED = (
    (dt.date(2024, 12, 23), dt.date(2025, 1, 5)),
    (dt.date(2025, 12, 22), dt.date(2026, 1, 4)),
)
SNOW = (dt.date(2025, 1, 20), dt.date(2026, 1, 26))  # Mondays of weeks noted as closed in the sheet
SKIPPED = (dt.date(2024, 8, 12), dt.date(2025, 9, 1), dt.date(2026, 3, 16))  # nobody wrote anything


@dataclass(frozen=True)
class Habit:
    """How one source brings one material: weekdays, pounds a visit, and how it is written down."""

    source: str
    material: str
    container: str
    weekdays: tuple[int, ...]
    pounds: float
    weighed: float  # share of its rows that have a weight
    comes: float = 0.93  # chance that it comes on such a day
    season: tuple[float, ...] = (1.0,) * 12  # by month; 0 is a month without
    first: dt.date = START
    last: dt.date = END
    removed: float = 0.0  # mean share picked out, where someone looked


TERM = (1, 1, 0.8, 1, 1, 0.5, 0, 0, 0.9, 1, 0.9, 0.7)
SUMMER = (0.6, 0.7, 0.8, 0.9, 1.1, 1.3, 1.4, 1.4, 1.2, 1.0, 0.8, 0.6)
FLOWERS = (0.7, 1.5, 0.8, 0.9, 1.7, 1.2, 1.0, 0.9, 0.9, 1.0, 0.8, 1.2)
NOVEMBER = (0, 0, 0, 0, 0, 0, 0, 0, 0, 0.2, 1.6, 0)
AUTUMN = (0, 0, 0, 0, 0, 0, 0, 0, 0, 1.0, 1.5, 0.6)
FALLING = (1.0, 1.0, 1.0, 1.0, 1.0, 0.9, 0.8, 0.8, 0.9, 1.0, 1.0, 0.9)

SCHOOL = "Quillmarsh School kitchen"
CAFE = "Lantern Row Café"
JUICE = "Tangle & Pip Juice Bar"
FLORIST = "Wren & Thistle Florist"
BRANCH = "Two Oaks branch office"
BREWERY = "Saltmarrow Brewery"
STABLES = "Marlow Bend Stables"
CO_OP = "Harrowgate Lane Co-op"
FERNSIDE = "Fernside House kitchen"
PARISH = "Old Ferry Hall suppers"
NEIGHBOURS = "Alder Street drop-off"
BAKERY = "Boulangerie du Vieux Quai"

HABITS = (
    Habit(SCHOOL, "kitchen scraps", "tote", (0, 3), 46, 0.45, season=TERM, removed=0.05),
    Habit(CAFE, "coffee grounds", "pail", (1,), 27, 0.5),
    Habit(CAFE, "kitchen scraps", "tote", (4,), 34, 0.4, removed=0.02),
    Habit(JUICE, "juice pulp", "tote", (2, 5), 42, 0.8, comes=0.75, season=SUMMER),
    Habit(FLORIST, "cut flowers", "tote", (0,), 24, 0.0, season=FLOWERS),
    Habit(BRANCH, "office paper", "paper bag", (3,), 22, 0.1, comes=0.5),
    Habit(BREWERY, "spent grain", "tote", (3,), 88, 1.0, comes=0.8, season=FALLING),
    Habit(STABLES, "stable manure", "wheelbarrow", (5,), 165, 0.0, comes=0.3,
          last=dt.date(2025, 11, 30)),
    Habit(CO_OP, "produce", "box", (1, 3, 5), 27, 0.85, comes=0.85, removed=0.03),
    Habit(FERNSIDE, "kitchen scraps", "tote", (4,), 41, 0.55, removed=0.04),
    Habit(PARISH, "kitchen scraps", "pail", (6,), 19, 0.2, comes=0.4, last=dt.date(2025, 12, 14)),
    Habit(NEIGHBOURS, "kitchen scraps", "pail", (5,), 58, 0.3, removed=0.01),
    Habit(NEIGHBOURS, "leaves", "leaf bag", (5,), 75, 0.0, comes=0.8, season=AUTUMN),
    Habit(NEIGHBOURS, "pumpkins", "tote", (5,), 85, 0.6, comes=0.9, season=NOVEMBER),
    Habit(BAKERY, "kitchen scraps", "pail", (1, 4), 17, 0.75, comes=0.8,
          first=dt.date(2024, 9, 3)),
)  # fmt: skip


@dataclass(frozen=True)
class Load:
    """One delivery: what came, and which of it is written down (None: not written)."""

    day: dt.date
    source: str
    material: str
    container: str
    count: int
    fill: float | None
    pounds: float | None
    removed: float | None
    true_pounds: float


def monday(day: dt.date) -> dt.date:
    """Return the Monday of a day's week."""
    return day - dt.timedelta(days=day.weekday())


def open_days() -> Iterator[dt.date]:
    """Return every day on which loads may be written down."""
    day = START
    while day <= END:
        shut = any(first <= day <= last for first, last in CLOSED)
        if not shut and monday(day) not in SNOW + SKIPPED:
            yield day
        day += dt.timedelta(days=1)


def between(random: Random, low: float, high: float) -> float:
    """Return an even draw; only ``random()`` itself is the same in every version of Python."""
    return low + (high - low) * random.random()


def halves(pounds: float) -> float:
    """Return a weight as a dial scale shows it."""
    return round(pounds * 2) / 2


def deliveries(seed: int = 118) -> list[Load]:
    """Return every load in the order it came."""
    random = Random(seed)
    loads = []
    for day in open_days():
        for habit in HABITS:
            size = habit.season[day.month - 1]
            if day.weekday() not in habit.weekdays or not habit.first <= day <= habit.last:
                continue
            if random.random() > habit.comes or size == 0:
                continue
            loads.append(_load(random, day, habit, size))
    return loads


def _load(random: Random, day: dt.date, habit: Habit, size: float) -> Load:
    growth = 1 + 0.11 * (day - START).days / 365
    wanted = habit.pounds * size * growth * between(random, 0.7, 1.3)
    gallons = wanted / POUNDS_PER_GALLON[habit.material]
    each = GALLONS[habit.container]
    count = max(1, int(gallons / each / 0.9 + 0.6))
    fill = min(max(round(gallons / each / count * 4), 1), 4) / 4
    true_fill = max(0.1, fill + between(random, -0.11, 0.07))  # eyes read a little high
    true = POUNDS_PER_GALLON[habit.material] * each * count * true_fill * between(random, 0.9, 1.1)
    weighed = random.random() < habit.weighed
    both = random.random() < 0.2
    looked = habit.removed > 0 and random.random() < 0.4
    removed = halves(true * habit.removed * between(random, 0, 2)) if looked else None
    return Load(
        day,
        habit.source,
        habit.material,
        habit.container,
        count,
        None if weighed and not both else fill,
        max(halves(true), 0.5) if weighed else None,
        removed,
        true,
    )
