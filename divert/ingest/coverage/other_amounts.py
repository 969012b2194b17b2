"""An amount beside a load of which no word says how the two belong together."""

from __future__ import annotations

from divert.ingest.tables.columns import Column
from divert.ingest.tables.groups import Group
from divert.ingest.tables.layout import Layout
from divert.ingest.tables.logged import dimensions_of
from divert.ingest.tables.numbers import above, numbers_of
from divert.ingest.tables.opposed import nets

_LEAST = 2  # rows on which a weight lies above its tare


def box_within(group: Group, layout: Layout) -> Column | None:
    """Return the tare beside a weight of which nothing says whether it is within: "Weight | Tare"."""
    tare = layout.column(group, "tare")
    weights = group.columns.get("weight") or group.columns.get("quantity")
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
