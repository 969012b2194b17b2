"""Participation: sources that brought material each month, loads and days between them, new, lost."""

from __future__ import annotations

import datetime as dt

import numpy as np

from divert.convert.columns import of_names
from divert.convert.workings import Workings
from divert.figures.stretches import first_of, month_count
from divert.figures.yard import Participation

GONE_DAYS = 90  # without a load: a source counts as lost in the month of its last (common practice)


def participation(workings: Workings, start: dt.date, end: dt.date) -> tuple[Participation, ...]:
    """Return a line for each month, or part of one, between two days; new and lost of whole months."""
    ledger = workings.ledger
    rows = np.flatnonzero(
        of_names(ledger["kind"], ("intake",))
        & (ledger["date"].to_numpy() < np.datetime64(end + dt.timedelta(days=1)))
    )
    source = ledger["source"].cat.codes.to_numpy()[rows].astype(np.int64)
    day = ledger["date"].to_numpy()[rows].astype("datetime64[D]").astype(np.int64)
    order = np.lexsort((day, source))
    visits = np.unique(np.stack([source[order], day[order]], axis=1), axis=0)
    again = visits[1:, 0] == visits[:-1, 0]
    gap = np.diff(visits[:, 1])[again]
    gap_month = _months(visits[1:, 1][again])
    names = np.unique(source)
    first = np.array([day[source == s].min() for s in names], dtype=np.int64)
    last = np.array([day[source == s].max() for s in names], dtype=np.int64)
    gone = np.datetime64(end, "D").astype(np.int64) - last >= GONE_DAYS
    inside = day >= np.datetime64(start, "D").astype(np.int64)
    month = np.where(inside, _months(day), -1)
    out = []
    for at in range(month_count(start), month_count(end) + 1):
        here = month == at
        between = gap[gap_month == at]
        out.append(
            Participation(
                f"{first_of(at):%Y-%m}", len(np.unique(source[here])), int(here.sum()),
                float(between.mean()) if len(between) else None,
                int((_months(first) == at).sum()), int(((_months(last) == at) & gone).sum()),
            )
        )  # fmt: skip
    return tuple(out)


def _months(days: np.ndarray) -> np.ndarray:
    return days.astype("datetime64[D]").astype("datetime64[M]").astype(np.int64)
