"""A unit said over the table and another at a column's head: pounds or kilograms, short tons or tonnes."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from divert.core.words import N_
from divert.ingest.coverage.doubt import Doubt, Seen

# Two units of one kind that a person may take for each other: a load of 40 is a load in either.
_NEAR = 3.5


def units_that_contradict(seen: Seen) -> Iterator[Doubt]:
    """Doubt the amounts whose heading says a unit near to, but not, the one said over the table."""
    said = seen.job.context.unit
    if said is None:
        return
    for group in seen.job.layout.groups:
        for columns in group.columns.values():
            unit = columns[0].heading.unit
            if (
                unit is None
                or unit.dimension != said.dimension
                or not (unit.factor and said.factor)
            ):
                continue
            ratio = max(unit.factor / said.factor, said.factor / unit.factor)
            rows = np.asarray((columns[0].cells.codes >= 0) & seen.rows.open)
            if 1.001 < ratio < _NEAR and rows.any():
                yield seen.doubt(
                    f"{columns[0].letter} unit",
                    N_("“{heading}” says one unit, and what stands over the table (“{unit}”) another."),
                    N_("Put right whichever of the two is wrong."),
                    rows=rows,
                    column=columns[0],
                    columns=frozenset(c.index for c in columns),
                    unit=seen.job.context.unit_text,
                )  # fmt: skip
