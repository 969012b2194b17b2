"""What a yard needs to know of itself, as figures: the shapes only (masses kg, volumes m³, shares 0-1)."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from divert.core.range import Range


@dataclass(frozen=True, slots=True)
class Contamination:
    """What was removed of one source's material in one quarter; ``share`` of what it sent."""

    source: str
    quarter: str
    start: dt.date
    end: dt.date
    received_kg: float
    removed_kg: float
    share: Range
    growing: bool = False  # the latest quarter, clearly above the source's four before


@dataclass(frozen=True, slots=True)
class Participation:
    """Who brought material in one month: counts, and the mean days between a source's loads.

    ``new`` sources had never brought any; ``lost`` ones brought their last and none for 90 days.
    """

    month: str
    active: int
    loads: int
    days_between: float | None
    new: int
    lost: int


@dataclass(frozen=True, slots=True)
class FeedMaterial:
    """What a material is made of: moisture of wet mass, carbon and nitrogen of wet mass."""

    material: str
    moisture: float
    carbon: float
    nitrogen: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class FeedMonth:
    """The mix that went in: carbon over nitrogen, and moisture; ``known_share`` of it in the table."""

    month: str
    fed_kg: float
    known_share: float
    carbon_to_nitrogen: float | None
    moisture: float | None
    band: str  # where the mix lies: "ordinary", "ask", "implausible", "" where too little is known


@dataclass(frozen=True, slots=True)
class FeedMix:
    """The months of the mix with the numbers they are worked out from."""

    months: tuple[FeedMonth, ...]
    materials: tuple[FeedMaterial, ...]


@dataclass(frozen=True, slots=True)
class VolumeReduction:
    """Product out over material in, by volume, over the 12 months that end with the period."""

    in_m3: float
    out_m3: float
    share: float


@dataclass(frozen=True, slots=True)
class Stock:
    """What lies on the site: from a stocktake, or fed less the loss of mass less harvest.

    ``counted_kg`` is what the stocktake of ``counted_on`` found; ``since`` the day from which what
    came and went is added. ``limit_kg``: what the permit allows, None where site.toml states none;
    ``full_on``: the day it would be passed at the pace of the last 12 months.
    """

    kg: Range
    how: str  # "stocktake" or "worked out"
    counted_on: dt.date | None
    limit_kg: float | None
    full_on: dt.date | None
    counted_kg: float | None = None
    since: dt.date | None = None


@dataclass(frozen=True, slots=True)
class HotRun:
    """The process log of one pile: its longest run of days on record at or above 55 °C, as recorded.

    ``entries`` are readings of temperature; ``hottest_c`` None without any. ``driest`` and
    ``wettest``: moisture as a share of wet mass, None where none was read; ``turned``: how often.
    """

    pile: str
    entries: int
    hottest_c: float | None
    days: int
    start: dt.date | None
    end: dt.date | None
    driest: float | None = None
    wettest: float | None = None
    turned: float = 0.0


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
