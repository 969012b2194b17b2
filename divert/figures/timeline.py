"""Received and diverted mass stretch by stretch, from which any span of days is added up."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from divert.convert.amounts import Amounts, amounts, centrals, coefficients
from divert.convert.cells import Cells
from divert.convert.draws import DRAWS
from divert.core.ledger import BASES
from divert.core.range import Range
from divert.figures.stretches import Floats, Mask, ranges

Days = tuple[dt.date, dt.date]


@dataclass(frozen=True, slots=True, eq=False)
class Timeline:
    """Masses with draws by stretch of time; ``starts`` holds the first day of each stretch."""

    starts: npt.NDArray[np.datetime64]
    received: Amounts
    diverted: Amounts
    weighed_kg: npt.NDArray[np.float64]

    def spans(self, what: Literal["received", "diverted"], spans: Sequence[Days]) -> list[Range]:
        """Return one amount over each span of days, both ends included.

        Each first day, and each day after a last one, must open a stretch.
        """
        by_stretch = self.received if what == "received" else self.diverted
        central, drawn = np.zeros(len(spans)), np.zeros((len(spans), DRAWS))
        for place, here in enumerate(self._between(spans)):
            central[place] = by_stretch.central[here].sum()
            by_stretch.drawn[here].sum(axis=0, out=drawn[place])
        return ranges(Amounts(central, drawn))

    def both(self, spans: Sequence[Days]) -> tuple[list[Range], list[Range]]:
        """Return what was received and what was diverted over each span of days."""
        received = self.spans("received", spans)
        if self.diverted is self.received:
            return received, list(received)
        return received, self.spans("diverted", spans)

    def total(self, what: Literal["received", "diverted"], start: dt.date, end: dt.date) -> Range:
        """Return one amount between two days, both included."""
        return self.spans(what, [(start, end)])[0]

    def opening(self, day: dt.date) -> dt.date:
        """Return the first day of the stretch that holds a day."""
        place = int(np.searchsorted(self.starts, np.datetime64(day, "D"), side="right")) - 1
        found: dt.date = self.starts[max(place, 0)].astype("datetime64[D]").item()
        return found

    def changes(
        self, what: Literal["received", "diverted"], now: Sequence[Days], then: Sequence[Days]
    ) -> list[Range]:
        """Return one amount of spans less that of other spans, draw by draw: shared errors cancel."""
        by_stretch = self.received if what == "received" else self.diverted
        central, drawn = np.zeros(len(now)), np.zeros((len(now), DRAWS))
        for sign, spans in ((1.0, now), (-1.0, then)):
            for place, here in enumerate(self._between(spans)):
                central[place] += sign * by_stretch.central[here].sum()
                drawn[place] += sign * by_stretch.drawn[here].sum(axis=0)
        return ranges(Amounts(central, drawn))

    def weighed_between(self, start: dt.date, end: dt.date) -> float:
        """Return the received mass that was weighed between two days, kg."""
        return float(self.weighed_kg[self._between([(start, end)])[0]].sum())

    def _between(self, spans: Sequence[Days]) -> list[slice]:
        days = np.array(spans, dtype="datetime64[D]").reshape(-1, 2)
        first = np.searchsorted(self.starts, days[:, 0], side="left")
        after = np.searchsorted(self.starts, days[:, 1], side="right")
        return [slice(a, b) for a, b in zip(first.tolist(), after.tolist(), strict=True)]


def timeline(cells: Cells, mask: Mask | None = None, weight: Floats | None = None) -> Timeline:
    """Return the timeline of all elements, or of those of a mask, weighed where a weight is given."""
    group = cells.stretch if mask is None else np.where(mask, cells.stretch, -1)
    count = len(cells.starts)
    weights = np.ones(len(cells.stretch)) if weight is None else weight
    weighed = np.where((cells.what == 0) & (cells.basis == BASES.index("weighed")), 1.0, 0.0)
    came, claimed = (
        np.where(group >= 0, coefficients(cells, what) * weights, 0.0)
        for what in ("received", "diverted")
    )
    received = amounts(cells, came, group, count)
    return Timeline(
        cells.starts,
        received,
        received if np.array_equal(came, claimed) else amounts(cells, claimed, group, count),
        centrals(cells, weighed * weights, group, count),
    )
