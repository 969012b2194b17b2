"""The one set of numbers every output prints.

Masses in kg, emissions in kg CO2e, shares 0-1, money in the site's currency. A ``Range`` is a central
value and a 90 % interval. Their names are the keys of their JSON (divert.figures.as_json), and a
contract: names may be added, never changed.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

from divert.convert.told import Density, Rows
from divert.core.findings import Finding
from divert.core.range import Range
from divert.figures.absent import Absent
from divert.figures.yard import (
    BedLoad,
    Contamination,
    FeedMix,
    Harvest,
    HotRun,
    Participation,
    Stock,
    VolumeReduction,
    Yield,
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
    # The 24 months that end with the period, as far as the site goes.
    history: tuple[Month, ...] = ()
    by_quarter: tuple[Span, ...] = ()  # since the site started, up to the period's end
    by_year: tuple[Span, ...] = ()  # reporting years since the start, up to the period's end
    diverted_by_before: Mapping[str, Range] | None = None  # landfill and incinerator apart
    # Mass bases behind the headline, by decay class.
    released_share: Mapping[str, float] | None = None
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
