"""An amount beside a load of which no word says how the two belong together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from divert.ingest.entries.job import TableJob
from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.logged import dimensions_of
from divert.ingest.tables.numbers import Numbers, above, adds_up, numbers_of
from divert.ingest.tables.opposed import nets

_SOME = 0.5  # of the loads at most bear an amount put right
_LEAST = 2  # rows on which a weight lies above its tare


def box_within(group: Group, layout: Layout) -> Column | None:
    """Return the tare beside a weight of which nothing says whether it is within: "Weight | Tare".

    Beside a gross weight one under a box's name may be what that weighs: "Gross lb | Tote lb".
    """
    tare = layout.column(group, "tare")
    weights = group.columns.get("weight") or group.columns.get("quantity")
    gross = layout.column(group, "gross")
    boxed = group.label.container and weights and not nets(weights)
    if tare is None and gross is not None and weights and boxed:
        return gross if above(numbers_of(gross), numbers_of(weights[0]), _LEAST) else None
    if tare is None or not weights or group.columns.get("gross") or nets(weights):
        return None
    one, other = (numbers_of(c, in_words=True) for c in (weights[0], tare))
    return tare if above(one, other, _LEAST) else None


def measured_beside(group: Group, layout: Layout, told: bool) -> Column | None:
    """Return an unread column of volumes beside loads that are only counted: "Loads | Est. yards".

    ``told``: a name around the table says what unit its amounts are in.
    """
    if "count" not in group.columns and (told or group.first.heading.unit is not None):
        return None
    if any(group.columns.get(f) for f in ("weight", "gross", "volume", "each")):
        return None
    unread = (c for c in layout.unread if c.content.numbers > 0.5 and c.field in ("", "other"))
    return next((c for c in unread if "volume" in dimensions_of(c)), None)


def holds(own: Numbers, other: Numbers) -> bool:
    """Return whether an amount is never less than another, and on some rows more."""
    both = ~np.isnan(own) & ~np.isnan(other)
    more = own[both] > other[both]
    return bool(more.sum() >= _LEAST and (own[both] >= other[both]).all())


def in_parts(group: Group, job: TableJob, unread: Sequence[tuple[Column, Numbers]]) -> bool:
    """Return whether several unread columns add up to a load of nobody known: they may be whose it was."""
    whose = "source" in job.layout.shared or job.context.source
    if whose or len(unread) < 2 or job.known.sources.find(group.label.source):
        return False
    return adds_up(numbers_of(group.first), [numbers for _, numbers in unread])


def put_right(group: Group, unread: Iterable[Column]) -> Column | None:
    """Return numbers in unknown words beside less than half of the loads, about as large: "Should be".

    So are numbers of whatever size under the unit of the loads: "lb adj."
    """
    own = numbers_of(group.first)
    for column in unread:
        if not column.head.text or column.field not in ("", "other"):
            continue
        other = numbers_of(column)
        both = ~np.isnan(own) & ~np.isnan(other) & (own > 0)
        share = other[both] / own[both]
        few = 0 < both.sum() < _SOME * (~np.isnan(own)).sum()
        alike = (
            group.first.heading.unit is not None and group.first.heading.unit == column.heading.unit
        )
        if few and (alike or bool(((share > 0.2) & (share < 5) & (share != 1)).all())):
            return column
    return None
