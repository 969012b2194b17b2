"""The one set of numbers every output prints, and their JSON.

Masses in kg, emissions in kg CO2e, shares 0-1, money in the site's currency. A ``Range`` is a central
value and a 90 % interval. The JSON keys are a contract: keys may be added, never renamed.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from typing import Any

from divert.convert.told import Density, Rows
from divert.core.findings import Finding
from divert.core.range import Range
from divert.figures.absent import Absent
from divert.figures.yard import (
    Contamination,
    FeedMix,
    HotRun,
    Participation,
    Stock,
    VolumeReduction,
)


@dataclass(frozen=True, slots=True)
class PeriodShown:
    label: str
    start: dt.date
    end: dt.date
    to_date: bool
    kind: str
    last_entry: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Mass:
    received: Range
    removed: Range
    residue: Range
    not_claimed: Range
    diverted: Range
    thrown_away: Range | None = None  # removed + residue, draw by draw


@dataclass(frozen=True, slots=True)
class Part:
    """Received and diverted of one material or one source (``name``)."""

    name: str
    received: Range
    diverted: Range
    not_claimed: Range
    thrown_away: Range  # removed + residue


@dataclass(frozen=True, slots=True)
class Month:
    """One calendar month (``YYYY-MM``), cut to the period where it crosses its ends."""

    month: str
    received: Range
    diverted: Range
    same_month_last_year: Range | None  # diverted; None before the site started
    partial: bool = False
    change: Range | None = None  # diverted less that of the same month last year, draw by draw


@dataclass(frozen=True, slots=True)
class Span:
    """Diverted (and received) of a named stretch of time: a quarter or a reporting year."""

    label: str
    start: dt.date
    end: dt.date
    received: Range
    diverted: Range
    weighed_kg: float
    partial: bool
    change: Range | None = None  # diverted less that of the same span a year before, draw by draw


@dataclass(frozen=True, slots=True)
class Emissions:
    landfill_avoided: Range
    process: Range
    fuel: Range
    net_avoided: Range


@dataclass(frozen=True, slots=True)
class YearMethane:
    """Methane (kg, after capture and oxidation) not released in a calendar year."""

    year: int
    kg_ch4: float


@dataclass(frozen=True, slots=True)
class Screening:
    set: str
    class_: str
    landfill_avoided: float  # by the set's own factor, kg CO2e
    ours: float  # by our calculation for the same class
    caveat: str


@dataclass(frozen=True, slots=True)
class Harvest:
    product: str
    volume_m3: float | None
    mass_kg: Range | None
    destination: str


@dataclass(frozen=True, slots=True)
class Yield:
    """Over the 12 months that end with the period; masses in kg, share of wet feed."""

    fed: Range
    product: Range
    share: float | None


@dataclass(frozen=True, slots=True)
class BedLoad:
    bed: str
    feed_kg_per_m2_week: float | None
    area_m2: float | None
    worms_kg: float | None
    band: str  # "ordinary", "ask", "implausible" or ""
    feed_kg_per_kg_worms_week: float | None = None


@dataclass(frozen=True, slots=True)
class DiversionRate:
    """Diverted of what this yard handled; ``counted_once``: what it picked out is in ``disposed``."""

    diverted: Range
    disposed: Range
    rate: float
    counted_once: bool = False


@dataclass(frozen=True, slots=True)
class AssumedFate:
    """How much of the claimed intake (``claimed_kg``) only the list's usual fate speaks for."""

    claimed_kg: float
    assumed_kg: float
    share: float


@dataclass(frozen=True, slots=True)
class Activity:
    name: str
    amount: float
    unit: str


@dataclass(frozen=True, slots=True)
class Money:
    """Amounts in ``currency``; None where nothing was recorded. ``bags`` is a count."""

    currency: str
    disposal_fee_avoided: Range | None = None
    sales: float | None = None
    bags: float | None = None
    spent: float | None = None
    spent_per_tonne: float | None = None


@dataclass(frozen=True, slots=True)
class QuarterMoney:
    """Spent in a quarter, in the site's currency, and for each tonne diverted in it; None: no record."""

    label: str
    start: dt.date
    end: dt.date
    spent: float | None
    spent_per_tonne: float | None


@dataclass(frozen=True, slots=True)
class Supplied:
    """What the sponsor's own sources brought; ``share`` of the site's received mass."""

    share: float
    received: Range
    diverted: Range
    net_avoided: Range
    mass: Mass
    by_material: tuple[Part, ...]
    by_source: tuple[Part, ...]
    by_month: tuple[Month, ...]
    not_claimed_by: Mapping[str, Range]
    basis: Mapping[str, float]
    history: tuple[Month, ...] = ()
    diverted_by_before: Mapping[str, Range] | None = None  # landfill and incinerator apart
    same_period_last_year: Compared | None = None
    cumulative: Cumulative | None = None  # since their first load
    by_quarter: tuple[Span, ...] = ()  # since the site started
    assumed_fate: AssumedFate | None = None


@dataclass(frozen=True, slots=True)
class Supported:
    """The funded share of what the site diverted; ``share`` the mass-weighted share over the period."""

    share: float
    diverted: Range
    net_avoided: Range
    cumulative: Cumulative | None = None  # since the first day they paid a share
    by_quarter: tuple[Span, ...] = ()  # since the site started


@dataclass(frozen=True, slots=True)
class Compared:
    """A neighbouring period: same period last year, or the one before; None where before the start."""

    period: str
    start: dt.date
    end: dt.date
    diverted: Range | None
    received: Range | None
    by_source: tuple[Part, ...] = ()
    change: Range | None = None  # the period's diverted less this one's, draw by draw
    weeks: Weeks | None = None


@dataclass(frozen=True, slots=True)
class Cumulative:
    since: dt.date
    diverted: Range


