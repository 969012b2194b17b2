"""Contamination by source and quarter, with its range, and the sources it grows for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from divert.convert import draws
from divert.convert.amounts import amounts, centrals, coefficients
from divert.convert.cells import Cells
from divert.core.period import Period
from divert.core.range import Range
from divert.figures.stretches import inside
from divert.figures.yard import Contamination

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
QUARTERS = 8  # as far back as is shown
BEFORE = 4  # quarters that the latest is held against
AT_ONCE = 64  # groups whose draws are held at a time


@dataclass(frozen=True, slots=True)
class _Shares:
    """Removed over received of several groups: central and, where anything was removed, drawn."""

    received: Floats
    removed: Floats
    drawn: dict[int, Floats]

    def range(self, group: int) -> Range:
        """Return a group's share with its 90 % range; 0 where nothing was removed."""
        if not self.removed[group]:
            return Range(0.0, 0.0, 0.0)
        central = float(self.removed[group] / self.received[group])
        low, high = (float(x) for x in draws.interval(self.drawn[group]))
        return Range(central, max(0.0, min(low, central)), max(high, central))


def contamination(cells: Cells, quarters: Sequence[Period]) -> tuple[Contamination, ...]:
    """Return the removed share of each source that sent anything, quarter by quarter, newest last.

    Each quarter's first day, and the day after its last, must open a stretch of the cells.
    """
    shown = quarters[-QUARTERS:]
    if not shown:
        return ()
    count = len(cells.sources)
    group = np.full(len(cells.source), -1)
    for number, quarter in enumerate(shown):
        here = inside(cells, quarter.start, quarter.end)
        group[here] = number * count + cells.source[here]
    shares = _shares(cells, group, len(shown) * count)
    growing = _growing(cells, shown)
    out = []
    for source in np.argsort(np.array(cells.sources, dtype=object), kind="stable").tolist():
        for number, quarter in enumerate(shown):
            at = number * count + source
            if shares.received[at] <= 0:
                continue
            out.append(
                Contamination(
                    cells.sources[source] or "not recorded", quarter.label, quarter.start,
                    quarter.end, float(shares.received[at]), float(shares.removed[at]),
                    shares.range(at), number == len(shown) - 1 and source in growing,
                )
            )  # fmt: skip
    return tuple(out)


def _shares(cells: Cells, group: Ints, groups: int) -> _Shares:
    received, removed = (
        centrals(cells, coefficients(cells, what), group, groups)
        for what in ("received", "removed")
    )
    drawn: dict[int, Floats] = {}
    met = np.flatnonzero((received > 0) & (removed > 0))
    for start in range(0, len(met), AT_ONCE):
        some = met[start : start + AT_ONCE]
        place = np.full(groups + 1, -1)
        place[some] = np.arange(len(some))
        here = place[group]
        top, bottom = (
            amounts(cells, coefficients(cells, what), here, len(some)).drawn
            for what in ("removed", "received")
        )
        share = top / np.maximum(bottom, 1e-9)
        drawn |= {int(g): share[n] for n, g in enumerate(some)}
    return _Shares(received, removed, drawn)


def _growing(cells: Cells, quarters: Sequence[Period]) -> set[int]:
    """Return the sources whose latest share is above that of the four quarters before, 90 % sure.

    Both were weighed on the same scale and densities: the difference is drawn, not read off two
    ranges. A source that sent nothing before is not growing.
    """
    if len(quarters) < 2:
        return set()
    latest, earlier = quarters[-1], quarters[-1 - BEFORE : -1]
    count = len(cells.sources)
    group = np.full(len(cells.source), -1)
    before = inside(cells, earlier[0].start, earlier[-1].end)
    now = inside(cells, latest.start, latest.end)
    group[before], group[now] = cells.source[before], count + cells.source[now]
    shares = _shares(cells, group, 2 * count)
    out = set()
    for source in range(count):
        at = count + source
        if at not in shares.drawn or shares.received[source] <= 0:
            continue
        difference = shares.drawn[at] - shares.drawn.get(source, 0.0)
        if float(np.quantile(difference, draws.ENDS[0])) > 0:
            out.add(source)
    return out
