"""Volume of an entry: count x container volume x fill, or a volume given outright."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence

import numpy as np
import pandas as pd

from divert.convert.columns import added
from divert.convert.dated import Ints, pick, version_numbers
from divert.site.model import Container, Site

# Where neither the row nor the container says how full: observed averages run well below full
# (common practice). Low, usual and high share of brim-full.
FILL_UNKNOWN = (0.6, 0.8, 1.0)
FILL_BY_EYE = 1 / 8  # a fill read by eye is right to an eighth of the container, either way
BY_EYE_SD = FILL_BY_EYE / math.sqrt(3)  # of an error flat over an eighth either way
# Half of that variance is what all readings of a site share, the eye's bias (common practice); the
# other half is each reading's own.
EYE_BIAS = FILL_BY_EYE * math.sqrt(0.5)
EYE_OWN_SD = BY_EYE_SD * math.sqrt(0.5)


def container_versions(site: Site) -> list[Container]:
    """Return every version of every container: one container after another, each oldest first."""
    by_name: dict[str, list[Container]] = {}
    for container in site.containers:
        by_name.setdefault(container.name, []).append(container)
    return [
        container
        for versions in by_name.values()
        for container in sorted(versions, key=lambda c: (c.since is not None, c.since))
    ]


def version_met(ledger: pd.DataFrame, containers: Sequence[Container]) -> Ints:
    """Return for each row the number of its container's version in force, -1 where it has none."""
    starts: dict[str, list[dt.date | None]] = {}
    for container in containers:
        starts.setdefault(container.name, []).append(container.since)
    return version_numbers(ledger["container"], ledger["date"].to_numpy(), starts)


def with_volume(ledger: pd.DataFrame, site: Site) -> pd.DataFrame:
    """Add container_m3, tare_kg, fill_used and fill_group to a ledger and fill in volume_m3.

    Volumes in m³, fill as a fraction of brim-full. ``fill_group`` numbers the containers whose fill
    was not recorded (-1 where it was, or where no fill enters), for their one shared draw.
    """
    containers = container_versions(site)
    number = version_met(ledger, containers)
    brim_m3 = pick([c.volume_m3 for c in containers], number)
    usual = [FILL_UNKNOWN[1] if c.usual_fill is None else c.usual_fill for c in containers]
    fill = ledger["fill"].to_numpy()
    given_m3 = ledger["volume_m3"].to_numpy()
    blank = np.isnan(fill)
    fill_used = np.where(blank, pick(usual, number), fill)
    counted_m3 = ledger["count"].to_numpy() * brim_m3 * fill_used
    by_container = np.isnan(given_m3) & ~np.isnan(counted_m3)
    return added(
        ledger,
        container_m3=brim_m3,
        tare_kg=pick([c.tare_kg for c in containers], number),
        fill_used=np.where(by_container, fill_used, np.nan),
        volume_m3=np.where(by_container, counted_m3, given_m3),
        fill_group=np.where(by_container & blank, number, -1),
    )


def usual_fills(site: Site) -> dict[int, tuple[str, float | None]]:
    """Return for each fill_group its container and the usual fraction of brim-full, if stated."""
    return {n: (c.name, c.usual_fill) for n, c in enumerate(container_versions(site))}
