"""A grant's cumulative figures, as they are now and as each of its statements said them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from divert.convert import Workings
from divert.convert.bands import quantity
from divert.core.period import Period
from divert.core.words import N_, Text
from divert.figures.as_json import to_json
from divert.figures.contract import Figures
from divert.publish.job import jobs_for
from divert.publish.sent import Sent, sent_reports
from divert.site.model import Grant


@dataclass(frozen=True, slots=True)
class GrantNow:
    """A grant, its figures from its first day to a period's end, and its statements so far."""

    grant: Grant
    period: Figures
    total: Figures
    statements: tuple[Sent, ...]


def grant_now(workings: Workings, name: str, period: Period, as_of: dt.date) -> GrantNow:
    """Return a grant's figures now and as issued. Raises CannotRun for a grant nobody knows."""
    (job,) = jobs_for(workings, "grant", period, as_of, [name])
    assert job.grant is not None
    said = tuple(
        one for one in sent_reports(workings, as_of)
        if (one.audience, one.name) == ("grant", job.grant.name)
    )  # fmt: skip
    return GrantNow(job.grant, job.figures, job.sets["total"], said)


def grant_json(now: GrantNow) -> dict[str, Any]:
    """Return the cumulative figures as one object of the contract, with what was issued beside."""
    return {
        **to_json(now.total),
        "grant": {
            "name": now.grant.name, "number": now.grant.number,
            "this_period": to_json(now.period)["mass"]["diverted"],
            "as_issued": [
                {"number": s.number, "issued": s.issued.isoformat(), "label": s.label,
                 "start": s.start.isoformat(), "end": s.end.isoformat(), "diverted": s.then_kg,
                 "diverted_now": s.now_kg,
                 "withdrawn": s.withdrawn.isoformat() if s.withdrawn else None}
                for s in now.statements
            ],
        },
    }  # fmt: skip


def grant_lines(now: GrantNow, system: Any) -> Iterator[Text]:
    """Yield what was issued to the grant, beside what the same days come to today."""
    yield Text("")
    if not now.statements:
        yield Text(N_("No statement to {name} has been issued yet."), {"name": now.grant.name})
        return
    yield Text(N_("Issued to {name} so far, diverted since the grant began:"),
               {"name": now.grant.name})  # fmt: skip
    for one in now.statements:
        values: dict[str, object] = {
            "number": one.number, "end": one.end, "then": quantity(one.then_kg, "kg", system),
            "now": quantity(one.now_kg, "kg", system),
        }  # fmt: skip
        gone = one.withdrawn is not None
        yield Text(
            N_("  {number}, to {end}: {then} then, {now} today (withdrawn)") if gone
            else N_("  {number}, to {end}: {then} then, {now} today"), values,
        )  # fmt: skip
