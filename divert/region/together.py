"""Many yards as one: a folder or list of yards to the region's figures."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from divert.convert.draws import DRAWS
from divert.core.period import Period, read_period
from divert.core.version import __version__
from divert.factors import load_factors
from divert.ingest.identify import identify
from divert.region.addend import Addend
from divert.region.engine import Work, client_of, here, on_workers
from divert.region.listing import Region, Yard, read_region
from divert.region.result import RegionFigures, region_figures
from divert.region.stamp import Stamp
from divert.site.document import FILE_NAME

FIRST_DAY = dt.date(1900, 1, 1)  # no yard started before it: site.toml takes no earlier day
FEW = 8  # yards that are read before a cluster of this machine's cores has started


def together(
    where: str | Path,
    period: str,
    as_of: dt.date | None = None,
    *,
    scheduler: str | None = None,
    progress: Callable[[int], None] | None = None,
) -> RegionFigures:
    """Return the figures of all yards below a folder or in a list, as one, with one range.

    ``period`` as for a site, its years those of the list (January where it says nothing).
    ``scheduler``: the address of a Dask scheduler; without it this machine's cores are used where
    Dask is installed. ``progress`` hears how many yards are done. A yard that cannot be read is in
    the result's ``failed``. Raises CannotRun where there is no yard at all.
    """
    region = with_copies(read_region(Path(where)))
    day = as_of or dt.date.today()
    asked = read_period(period, as_of=day, started=FIRST_DAY, year_starts=region.year_starts)
    work = Work(asked, stamp_of(asked, day))
    total = summed(region, work, scheduler, progress)
    return region_figures(total, region, asked)


def stamp_of(period: Period, as_of: dt.date) -> Stamp:
    """Return the stamp of addends worked out here and now."""
    shared = load_factors(None).fingerprint
    return Stamp(__version__, shared, DRAWS, period.label, period.start, period.end, as_of)


def summed(
    region: Region, work: Work, scheduler: str | None, progress: Callable[[int], None] | None = None
) -> Addend:
    """Return the sum of a region's yards, from wherever they can be worked out."""
    if scheduler is None and len(region.yards) < FEW:
        return here(region.yards, work, progress)
    with client_of(scheduler) as client:
        if client is None:
            return here(region.yards, work, progress)
        return on_workers(region.yards, work, client, progress)


def with_copies(region: Region) -> Region:
    """Return a region with every yard marked whose id an earlier one has: a copy of its folder."""
    met: dict[str, str] = {}
    yards: list[Yard] = []
    for yard in region.yards:
        which = (
            ""
            if yard.inside
            else identify(yard.folder)
            if (yard.folder / FILE_NAME).is_file()
            else ""
        )
        first = met.setdefault(which, yard.shown) if which else yard.shown
        yards.append(yard if first == yard.shown else replace(yard, copy_of=first))
    return replace(region, yards=tuple(yards))
