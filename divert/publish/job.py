"""One report to be made: for whom, with which figures, under which file name."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from divert.convert import Workings
from divert.core.findings import CannotRun
from divert.core.names import NameBook
from divert.core.period import Period, same_period_last_year
from divert.core.safe_files import slugs_apart
from divert.core.words import N_, Text
from divert.evidence.record import Signing
from divert.evidence.sharing import Audience
from divert.figures.compute import figures_for
from divert.figures.contract import Figures, Supplied, Supported
from divert.figures.history import History
from divert.publish.all_cores import can_share, left_as_it_is, on_all_cores
from divert.register.past import history_for
from divert.site.model import Grant, Site
from divert.site.model import names as distinct

_DAY = dt.timedelta(days=1)
_MANY = 16  # the figures of fewer sponsors are there before other processes have started


@dataclass(frozen=True, slots=True)
class Job:
    """A report before it is set.

    ``name`` is the sponsor's or the grant's ("" for a board); ``stem`` the file name without its
    ending; ``sets`` the figures by set: "period"; for a grant also "total", and "earlier" where the
    grant began before the period; for a board "before", the same period a year earlier, and "alike",
    the days of the period that the year before has too, where the site began within it; ``number``
    what it is issued under, "" where it is not; ``signing`` what it is signed with, if it is.
    """

    audience: Audience
    name: str
    stem: str
    sets: Mapping[str, Figures]
    grant: Grant | None = None
    history: History = field(default_factory=History)
    number: str = ""
    withdraws: str | None = None
    signing: Signing | None = None

    @property
    def figures(self) -> Figures:
        """Return the figures of the period itself."""
        return self.sets["period"]

    @property
    def all_sets(self) -> Mapping[str, Figures | Mapping[str, Any]]:
        """Return every set that the pages print from, with what was reported before as it was."""
        before = self.history.previously
        return self.sets if before is None else {**self.sets, "previous": before.figures}


def with_history(job: Job, workings: Workings) -> Job:
    """Return the job with what it must say about reports issued before to the same reader."""
    history = history_for(
        workings, job.audience, job.name, job.sets, number=job.number or None,
        withdraws=job.withdraws,
    )  # fmt: skip
    return replace(job, history=history)


def jobs_for(
    workings: Workings, audience: Audience, period: Period, as_of: dt.date,
    names: Sequence[str] | None,
) -> list[Job]:  # fmt: skip
    """Return the reports to be made: all sponsors or grants, or those named. Raises CannotRun."""
    if audience == "sponsor":
        return _for_sponsors(workings, period, as_of, names)
    if audience == "grant":
        return _for_grants(workings, period, as_of, names)
    return [Job("board", "", "board", _board_sets(workings, period, as_of))]


def _board_sets(workings: Workings, period: Period, as_of: dt.date) -> dict[str, Figures]:
    """Return the figures of a board report, and of the same period a year before if there is one.

    The days compared are those of ``same_period_last_year`` in the figures, so that a board reads
    the same tonne of last year as everyone else.
    """
    sets = {"period": figures_for(workings, period, as_of)}
    year_ago = same_period_last_year(period)
    started = workings.site.started
    if year_ago is not None and year_ago.end >= started:
        sets["before"] = figures_for(workings, year_ago, as_of)
        if year_ago.start < started:  # only these days can be set beside the year before
            days = _days(_a_year_on(started), period.end, period)
            sets["alike"] = figures_for(workings, days, as_of)
    return sets


def _a_year_on(day: dt.date) -> dt.date:
    """Return the same day a year later; of February 29 the 28th."""
    return day.replace(year=day.year + 1, day=28 if (day.month, day.day) == (2, 29) else day.day)


def _for_sponsors(
    workings: Workings, period: Period, as_of: dt.date, names: Sequence[str] | None
) -> list[Job]:
    site = workings.site
    everyone = distinct(site.sponsors)
    if not everyone:
        raise CannotRun(
            Text(N_("site.toml names no sponsor: add a [[sponsor]] with what they supply or fund."))
        )
    slugs = slugs_apart(everyone)
    jobs = []
    wanted = everyone if names is None else names
    for name, figures in zip(wanted, _of_each(workings, period, as_of, wanted), strict=True):
        if figures.supplied is None and figures.supported is None:
            raise CannotRun(
                Text(N_('The sponsor "{name}" neither supplies nor funds anything: give its '
                        '[[sponsor]] in site.toml "supplies" or "funds".'), {"name": name})
            )  # fmt: skip
        sponsor = figures.sponsor or name
        jobs.append(Job("sponsor", sponsor, f"sponsor-{slugs[sponsor]}", {"period": figures}))
    return jobs


def _of_each(
    workings: Workings, period: Period, as_of: dt.date, names: Sequence[str]
) -> Iterator[Figures]:
    """Yield the figures of each sponsor; those of many are worked out on all cores."""
    if len(names) < _MANY or not can_share(len(names)):
        for name in names:
            yield figures_for(workings, period, as_of, name)
        return
    whole = figures_for(workings, period, as_of)  # once, before there are others who would

    def own(place: int) -> tuple[str | None, Supplied | None, Supported | None]:
        found = figures_for(workings, period, as_of, names[place])
        return found.sponsor, found.supplied, found.supported

    with left_as_it_is():
        for sponsor, supplied, supported in on_all_cores(own, range(len(names))):
            yield replace(whole, sponsor=sponsor, supplied=supplied, supported=supported)


def _for_grants(
    workings: Workings, period: Period, as_of: dt.date, names: Sequence[str] | None
) -> list[Job]:
    site = workings.site
    if not site.grants:
        raise CannotRun(
            Text(N_("site.toml names no grant: add a [[grant]] with its name and dates."))
        )
    slugs = slugs_apart([grant.name for grant in site.grants])
    chosen = site.grants if names is None else tuple(_find_grant(site, name) for name in names)
    jobs = []
    for grant in chosen:
        sets = _grant_sets(workings, grant, period, as_of)
        if sets is None:
            if names is None and len(chosen) > 1:
                continue  # another grant's time; those that the period touches are made
            raise CannotRun(_outside(grant, period))
        stem = "grant" if len(site.grants) == 1 else f"grant-{slugs[grant.name]}"
        jobs.append(Job("grant", grant.name, stem, sets, grant))
    if not jobs:
        raise CannotRun(_outside(chosen[0], period))
    return jobs


def _find_grant(site: Site, name: str) -> Grant:
    book = NameBook({g.name: (g.number,) if g.number else () for g in site.grants})
    found = book.find(name)
    for grant in site.grants:
        if grant.name == found:
            return grant
    raise CannotRun(
        Text(N_('There is no grant "{name}" in site.toml. The grants are: {known}.'),
             {"name": name, "known": ", ".join(g.name for g in site.grants)})
    )  # fmt: skip


def _grant_sets(
    workings: Workings, grant: Grant, period: Period, as_of: dt.date
) -> dict[str, Figures] | None:
    """Return the figures of a statement, cut to the grant's own days; None where they do not meet."""
    site = workings.site
    first = max(grant.start or site.started, site.started)
    start = max(period.start, first)
    end = min(period.end, grant.end or period.end)
    if start > end:
        return None
    here = period if (start, end) == (period.start, period.end) else _days(start, end, period)
    sets = {"period": figures_for(workings, here, as_of)}
    if start > first:
        sets["total"] = figures_for(workings, _days(first, end, period), as_of)
        sets["earlier"] = figures_for(workings, _days(first, start - _DAY, period), as_of)
    else:
        sets["total"] = sets["period"]
    return sets


def _days(start: dt.date, end: dt.date, period: Period) -> Period:
    to_date = period.to_date and end == period.end
    return Period(f"{start}/{end}", "range", start, end, to_date, period.year_starts)


def _outside(grant: Grant, period: Period) -> Text:
    return Text(
        N_('The grant "{name}" does not cover any day of {label}.'),
        {"name": grant.name, "label": period.label},
    )
