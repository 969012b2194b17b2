"""The figure sets of a grant statement: the period, the grant's total, and what lay before."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from divert.figures import Figures
from divert.findings import CannotRun
from divert.period import Period
from divert.site import Grant
from divert.words import N_, Text

if TYPE_CHECKING:
    from divert.convert import Workings

_DAY = dt.timedelta(days=1)


def grant_sets(
    workings: Workings, grant: Grant, period: Period, as_of: dt.date
) -> Mapping[str, Figures]:
    """Return "period", "total" and, where the grant began before the period, "earlier".

    The days of a grant are its own start (else the site's) to its end, cut at the period's end; the
    period is cut to them. Raises CannotRun where the period lies wholly outside the grant.
    """
    from divert.tally import figures_for

    first = grant.start or workings.site.started
    last = grant.end or period.end
    if period.start > last or period.end < first:
        raise CannotRun(
            Text(N_("The grant “{grant}” runs from {first} to {last}: the period {label} lies outside "
                    "it."),
                 {"grant": grant.name, "first": first, "last": last, "label": period.label})
        )  # fmt: skip
    start, end = max(period.start, first), min(period.end, last)
    whole = start == period.start and end == period.end
    own = period if whole else replace(
        period, label=f"{start}/{end}", kind="range", start=start, end=end,
        to_date=period.to_date and end == period.end,
    )  # fmt: skip
    total = replace(own, label=f"{first}/{end}", kind="range", start=first)
    sets = {"period": figures_for(workings, own, as_of)}
    if start > first:
        earlier = replace(total, label=f"{first}/{start - _DAY}", end=start - _DAY, to_date=False)
        sets["earlier"] = figures_for(workings, earlier, as_of)
    sets["total"] = figures_for(workings, total, as_of)
    return sets
