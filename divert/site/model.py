"""A site as its ``site.toml`` describes it: frozen values, SI inside, dated where things change."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, Protocol, TypeVar

from divert.core.words import N_

BEFORES = (
    N_("landfill"),
    N_("incinerator"),
    N_("composted"),
    N_("recycled"),
    N_("fed to animals"),
    N_("spread on land"),
    N_("bought in"),
    N_("donated as food"),
    N_("moved on site"),
)
CLAIMED = ("landfill", "incinerator")
# What the rules of the place would have kept out of a landfill anyhow: set by required_by_law alone.
REQUIRED = N_("required by law")
Required = dt.date | bool | None  # the day from which, true for always, None where nobody has said
DONATED = "donated as food"  # never composted, so that nothing of it gives off anything here
HOLDS = (
    "intake",
    "removed",
    "residue",
    "rejected",
    "moved",
    "harvest",
    "sales",
    "weigh-ins",
    "disposed",
    "fuel",
    "activity",
    "feedings",  # of beds, from what was received: listed as moved
    "tests",  # weighings of a known weight
    "process",  # temperature, moisture, turning of a pile
    N_("nothing"),
)

LIES = (
    N_("as it stands"),
    N_("on its side"),
    N_("slips"),
    N_("calendar"),
    N_("diary"),
)  # how a sheet may lie


@dataclass(frozen=True, slots=True)
class Spread:
    """Three values of one quantity: least, usual, greatest; equal where only one is known."""

    low: float
    typical: float
    high: float


@dataclass(frozen=True, slots=True)
class Container:
    """A container: ``volume_m3`` brim-full, ``tare_kg`` empty, fill as a fraction of brim-full."""

    name: str
    also: tuple[str, ...] = ()
    volume_m3: float | None = None
    tare_kg: float | None = None
    usual_fill: float | None = None
    condition: str | None = None
    since: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Material:
    """A material; ``like`` is a key of the built-in list, ``density`` the site's own in kg/m³."""

    name: str
    also: tuple[str, ...] = ()
    like: str | None = None
    before: str | None = None
    condition: str | None = None
    density: Spread | None = None
    proof: str | None = None
    required_by_law: Required = None
    since: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Source:
    """Who material comes from."""

    name: str
    also: tuple[str, ...] = ()
    before: str | None = None
    proof: str | None = None
    required_by_law: Required = None
    since: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Sponsor:
    """Who receives a sponsor report; ``funds`` a share 0-1, ``supplies`` names of sources."""

    name: str
    supplies: tuple[str, ...] = ()
    funds: float | None = None
    email: str | None = None
    since: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Bed:
    """A worm bed: area in m², stocking in kg of worms per m² (None where not stated)."""

    name: str
    kind: Literal["flow-through", "tray", "windrow", "bin"] = "flow-through"
    area_m2: float | None = None
    worms_kg_per_m2: float | None = None


@dataclass(frozen=True, slots=True)
class Grant:
    """A grant with its own first and last day."""

    name: str
    number: str = ""
    start: dt.date | None = None
    end: dt.date | None = None
    share: float | None = None


@dataclass(frozen=True, slots=True)
class Landfill:
    """Where the material would have gone; ``gas_captured`` None means not stated.

    ``name`` tells that other sites' material would have gone to the same one. ``gas_by_class`` holds
    a capture per decay class. ``fee_per_kg`` is in the site's currency.
    """

    name: str = ""
    climate: str = "temperate wet"
    kind: str = "managed"
    covered: bool = True
    gas_captured: Spread | None = None
    gas_by_class: tuple[tuple[str, Spread], ...] = ()
    gwp: str = "AR6"
    fee_per_kg: float | None = None
    since: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Report:
    """Words and choices for the reports."""

    prepared_by: str = ""
    reviewed_by: str = ""
    activities: tuple[str, ...] = ()
    picture: str | None = None
    picture_says: str = ""
    quote: str = ""
    contact: str = ""
    name_sources: bool = True
    share_notes: bool = False
    equivalence: bool = False


