"""What a period's figures are worked out from: its cells, cut at the days around it, and their fates."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from divert.convert.cells import Cells
from divert.convert.columns import of_names
from divert.convert.parts import Parts
from divert.convert.workings import Workings
from divert.core.period import Period
from divert.core.range import Range
from divert.figures import emissions as emit
from divert.figures.around import Around, around
from divert.figures.masses import ZERO
from divert.figures.stretches import Mask, inside, total
from divert.figures.timeline import Timeline, timeline


@dataclass(frozen=True, slots=True, eq=False)
class Grounds:
    """A period's intake: ``here`` marks its own cells among those around it, ``parts`` are their sums."""

    near: Around
    start: dt.date
    end: dt.date
    cells: Cells
    here: Mask
    parts: Parts
    line: Timeline


def grounds_of(workings: Workings, period: Period) -> Grounds:
    """Return what a period's figures are worked out from."""
    near = around(workings, period)
    cells = workings.cells(near.days)
    here = inside(cells, period.start, period.end)
    parts = emit.fates(cells, workings.site, here)
    return Grounds(near, period.start, period.end, cells, here, parts, timeline(cells))


def listed(workings: Workings, at: Grounds, kind: str) -> Range:
    """Return the mass of another kind of entry in the period, kg: listed, and never counted."""
    if not of_names(workings.ledger["kind"], (kind,)).any():
        return ZERO
    cells = workings.cells(at.near.days, (kind,))
    return total(cells, "received", inside(cells, at.start, at.end))
