"""Weights beside a count of containers that nothing takes in."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen
from divert.ingest.tables.columns import IGNORE

_KINDS = ("intake", "weigh-in")
_MEASURES = ("weight", "gross", "quantity", "volume")


def weights_left_aside(seen: Seen) -> Iterator[Doubt]:
    """Doubt counts of containers beside a weight that is not read: it may say what they hold."""
    job = seen.job
    if job.kind not in _KINDS or len(job.layout.groups) != 1:
        return
    group, amounts = job.layout.groups[0], seen.measured[0]
    if not group.columns.get("count") or any(group.columns.get(f) for f in _MEASURES):
        return
    own = {c.index for c in group.members if c.field not in ("each", "tare")}
    for column in job.layout.columns:
        unit = column.heading.unit
        plain = unit is not None and unit.dimension == "mass" and not column.heading.label
        weighs = column.field == "each" or plain
        aside = column in job.layout.unread or column.field == "each"
        if not (weighs and aside) or column.index in own or column.field in (IGNORE, "price"):
            continue
        lost = (column.cells.codes >= 0) & np.isnan(amounts.mass_kg) & np.isnan(amounts.gross_kg)
        if column.content.numbers > 0.5:
            yield seen.doubt(
                f"{column.letter} weighs",
                N_("“{heading}” may say what these containers weighed, and I do not know how."),
                N_("Name it Weight (lb), Gross (lb) or lb per tote, or say it under [[sheet]]."),
                rows=lost,
                column=column,
            )  # fmt: skip
            return