VERDICTS = ("count", "leave out", "count instead")


@dataclass(frozen=True, slots=True)
class Answer:
    """Settles a question for good; ``about`` is ``"code: name"``, ``file!sheet!cell`` or a code alone.

    ``verdict`` says what becomes of what was asked about where a reason does not: "count",
    "leave out", or "count instead" (of two files that say the same, the one asked about).
    """

    about: str
    reason: str
    by: str = ""
    on: dt.date | None = None
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class SheetRule:
    """Overrides what the reader would guess of a sheet: field -> column letter, field -> unit.

    ``ignore``: letters of columns that are nothing. ``source``, ``material``, ``container``, ``year`` and
    ``month`` are what the sheet's rows leave unsaid. ``headings``: the rows of the heading, from 1;
    ``rows``: the first and the last row of data, the last None for the end of the sheet; ``dates``:
    the order of its text dates; ``lies``: how it lies.
    """

    file: str
    sheet: str | None = None
    holds: str | None = None
    columns: tuple[tuple[str, str], ...] = ()
    units: tuple[tuple[str, str], ...] = ()
    ignore: tuple[str, ...] = ()
    source: str | None = None
    material: str | None = None
    container: str | None = None
    year: int | None = None
    month: int | None = None
    headings: tuple[int, ...] = ()
    rows: tuple[int, int | None] | None = None
    dates: str | None = None
    lies: str | None = None


class _Dated(Protocol):
    @property
    def since(self) -> dt.date | None: ...


D = TypeVar("D", bound=_Dated)


def in_force(versions: Iterable[D], day: dt.date) -> D | None:
    """Return the version in force on a day: the latest that had taken effect (first one before any)."""
    ordered = sorted(versions, key=lambda v: v.since or dt.date.min)
    if not ordered:
        return None
    past = [v for v in ordered if (v.since or dt.date.min) <= day]
    return past[-1] if past else ordered[0]


@dataclass(frozen=True, slots=True)
class Site:
    """One composting operation. Every tuple of dated things may hold one name several times."""

    folder: Path
    name: str
    units: Literal["us", "metric"]
    started: dt.date
    country: str = "US"
    ton: Literal["short", "long", "tonne"] = "short"
    gallon: Literal["us", "imperial"] = "us"
    dates: Literal["month first", "day first"] | None = None
    year_starts: int = 1
    language: str = "en"
    currency: str = "USD"
    logo: str | None = None
    colour: str = "#2f6b4f"
    scale_accuracy: float = 0.01
    permit_limit_kg: float | None = None  # what may lie on the site, as a mass
    permit_limit_m3: float | None = None  # or as a volume
    disposed_holds_removed: bool | None = None
    landfills: tuple[Landfill, ...] = (Landfill(),)
    containers: tuple[Container, ...] = ()
    materials: tuple[Material, ...] = ()
    sources: tuple[Source, ...] = ()
    sponsors: tuple[Sponsor, ...] = ()
    beds: tuple[Bed, ...] = ()
    grants: tuple[Grant, ...] = ()
    targets_kg: tuple[tuple[int, float], ...] = ()
    report: Report = Report()
    closed: tuple[tuple[dt.date, dt.date], ...] = ()
    answers: tuple[Answer, ...] = ()
    sheets: tuple[SheetRule, ...] = ()
    toml: str = ""  # the file's own text, for evidence and the register
    id: str = ""  # what is written once into the folder (divert.site.identity)

    @property
    def seed(self) -> str:
        """Return what seeds the draws of the site's own parameters: its id; its name without one."""
        return self.id or self.name


def names(things: Sequence[Container | Material | Source | Sponsor]) -> list[str]:
    """Return each name once, in order of first appearance."""
    return list(dict.fromkeys(thing.name for thing in things))
