"""The figures of a region: a sum of addends turned into ranges, with the keys of a site's figures."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from divert.core.period import Period
from divert.core.range import Range
from divert.core.words import N_, Text
from divert.figures.contract import Emissions, Mass, Month, Part
from divert.figures.numbers.scales import Units
from divert.figures.stretches import DAY, first_of, month_count
from divert.region.addend import Addend, YardFailed, YardSum
from divert.region.figures_of_yard import AGAIN, YEAR_BEFORE
from divert.region.listing import Region
from divert.region.whole import MG_PER_KG, Whole, nothing

NONE_READ = Text(
    N_("None of the yards could be read, so nothing can be said of what they diverted.")
)


@dataclass(frozen=True, slots=True)
class GroupSum:
    """The yards of one group, and those of it that could not be read."""

    name: str
    yards: int
    failed: int
    received: Range
    diverted: Range


@dataclass(frozen=True, slots=True)
class RegionFigures:
    """What many yards come to together; masses kg, emissions kg CO2e, ranges of 90 %.

    ``by_material`` names entries of the built-in list by their key ("" for all others). ``shared``
    is the share of the variance of the diverted mass that comes from what yards share, 0-1 (None
    where nothing is uncertain).
    """

    region: str
    period: Period
    as_of: dt.date
    units: Units
    language: str
    country: str
    mass: Mass
    emissions: Emissions
    emissions_within: Mapping[str, Range]
    by_month: tuple[Month, ...]
    by_material: tuple[Part, ...]
    by_group: tuple[GroupSum, ...]
    basis: Mapping[str, float]
    shared: float | None
    yards: tuple[YardSum, ...]
    failed: tuple[YardFailed, ...]
    aside: Mapping[str, int]
    stamp: Mapping[str, object]

    @property
    def whole(self) -> bool:
        """Say whether every yard was read with all its files and no entry set aside."""
        return not self.failed and not any(y.set_aside or y.unread for y in self.yards)


def region_figures(total: Addend, region: Region, period: Period) -> RegionFigures:
    """Return the figures of a sum of addends."""
    get = total.figure
    diverted, unclaimed = get("mass.diverted"), get("mass.not claimed")
    removed, residue = get("mass.removed"), get("mass.residue")
    thrown = removed.plus(residue)
    received = diverted.plus(unclaimed).plus(thrown)
    avoided, composting = get("emissions.landfill_avoided"), get("emissions.process")
    fuel = get("emissions.fuel")
    net = avoided.plus(composting, -1).plus(fuel, -1)
    whole = sum(total.bases.values())
    return RegionFigures(
        region.name,
        period,
        total.stamp.as_of,
        _units(region.units or _common(total.units, "metric")),
        region.language or _common(total.languages, "en"),
        region.country or _common(total.countries, "US"),
        Mass(
            received.range(), removed.range(), residue.range(), unclaimed.range(),
            diverted.range(), thrown.range(),
        ),
        Emissions(avoided.range(), composting.range(), fuel.range(), net.range()),
        {"20": get("emissions_within.20").range(), "100": avoided.range()},
        tuple(_months(total, period)),
        tuple(_materials(total)),
        tuple(_groups(total)),
        {name: kg / whole if whole else 0.0 for name, kg in total.bases.items()},
        shared_share(diverted, get(AGAIN)),
        total.yards,
        total.failed,
        total.aside,
        {
            "version": total.stamp.version, "factors": total.stamp.factors,
            "draws": total.stamp.draws, "start": total.stamp.start.isoformat(),
            "end": total.stamp.end.isoformat(),
        },
    )  # fmt: skip


def _units(text: str) -> Units:
    return "us" if text == "us" else "metric"


def _common(counted: Mapping[str, int], usual: str) -> str:
    """Return what all yards say, or the usual where they differ or there are none."""
    return next(iter(counted)) if len(counted) == 1 else usual


def shared_share(diverted: Whole, again: Whole) -> float | None:
    """Return the share of a sum's variance that its yards have in common, 0-1; None where it has none.

    The covariance of two sums that share what yards share and nothing else, over their variance
    (Sobol', Mathematical Modelling and Computational Experiments 1, 1993: first-order index).
    """
    one, other = diverted.drawn / MG_PER_KG, again.drawn / MG_PER_KG
    spread = math.sqrt(float(np.var(one) * np.var(other)))
    if not spread:
        return None
    common: float = float(np.mean((one - one.mean()) * (other - other.mean())))
    return min(1.0, max(0.0, common / spread))


def _months(total: Addend, period: Period) -> Iterable[Month]:
    first, last = month_count(period.start), month_count(period.end)
    if period.kind == "all":  # from the first month any yard has
        met = [month_count(dt.date.fromisoformat(f"{m}-01")) for m, _ in total.months]
        first = min(met, default=last)
    for number in range(first, last + 1):
        start, end = first_of(number), first_of(number + 1) - DAY
        month = f"{start:%Y-%m}"
        before = total.months.get((month, YEAR_BEFORE))
        received, diverted = (
            total.months.get((month, what)) or nothing() for what in ("received", "diverted")
        )
        yield Month(
            month, received.range(), diverted.range(), before.range() if before else None,
            start < period.start or end > period.end,
        )  # fmt: skip


def _materials(total: Addend) -> Iterable[Part]:
    names = {name for name, _ in total.materials}
    found = [
        Part(
            name,
            *(
                (total.materials.get((name, what)) or nothing()).range()
                for what in ("received", "diverted", "not claimed", "thrown away")
            ),
        )
        for name in names
    ]
    seen = [part for part in found if _is_something(part)]
    return sorted(seen, key=lambda p: (-p.received.central, p.name))


def _is_something(part: Part) -> bool:
    """Return whether a gram of a material came in or went out; less is what rounding left."""
    ranges = (part.received, part.diverted, part.not_claimed, part.thrown_away)
    return any(abs(end) >= 1 / 1000 for r in ranges for end in (r.central, r.low, r.high))


def _groups(total: Addend) -> Iterable[GroupSum]:
    names = {name for name, _ in total.groups} | {one.group for one in total.failed}
    found = [
        GroupSum(
            name,
            sum(y.group == name for y in total.yards),
            sum(y.group == name for y in total.failed),
            *(
                (total.groups.get((name, what)) or nothing()).range()
                for what in ("received", "diverted")
            ),
        )
        for name in names
    ]
    return sorted(found, key=lambda g: (g.name == "", -g.diverted.central, g.name))


def to_json(figures: RegionFigures) -> dict[str, Any]:
    """Return the figures as the plain object of the contract (floats, strings, lists, None)."""
    period = figures.period
    return {
        "region": figures.region,
        "period": {
            "label": period.label, "start": period.start.isoformat(),
            "end": period.end.isoformat(), "to_date": period.to_date,
        },
        "as_of": figures.as_of.isoformat(),
        "stamp": dict(figures.stamp),
        "rows": {
            "seen": sum(y.used + y.set_aside + y.skipped for y in figures.yards),
            **{
                name: sum(getattr(y, name) for y in figures.yards)
                for name in ("used", "set_aside", "skipped", "queries")
            },
        },
        "mass": {
            name: plain(getattr(figures.mass, name))
            for name in ("received", "removed", "residue", "not_claimed", "diverted", "thrown_away")
        },
        "basis": dict(figures.basis),
        "emissions": {
            name: plain(getattr(figures.emissions, name))
            for name in ("landfill_avoided", "process", "fuel", "net_avoided")
        },
        "emissions_within": {h: plain(value) for h, value in figures.emissions_within.items()},
        **_parts_json(figures),
        "shared": {"of_diverted_variance": figures.shared},
        "set_aside": dict(figures.aside),
        **_yards_json(figures),
    }  # fmt: skip


def _parts_json(figures: RegionFigures) -> dict[str, Any]:
    return {
        "by_month": [
            {
                "month": m.month, "received": plain(m.received), "diverted": plain(m.diverted),
                "same_month_last_year": plain(m.same_month_last_year), "partial": m.partial,
            }
            for m in figures.by_month
        ],
        "by_material": [
            {
                "material": p.name or None, "received": plain(p.received),
                "diverted": plain(p.diverted), "not_claimed": plain(p.not_claimed),
                "thrown_away": plain(p.thrown_away),
            }
            for p in figures.by_material
        ],
        "by_group": [
            {
                "group": g.name or None, "yards": g.yards, "failed": g.failed,
                "received": plain(g.received), "diverted": plain(g.diverted),
            }
            for g in figures.by_group
        ],
    }  # fmt: skip


def _yards_json(figures: RegionFigures) -> dict[str, Any]:
    return {
        "sites": [
            {
                "folder": y.folder, "name": y.name, "group": y.group or None,
                "received": y.received / MG_PER_KG, "diverted": plain(own_range(y)),
                "used": y.used, "set_aside": y.set_aside, "skipped": y.skipped,
                "queries": y.queries, "files_unread": y.unread,
            }
            for y in figures.yards
        ],
        "failed": [
            {"folder": f.folder, "group": f.group or None,
             "sentence": f.sentence.say(figures.language)}
            for f in figures.failed
        ],
    }  # fmt: skip


def own_range(yard: YardSum) -> Range:
    """Return what one yard diverted with its own range, kg."""
    return Range(*(end / MG_PER_KG for end in yard.diverted))


def plain(value: Range | None) -> dict[str, float] | None:
    """Return a range as the plain object of the contract."""
    if value is None:
        return None
    return {"central": value.central, "low": value.low, "high": value.high}
