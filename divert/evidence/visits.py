"""Who brought material, month by month: a line for each source, as the calendar of its loads says."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
import pandas as pd

from divert.core.period import months_on
from divert.figures.participation import GONE_DAYS

Counted = Literal["active", "days_between", "new", "lost"]
_DAY = dt.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Visits:
    """The loads of one source in the calendar month that begins on ``month`` and is known to ``end``.

    ``loads`` count from ``start`` on, where the period cuts the month; ``days`` are all days of the
    month with a load, ``first`` and ``last`` of them; ``before`` the last day with one before the
    month, ``after`` how many loads came after ``end``, as far as ``until``.
    """

    source: str
    month: dt.date
    start: dt.date
    end: dt.date
    until: dt.date
    loads: int
    days: int
    first: dt.date | None
    last: dt.date | None
    before: dt.date | None
    after: int

    @property
    def gap_days(self) -> int:
        """Days from one day with a load to the next, of all whose second lies in the month, added up."""
        if self.last is None or self.first is None:
            return 0
        return (self.last - (self.before or self.first)).days

    @property
    def gaps(self) -> int:
        """How many such gaps there are."""
        return max(0, self.days - (self.before is None))

    @property
    def new(self) -> int:
        """1 where the source had never brought any before."""
        return int(self.days > 0 and self.before is None)

    @property
    def lost(self) -> int:
        """1 where it brought its last, and none for so long that it counts as lost."""
        gone = self.until - dt.timedelta(days=GONE_DAYS)
        return int(self.last is not None and not self.after and self.last <= gone)


def visits_of(
    lines: pd.DataFrame, month: dt.date, start: dt.date, until: dt.date
) -> Iterator[Visits]:
    """Yield a line for each source with a load up to a day, in the order of their names.

    ``lines`` of evidence (divert.evidence.lines); ``start`` and ``until``: first and last day of the
    period that the month stands in.
    """
    end = min(months_on(month, 1) - _DAY, until)
    day = lines["date"].to_numpy().astype("datetime64[D]")
    here = (lines["kind"] == "intake").to_numpy() & (day <= np.datetime64(until))
    loads = pd.DataFrame({"source": lines["source"].to_numpy()[here], "day": day[here]})
    for source, own in loads.groupby("source", sort=True)["day"]:
        days = own.to_numpy().astype("datetime64[D]")
        inside = (days >= np.datetime64(month)) & (days <= np.datetime64(end))
        earlier = days[days < np.datetime64(month)]
        in_month = np.unique(days[inside])
        yield Visits(
            str(source), month, max(month, start), end, until,
            int((inside & (days >= np.datetime64(start))).sum()), len(in_month),
            _day(in_month[:1]), _day(in_month[-1:]), _day(np.sort(earlier)[-1:]),
            int((days > np.datetime64(end)).sum()),
        )  # fmt: skip


def counted(what: Counted, visits: list[Visits]) -> float:
    """Return one count of a month's lines; the mean days between loads is 0 where there is no gap."""
    if what == "active":
        return float(sum(v.loads > 0 for v in visits))
    if what == "days_between":
        gaps = sum(v.gaps for v in visits)
        return sum(v.gap_days for v in visits) / gaps if gaps else 0.0
    return float(sum(getattr(v, what) for v in visits))


def _day(days: np.ndarray) -> dt.date | None:
    return days[0].item() if len(days) else None
