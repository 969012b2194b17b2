"""Made-up figures for the grant statement and the board report, for any span of two years.

Everything is a sum of the monthly table of tests/report/make_figures.py, so that the sets of a
statement add up: earlier + period = total.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import importlib.util
import sys
from pathlib import Path
from types import ModuleType

from divert.core.range import Range
from divert.figures.contract import (
    Compared,
    Cumulative,
    Figures,
    PeriodShown,
    Screening,
    Target,
    Weeks,
    YearMethane,
)

_PLACE = Path(__file__).parents[1] / "report" / "make_figures.py"


def _yard() -> ModuleType:
    spec = importlib.util.spec_from_file_location("made_up_yard", _PLACE)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["made_up_yard"] = module
    spec.loader.exec_module(module)
    return module


yard = _yard()
LB = yard.LB


def first_of(month: int) -> dt.date:
    """Return the first day of a month counted from January 2024 = 0."""
    return dt.date(2024 + month // 12, month % 12 + 1, 1)


def between(first: int, last: int, *, label: str = "", kind: str = "range") -> Figures:
    """Return the figures of the months ``first`` to ``last``, counted from January 2024 = 0."""
    start, end = first_of(first), first_of(last + 1) - dt.timedelta(days=1)
    numbers = range(first, last + 1)
    received = sum(yard.RECEIVED_LB[2024 + n // 12][n % 12] for n in numbers) * LB
    parts = yard.materials(received)
    mass = yard.total(parts)
    e = yard.emissions(mass.diverted.central)
    base = yard.figures()
    sources = tuple(
        yard.part(name, received * share, mass.not_claimed.central * share,
                  (mass.removed.central + mass.residue.central) * share)
        for name, share in yard.SOURCES.items()
    )  # fmt: skip
    months = len(list(numbers))
    by_year: dict[int, float] = {}
    for n in numbers:
        share = yard.RECEIVED_LB[2024 + n // 12][n % 12] * LB * yard.DIVERTED
        for later in range(60):
            year = 2025 + n // 12 + later
            by_year[year] = by_year.get(year, 0.0) + share * 0.0055 * 0.83**later
    year_ago = None
    if first >= 12:
        then = sum(yard.RECEIVED_LB[2023 + n // 12][n % 12] for n in numbers) * LB
        old = yard.materials(then)
        year_ago = Compared(
            "", first_of(first - 12), first_of(last - 11) - dt.timedelta(days=1),
            yard.total(old).diverted, yard.total(old).received,
            tuple(dataclasses.replace(s, received=s.received.times(then / received),
                                      diverted=s.diverted.times(then / received))
                  for s in sources if s.name != "Alder House Offices"),
            yard.change(mass.diverted.central, yard.total(old).diverted.central),
        )  # fmt: skip
    return dataclasses.replace(
        base,
        period=PeriodShown(label or f"{start}/{end}", start, end, False, kind, end),
        as_of=end + dt.timedelta(days=9),
        mass=mass,
        not_claimed={"fed to animals": mass.not_claimed},
        by_material=parts,
        by_source=sources,
        by_month=tuple(yard.month(2024 + n // 12, n % 12 + 1) for n in numbers),
        emissions=e,
        emissions_within={"20": e.landfill_avoided.times(0.86), "100": e.landfill_avoided},
        methane_by_year=tuple(YearMethane(y, kg) for y, kg in sorted(by_year.items())),
        sensitivity={"landfill_avoided": e.landfill_avoided.central * 1.21},
        screening=(Screening("us-2026", "food", e.landfill_avoided.central * 0.8,
                             e.landfill_avoided.central * 0.7, "other boundaries"),),
        cumulative=Cumulative(dt.date(2024, 1, 1), yard.around(
            sum(yard.RECEIVED_LB[2024 + n // 12][n % 12] for n in range(last + 1))
            * LB * yard.DIVERTED)),
        same_period_last_year=year_ago,
        previous=None,
        targets=tuple(Target(y, 12 * 907.18474, Range(mass.diverted.central, 0, 0))
                      for y in (2024, 2025) if y <= end.year),
        weeks=Weeks(round(months * 4.345), round(months * 4.345) - 3, 1, 2,
                    (dt.date(2024, 5, 27), dt.date(2024, 8, 12))),
        history=yard.months(max(0, last - 23), last),
        diverted_by_before={"landfill": mass.diverted, "incinerator": Range(0.0, 0.0, 0.0)},
    )  # fmt: skip