@dataclass(frozen=True, slots=True)
class Target:
    year: int
    target: float
    diverted: Range


@dataclass(frozen=True, slots=True)
class Weeks:
    in_period: int
    logged: int
    closed: int
    missing: int
    missing_weeks: tuple[dt.date, ...] = ()  # the Mondays


@dataclass(frozen=True, slots=True)
class FactorUsed:
    """A published or site number in use, with where it stands written."""

    key: str
    value: float
    low: float
    high: float
    unit: str
    source: str
    standing: str
    share: float | None = None  # share of received mass (densities) that rests on it


@dataclass(frozen=True, slots=True)
class Figures:
    """Everything the outputs print for one period; always the whole site's at the top level."""

    site: str
    period: PeriodShown
    as_of: dt.date
    sponsor: str | None
    rows: Rows
    mass: Mass
    not_claimed: Mapping[str, Range]
    moved: Range
    rejected: Range
    basis: Mapping[str, float]
    by_material: tuple[Part, ...]
    by_source: tuple[Part, ...]
    by_month: tuple[Month, ...]
    emissions: Emissions
    emissions_within: Mapping[str, Range]
    methane_by_year: tuple[YearMethane, ...]
    sensitivity: Mapping[str, float]
    screening: tuple[Screening, ...]
    harvest: tuple[Harvest, ...]
    yield_: Yield | None
    beds: tuple[BedLoad, ...]
    diversion_rate: DiversionRate | None
    activities: tuple[Activity, ...]
    money: Money
    supplied: Supplied | None
    supported: Supported | None
    previous: Compared | None
    same_period_last_year: Compared | None
    cumulative: Cumulative
    targets: tuple[Target, ...]
    weeks: Weeks
    densities: tuple[Density, ...]
    findings: tuple[Finding, ...]
    factors: tuple[FactorUsed, ...]
    history: tuple[
        Month, ...
    ] = ()  # the 24 months that end with the period, as far as the site goes
    by_quarter: tuple[Span, ...] = ()  # since the site started, up to the period's end
    by_year: tuple[Span, ...] = ()  # reporting years since the start, up to the period's end
    diverted_by_before: Mapping[str, Range] | None = None  # landfill and incinerator apart
    released_share: Mapping[str, float] | None = (
        None  # mass bases behind the headline, by decay class
    )
    assumed_fate: AssumedFate | None = None
    standing: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    contamination: tuple[Contamination, ...] = ()
    participation: tuple[Participation, ...] = ()
    feed_mix: FeedMix | None = None
    volume_reduction: VolumeReduction | None = None
    stock: Stock | None = None
    process_log: tuple[HotRun, ...] = ()
    harvests_set_aside: int = 0  # logged with neither a volume nor a mass that can be found
    money_by_quarter: tuple[QuarterMoney, ...] = ()  # as by_quarter
    absent: tuple[Absent, ...] = ()  # what the sum does not hold, and nobody has answered


_RENAMED = {"yield_": "yield", "class_": "class"}
_PART_NAME = {"by_material": "material", "by_source": "source"}


_OF_SPONSOR = ("sponsor", "supplied", "supported")
_MOST_KEPT = 2_000  # parts of figures; those of a period are some fifty


def to_json(
    figures: Figures, kept: dict[tuple[str, int], tuple[Any, Any]] | None = None
) -> dict[str, Any]:
    """Return the figures as the plain object of the contract (floats, strings, lists, None).

    ``kept`` holds the parts that no sponsor changes, from one call to the next: such a part is the same
    object for each, and what it becomes is then only to be read.
    """
    if kept is None:
        return dict(_plain(figures, ""))
    if len(kept) > _MOST_KEPT:
        kept.clear()
    out = {}
    for f in fields(figures):
        value = getattr(figures, f.name)
        if f.name in _OF_SPONSOR:
            plain = _plain(value, f.name)
        elif (f.name, id(value)) in kept:  # the value is held beside it: no other takes its place
            plain = kept[f.name, id(value)][1]
        else:
            plain = _plain(value, f.name)
            kept[f.name, id(value)] = value, plain
        out[_RENAMED.get(f.name, f.name)] = plain
    return out


def _plain(value: Any, key: str) -> Any:
    if isinstance(value, Finding):
        return finding_json(value)
    if isinstance(value, Part):
        name = _PART_NAME.get(key, "name")
        rest = {f.name: _plain(getattr(value, f.name), f.name) for f in fields(value)[1:]}
        return {name: value.name, **rest}
    if isinstance(value, Range):
        return _range(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {
            _RENAMED.get(f.name, f.name): _plain(getattr(value, f.name), f.name)
            for f in fields(value)
        }
    if isinstance(value, Mapping):
        return {str(k): _plain(v, str(k)) for k, v in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(v, key) for v in value]
    if isinstance(value, dt.date):
        return value.isoformat()
    return value


def _range(value: Range) -> dict[str, float]:
    ends = {"central": value.central, "low": value.low, "high": value.high}
    return ends if value.mean is None else {**ends, "mean": value.mean}


def finding_json(finding: Finding) -> dict[str, Any]:
    """Return a finding as the plain object of the contract."""
    where = finding.where
    return {
        "level": finding.level,
        "code": finding.code,
        "where": {
            "file": where.file,
            "sheet": where.sheet,
            "row": where.row,
            "column": where.column,
        },
        "message": str(finding.message),
        "hint": None if finding.hint is None else str(finding.hint),
        "found": finding.found,
        "rows": finding.rows,
        "answer": finding.answer,
        "about": finding.about,
        "mass_kg": finding.mass_kg,
        "days": None if finding.days is None else [day.isoformat() for day in finding.days],
        "blocks": finding.blocks,
    }
